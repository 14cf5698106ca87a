"""Interference against the drawing, clearance left, and the heating plan that follows from the readings."""

import pytest

from qrecords.engineering.heating import Plan, UnreachableError
from qrecords.steps.fit import ceiling, heating_plan, interference
from tests.steps.casebook import Book, measure

UM = "um from 60 mm"


def fitted(bore: str = "-6", **requirement: object) -> Book:
    book = Book()
    book.requirement |= requirement
    measure(book)
    book.say("bore", source="measured", gauge="bore_gauge", bore__A__0=(bore, UM))
    return book


def test_interference_is_journal_less_bore_at_its_extremes() -> None:
    found = interference(fitted().case())
    assert found is not None
    # journal +16…+18 (mean +17.2), bore −6
    assert (found.local_min.value, found.local_max.value) == pytest.approx((22, 24), abs=0.01)
    assert found.mean.value == pytest.approx(23.22, abs=0.01)


@pytest.mark.parametrize(
    ("window", "verdict"),
    [((13, 48), "conforming"), ((21, 48), "not proven"), ((30, 48), "nonconforming"),
     ((13, 20), "nonconforming")],
)  # fmt: skip
def test_the_drawings_window_is_judged_on_the_local_extremes(window: tuple[int, int], verdict: str) -> None:
    assert fitted(interference_um=list(window)).rule("interference")[0].verdict == verdict


def test_without_a_window_on_the_drawing_interference_has_no_verdict() -> None:
    assert fitted().rule("interference") == []


# P(below zero) of the forecast: 5 and 50 % divide conforming, not proven, nonconforming (house rule).
@pytest.mark.parametrize(
    ("g0", "verdict"), [("30", "conforming"), ("20", "not proven"), ("15", "nonconforming")]
)
def test_the_forecast_is_judged_by_its_chance_of_no_clearance(g0: str, verdict: str) -> None:
    book = fitted()
    book.say("clearance_before", g0=(g0, "um"))
    assert book.rule("clearance-forecast")[0].verdict == verdict


def test_the_drawings_least_clearance_takes_the_place_of_zero() -> None:
    book = fitted(clearance_min_um="15")
    book.say("clearance_before", g0=("30", "um"))
    assert book.rule("clearance-forecast")[0].verdict == "nonconforming"


def test_a_forecast_from_the_group_says_that_its_table_is_unconfirmed() -> None:
    unconfirmed = " ".join(fitted().rule("clearance-forecast")[0].unconfirmed)
    assert "ISO 5753-1" in unconfirmed


def test_the_plan_sets_reaches_and_never_exceeds() -> None:
    plan = heating_plan(fitted().case())
    assert isinstance(plan, Plan)
    assert plan.must_reach_c <= plan.set_c <= plan.never_above_c == 120
    assert plan.set_c % 5 == 0
    assert plan.must_reach_c % 5 == 0


def test_a_shaft_too_warm_for_the_ceiling_is_refused_with_how_far_it_must_cool() -> None:
    book = Book()
    book.requirement["kinds"] = ["sealed"]
    measure(book, shaft=("58", "°C"), bearing=("58", "°C"), gauge_temp=("58", "°C"))
    book.say("bore", source="measured", gauge="bore_gauge", bore__A__0=("-6", UM))
    plan = heating_plan(book.case())
    assert isinstance(plan, UnreachableError)
    assert plan.shaft_at_most_c < 58


@pytest.mark.parametrize(
    ("kinds", "cap", "which"),
    [([], 120, "open"), (["sealed"], 80, "sealed"), (["polyamide_cage"], 120, "polyamide_cage"),
     (["polyamide_cage", "sealed"], 80, "sealed"), (["separable_inner_ring"], 120, None)],
)  # fmt: skip
def test_the_lowest_applicable_ceiling_wins_and_says_which(
    kinds: list[str], cap: int, which: str | None
) -> None:
    found = ceiling(fitted(kinds=kinds).case())
    assert found.cap_c == cap
    assert which is None or found.kind == which


def test_the_bearings_own_ceiling_replaces_the_houses_when_entered_with_its_source_before_heat() -> None:
    book = fitted(kinds=["sealed"])
    book.say("heating", own_ceiling=("100", "°C"), own_ceiling_source="bearing's data sheet")
    assert ceiling(book.case()).cap_c == 100


def test_the_bearings_own_ceiling_counts_for_nothing_after_heat() -> None:
    book = fitted(kinds=["sealed"])
    book.tap("heater on")
    book.say("heating", own_ceiling=("100", "°C"), own_ceiling_source="bearing's data sheet")
    assert ceiling(book.case()).cap_c == 80
