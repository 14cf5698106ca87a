"""Peak against ceiling, could it have slid on, pressed long enough."""

from typing import Any

import pytest

from qrecords.steps.answers import Absent, State
from qrecords.steps.seating import needed_ms
from qrecords.steps.standard import RULES
from tests.steps.casebook import Book, measure, sound


# Ceiling 120 °C, thermometer U 2 K: u 1 K, guard 1.65 K.
@pytest.mark.parametrize(
    ("peak", "verdict"),
    [("118.3", "conforming"), ("118.4", "not proven"), ("121.6", "not proven"), ("121.7", "nonconforming")],
)
def test_the_peak_is_judged_with_guard(peak: str, verdict: str) -> None:
    assert sound(heating___peak=(peak, "°C")).rule("peak-temperature")[0].verdict == verdict


def test_fahrenheit_is_the_same_temperature() -> None:
    book = sound(heating___peak=("203", "°F"))
    assert book.rule("peak-temperature")[0].value == 95_000


def test_the_cross_check_counts_when_it_is_hotter_than_the_probe() -> None:
    book = sound(heating___cross_check=("134", "°C"))
    assert book.rule("peak-temperature")[0].value == 134_000


def test_a_probe_that_was_not_on_the_inner_ring_leaves_the_peak_not_proven() -> None:
    book = sound(heating___probe="outer ring")
    finding = book.rule("peak-temperature")[0]
    assert (finding.verdict, finding.message) == ("not proven", "peak-temperature.not-inner")


@pytest.mark.parametrize(
    ("peak", "kinds", "stable", "may"),
    [("125", [], None, "accept"), ("134", [], None, "concession"), ("134", [], 200, "concession"),
     ("151", [], None, "scrap"), ("151", [], 200, "concession"), ("112", ["sealed"], None, "concession"),
     ("112", ["greased"], None, "concession"), ("125", ["polyamide_cage"], None, "concession")],
)  # fmt: skip
def test_what_may_be_decided_after_an_overheat_hangs_on_how_hot(
    peak: str, kinds: list[str], stable: int | None, may: str
) -> None:
    book = sound(heating___peak=(peak, "°C"))
    book.requirement |= {"kinds": kinds, "stabilised_c": stable}
    case = book.case()
    finding = next(f for f in book.rule("peak-temperature"))
    assert RULES["peak-temperature"].decisions(finding, case)[0] == may


@pytest.mark.parametrize("rule", ["slid-on", "pressed-home"])
def test_what_follows_from_the_heat_of_the_inner_ring_is_not_proven_where_only_another_place_was_read(
    rule: str,
) -> None:
    (finding,) = sound(heating___probe="outer ring").rule(rule)
    assert (finding.verdict, finding.message) == ("not proven", f"{rule}.not-inner")
    assert sound(heating___probe="outer ring", heating___at_seat=("88", "°C")).rule(rule)[0].value is not None


@pytest.mark.parametrize("state", list(State))
@pytest.mark.parametrize("rule", ["slid-on", "pressed-home"])
def test_what_follows_from_ring_and_seat_as_they_met_is_missing_without_the_heat_of_one(
    rule: str, state: State
) -> None:
    lost = Absent(state, "probe broke")
    for field in ("heating___peak", "measurement___shaft"):
        (finding,) = sound(**{field: lost}).rule(rule)
        assert (finding.verdict, finding.facts["reason"]) == ("missing", "probe broke")


def test_pressing_that_was_not_tapped_is_no_finding_whatever_was_not_read() -> None:
    book = pressed(None)
    book.say("heating", peak=Absent(State.NOT_DONE, "probe broke"))
    assert book.rule("pressed-home") == []


@pytest.mark.parametrize("state", list(State))
def test_a_separable_inner_ring_is_heated_alone_and_has_no_outer_ring_to_read(state: State) -> None:
    book = sound(heating___peak_outer=Absent(state, "inner ring alone"))
    book.requirement["kinds"] = ["separable_inner_ring"]
    assert book.rule("ring-difference") == []


@pytest.mark.parametrize(("kind", "may"), [("sealed", ("scrap",)), ("polyamide_cage", ("scrap",))])
def test_a_polymer_over_the_bearings_own_data_is_scrap(kind: str, may: tuple[str, ...]) -> None:
    """TRADE.md section 2: over the house cap but within the bearing's own data is the engineer's."""
    book = Book()
    book.requirement["kinds"] = [kind]
    book.say("heating", own_ceiling=("105", "°C"), own_ceiling_source="data sheet of this bearing")
    book.tap("heater on")
    book.say("heating", probe="inner ring", peak=("112", "°C"))
    finding = book.rule("peak-temperature")[0]
    assert (finding.verdict, finding.facts["ceiling"]) == ("nonconforming", "own_data")
    assert RULES["peak-temperature"].decisions(finding, book.case()) == may


def test_a_ring_too_cold_to_have_gone_on_is_asked_about() -> None:
    assert sound(heating___peak=("45", "°C")).rule("slid-on")[0].verdict == "query"


def test_the_temperature_read_at_the_seat_counts_before_the_peak() -> None:
    assert sound(heating___at_seat=("45", "°C")).rule("slid-on")[0].verdict == "query"


def pressed(seconds: float | None, held_by: str = "hand", carried_s: float = 10) -> Book:
    book = Book()
    measure(book)
    book.say("bore", source="from class")
    book.say("seating", held_by=held_by)
    book.tap("heater on")
    book.tap("lifted off")
    book.tap("home", after_s=carried_s - 10)
    if seconds is not None:
        book.tap("let go", after_s=seconds - 10)
    book.say("heating", probe="inner ring", peak=("95", "°C"))
    return book


def test_pressing_as_long_as_computed_conforms_within_the_doubt_of_a_tap() -> None:
    needed_s = needed_ms(pressed(60).case())[0] / 1000  # type: ignore[index]
    assert pressed(needed_s - 1.9).rule("pressed-home")[0].verdict == "conforming"
    assert pressed(needed_s - 2.1).rule("pressed-home")[0].verdict == "not proven"


def test_what_was_lost_on_the_way_shortens_no_pressing_unless_it_was_read_at_the_seat() -> None:
    """Ruling 14: from the temperature at the seat if read, else the peak."""
    quick, slow, read = pressed(60), pressed(60, carried_s=120), pressed(60, carried_s=120)
    read.say("heating", at_seat=("85", "°C"))
    needed = [needed_ms(book.case())[0] for book in (quick, slow, read)]  # type: ignore[index]
    assert needed[0] == needed[1] > needed[2]


def test_a_tap_that_was_not_made_is_no_finding() -> None:
    assert pressed(None).rule("pressed-home") == []


def test_a_nut_holds_by_itself() -> None:
    (finding,) = pressed(11, "nut").rule("pressed-home")
    assert (finding.verdict, finding.message) == ("conforming", "pressed-home.held-after")


def test_how_long_it_was_pressed_before_the_nut_held_is_told_where_it_was_tapped() -> None:
    tapped, untapped = (pressed(seconds, "nut").rule("pressed-home")[0] for seconds in (11, None))
    assert (tapped.value, tapped.lower, tapped.facts["pressed_ms"]) == (11_000, None, 11_000)
    assert (untapped.verdict, untapped.message, untapped.value) == ("conforming", "pressed-home.held", None)


@pytest.mark.parametrize("held_by", ["hand", "nut"])
def test_a_ring_that_stuck_after_home_was_tapped_was_not_pressed_home(held_by: str) -> None:
    book = pressed(None, held_by)
    book.tap("stuck")
    book.tap("let go", after_s=600)
    assert book.rule("went-home")[0].verdict == "nonconforming"
    assert book.rule("pressed-home") == []


def test_home_tapped_again_after_it_stuck_is_when_the_ring_came_home() -> None:
    book = pressed(None)
    book.tap("stuck")
    home_again = book.tap("home", after_s=110)
    book.tap("let go", after_s=80)
    finding = book.rule("pressed-home")[0]
    assert (finding.verdict, finding.facts["pressed_ms"]) == ("conforming", 90_000)
    assert home_again.id in finding.inputs


@pytest.mark.parametrize("held_by", ["hand", "nut"])
def test_what_was_let_go_before_the_ring_came_home_again_ended_no_pressing(held_by: str) -> None:
    book = pressed(11, held_by)
    book.tap("stuck")
    book.tap("home")
    book.tap("let go", after_s=80)
    (finding,) = book.rule("pressed-home")
    assert finding.facts["pressed_ms"] == 90_000


@pytest.mark.parametrize("event", ["stuck", "dropped"])
def test_what_was_tapped_while_hot_is_flagged_whatever_is_typed_later(event: str) -> None:
    book = Book()
    book.tap("heater on")
    book.tap(event)
    book.say("seating", went_home="in one move", dropped="no")
    rule = {"stuck": "went-home", "dropped": "not-dropped"}[event]
    assert book.rule(rule)[0].verdict == "nonconforming"


@pytest.mark.parametrize("kind", ["oven", "hot plate", "oil bath"])
def test_a_heater_without_a_field_needs_no_demagnetising(kind: str) -> None:
    heater: dict[str, Any] = {"id": "heater", "kind": "heater", "mark": "OV-1", "heater_kind": kind}
    book = Book(gear={"heater": heater})
    book.say("heating", heater="heater")
    assert book.rule("demagnetised") == []
    assert book.rule("residual-field") == []


@pytest.mark.parametrize(
    ("kind", "verdicts"),
    [("induction", ["missing"]), ("", ["missing"]), ("oven", []), ("hot plate", []), ("oil bath", [])],
)
@pytest.mark.parametrize(
    ("rule", "step", "key"),
    [("zone-kept", "preparation", "zone"), ("demagnetised", "demagnetisation", "cycle"),
     ("residual-field", "demagnetisation", "field")],
)  # fmt: skip
def test_zone_cycle_and_field_are_not_applicable_by_kind_of_heater_alone(
    kind: str, verdicts: list[str], rule: str, step: str, key: str
) -> None:
    """Ruling 9; a heater of no known kind, as one taken out of use may be, may make a field."""
    heater: dict[str, Any] = {"id": "heater", "kind": "heater", "mark": "H-1", "heater_kind": kind}
    book = Book(gear={"heater": heater})
    book.say(step, **{key: Absent(State.NOT_APPLICABLE, "no field")})
    book.say("heating", heater="heater")
    assert [finding.verdict for finding in book.rule(rule)] == verdicts


@pytest.mark.parametrize(("typed", "unit"), [("2", "A/cm"), ("0.2513", "mT"), ("2.513", "G")])
def test_the_field_limit_is_two_ampere_per_centimetre_in_each_unit(typed: str, unit: str) -> None:
    finding = sound(demagnetisation___field=(typed, unit)).rule("residual-field")[0]
    assert finding.verdict == "not proven"  # at the limit itself, within the guard
    assert finding.value == pytest.approx(finding.upper, abs=60)
