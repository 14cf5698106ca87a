"""Internal clearance: which bearings may leave it out, and what a reading of it is worth."""

from typing import Any

import pytest

from qrecords.engineering.cooling import carry_drop
from qrecords.steps.answers import Absent, State
from qrecords.steps.clearance import FEELER_U_NM
from qrecords.steps.fit import ring_of
from tests.cast import REQUIREMENT
from tests.steps.casebook import Book, measure

UM = "um from 60 mm"
KINDS = {
    "deep groove ball": ({"clearance_kind": "deep_groove_ball_cyl_bore"}, True),
    "self-aligning ball": ({"clearance_kind": "self_aligning_ball_cyl_bore"}, True),
    "sealed roller": ({"clearance_kind": "spherical_roller_cyl_bore", "kinds": ["sealed"]}, True),
    "no group on the drawing": ({"clearance_kind": "none"}, True),
    "spherical roller": ({"clearance_kind": "spherical_roller_cyl_bore"}, False),
    "cylindrical roller": ({"clearance_kind": "cylindrical_roller_cyl_bore"}, False),
}
READ = {"before": ("clearance-in-group", "clearance_before", "g0"),
        "after": ("clearance-found", "clearance_after", "g1")}  # fmt: skip


def of_kind(kind: str) -> tuple[Book, bool]:
    book = Book()
    change, may_be_left = KINDS[kind]
    book.requirement |= change
    return book, may_be_left


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("read", READ)
@pytest.mark.parametrize("state", [None, State.NOT_DONE, State.NOT_POSSIBLE])
def test_clearance_may_be_left_out_only_where_no_feeler_fits(
    kind: str, read: str, state: State | None
) -> None:
    """Ruling 9."""
    rule, step, key = READ[read]
    book, may_be_left = of_kind(kind)
    if state is not None:
        book.say(step, **{key: Absent(state, "no blades")})
    assert [f.verdict for f in book.rule(rule)] == ([] if may_be_left else ["missing"])


@pytest.mark.parametrize("read", READ)
def test_clearance_is_not_applicable_to_no_bearing(read: str) -> None:
    rule, step, key = READ[read]
    book, _ = of_kind("spherical roller")
    book.say(step, **{key: Absent(State.NOT_APPLICABLE, "rollers")})
    assert book.rule(rule)[0].verdict == "missing"


def test_a_procedure_may_call_it_optional_for_every_bearing() -> None:
    book, _ = of_kind("spherical roller")
    book.procedure["optional"] = [*book.procedure["optional"], "clearance_after.g1"]
    assert book.rule("clearance-found") == []


BLADES: dict[str, Any] = {"id": "feeler", "kind": "feeler set", "mark": "feeler", "due": "2099-01-31"}
DIAL: dict[str, Any] = {"id": "dial", "kind": "dial indicator", "mark": "dial", "due": "2099-01-31"}


@pytest.mark.parametrize(
    ("gear", "u_nm"),
    [
        # blades 30, 40, 50 µm: the step of 10 µm, /√12 = 2.887; with U 2 µm √(1 + 2.887²) = 3.055
        ({**BLADES, "expanded_u": 2000, "blades_nm": [30_000, 40_000, 50_000]}, 3056),
        # no blade of 40 µm: stacked ones, 3 µm with U 2 µm: √(1 + 9) = 3.162
        ({**BLADES, "expanded_u": 2000, "blades_nm": [30_000, 50_000]}, 3163),
        ({**BLADES, "blades_nm": [40_000, 50_000]}, FEELER_U_NM),
        # U 1 µm, digit 1 µm: √(0.5² + 1/12) = 0.577
        ({**DIAL, "expanded_u": 1000, "resolution": 1000}, 578),
    ],
)
@pytest.mark.parametrize("read", READ)
def test_u_of_a_clearance_comes_from_its_gauge(read: str, gear: dict[str, Any], u_nm: int) -> None:
    rule, step, key = READ[read]
    book = Book(gear={"dial": gear})
    book.say(step, gauge="dial", **{key: ("40", "um")})
    assert book.rule(rule)[0].u == u_nm


@pytest.mark.parametrize("read", READ)
@pytest.mark.parametrize("said", [{"gauge": "dial"}, {"method": "dial indicator"}])
def test_a_dial_without_calibration_proves_no_clearance(read: str, said: dict[str, str]) -> None:
    rule, step, key = READ[read]
    book = Book(gear={"dial": DIAL})
    book.say(step, **said, **{key: ("32", "um")})
    finding = book.rule(rule)[0]
    assert (finding.verdict, finding.message) == ("not proven", f"{rule}.no-uncertainty")


def test_a_clearance_too_close_for_blades_is_proven_by_a_dial() -> None:
    """Group C3 of 60 mm is 23…43 µm: at 26 µm the guard of blades reaches the limit, a dial's does not."""
    for gauge, verdict in (("feeler", "not proven"), ("dial", "conforming")):
        book = Book(gear={"dial": {**DIAL, "expanded_u": 1000, "resolution": 1000}})
        book.say("clearance_before", gauge=gauge, g0=("26", "um"))
        assert book.rule("clearance-in-group")[0].verdict == verdict


def test_a_forecast_from_a_clearance_that_proves_nothing_is_not_proven() -> None:
    book = Book(gear={"dial": DIAL})
    measure(book)
    book.say("bore", source="from class")
    book.say("clearance_before", gauge="dial", g0=("40", "um"))
    assert book.rule("clearance-forecast")[0].verdict == "not proven"
    book.say("clearance_after", g1=("1", "um"))
    assert book.rule("clearance-as-forecast") == []


def test_an_inner_raceway_of_the_drawing_stands_in_for_the_equivalent_one_and_says_so() -> None:
    """On a solid shaft the loss is d/F of the fit: F 75 mm for d + 0.20·(D − d) = 70 mm. Source: Lamé."""
    findings = []
    for raceway in ({}, {"raceway_mm": "75", "raceway_from": "drawing"}):
        book = Book()
        book.requirement |= raceway
        measure(book)
        book.say("bore", source="from class")
        book.say("clearance_before", gauge="feeler", g0=("33", "um"))
        findings += book.rule("clearance-forecast")
    lost_70, lost_75 = (33_000 - (finding.value or 0) for finding in findings)
    assert lost_75 > 0 and lost_75 / lost_70 == pytest.approx(70 / 75, abs=1e-3)
    assert ["F from the drawing" in f.working.assumptions for f in findings if f.working] == [False, True]


def test_a_weighed_bearing_says_so_in_the_working_of_the_carry() -> None:
    ring = ring_of(Book(requirement={**REQUIREMENT, "mass_kg": "0.78", "mass_from": "measured"}).case())
    assert "m measured" in carry_drop(ring, 110, 20, 30).assumptions


def test_a_bearing_that_is_adjusted_when_mounted_has_no_clearance_to_forecast() -> None:
    """Tapered roller and angular contact bearings: end play or preload is set, and no table has their G0."""
    book = Book()
    measure(book)
    book.say("bore", source="from class")
    book.requirement |= {"clearance_kind": "adjusted", "designation": "30212"}
    assert book.rule("clearance-forecast") == [] == book.rule("clearance-in-group")
    book.requirement |= {"clearance_kind": "none"}
    (found,) = book.rule("clearance-forecast")
    assert (found.verdict, found.message) == ("not proven", "clearance-forecast.no-group")
