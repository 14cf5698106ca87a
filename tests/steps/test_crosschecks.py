"""Competence, heatings, photos and digits: what other facts say of a record."""

import random
from dataclasses import replace
from datetime import datetime, timedelta
from statistics import NormalDist
from typing import Any

import pytest

from qrecords.steps.answers import Absent, State
from qrecords.steps.crosschecks import chance_of_same
from tests.steps.casebook import Book, Line, journal_fields, measure, sound


@pytest.mark.parametrize(
    ("state", "verdict"),
    [
        ("held", "conforming"),
        ("lapsed", "nonconforming"),
        ("none", "nonconforming"),
        ("differs", "not proven"),
    ],
)
def test_competence_is_judged_as_frozen_at_the_act(state: str, verdict: str) -> None:
    book = Book(competence=state)
    measure(book)
    assert book.findings()["competence, measurement"].verdict == verdict


def test_the_finding_names_every_capture_of_who_lacked_the_competence() -> None:
    book = Book(competence="lapsed")
    one = book.say("measurement", shaft=("20", "°C"))
    two = book.say("measurement", author="second fitter", bearing=("20", "°C"))
    book.competence = "held"
    three = book.say("measurement", author="third fitter", gauge_temp=("20", "°C"))
    assert book.findings()["competence, measurement"].inputs == (one.id, two.id)
    book.say("measurement", author="third fitter", shaft=("20.1", "°C"), bearing=("20.1", "°C"))
    four = book.case().said("measurement", "shaft")
    found = book.findings()["competence, measurement"]
    assert four and (found.verdict, set(found.inputs)) == ("conforming", {three.id, four.entry})


def heated(times: int, earlier: int, field: bool) -> Book:
    book = Book()
    book.say("heating", heater="heater")
    for _ in range(times):
        book.tap("heater on")
    if field:
        book.say("demagnetisation", field=("1", "A/cm"))
    book.look_elsewhere(earlier_heatings=earlier)
    return book


@pytest.mark.parametrize(
    ("times", "earlier", "field", "verdict"),
    [(1, 0, False, "conforming"), (2, 0, True, "conforming"), (1, 1, True, "conforming"),
     (1, 1, False, "missing"), (3, 0, True, "nonconforming"), (1, 2, True, "nonconforming")],
)  # fmt: skip
def test_two_heatings_are_sound_with_the_field_measured_again_and_the_third_asks_the_engineer(
    times: int, earlier: int, field: bool, verdict: str
) -> None:
    assert heated(times, earlier, field).rule("heatings")[0].verdict == verdict


def test_a_field_measured_before_the_last_heating_does_not_count() -> None:
    """Ruling 22: every heating may magnetise again."""
    book = heated(1, 0, field=True)
    assert book.rule("residual-field")[0].verdict != "missing"
    book.tap("heater on")
    (field,), (number,) = book.rule("residual-field"), book.rule("heatings")
    assert (field.verdict, field.message) == ("missing", "residual-field.before-heat")
    assert (number.verdict, number.message) == ("missing", "heatings.field-again")
    book.say("demagnetisation", field=("1", "A/cm"))
    assert book.rule("residual-field")[0].verdict != "missing"
    assert book.rule("heatings")[0].verdict == "conforming"


@pytest.mark.parametrize("state", list(State))
def test_after_a_second_heating_no_field_is_missing_whatever_the_reason(state: State) -> None:
    book = heated(2, 0, field=False)
    book.say("demagnetisation", field=Absent(state, "meter lent"))
    assert book.rule("residual-field")[0].verdict == "missing"
    assert book.rule("heatings")[0].message == "heatings.field-again"


def test_a_field_whose_order_with_the_heat_is_not_proved_is_not_proven() -> None:
    """Received after *heater on*, but by its own device's clock before it."""
    book = heated(1, 0, field=False)
    book.now -= timedelta(hours=2)
    book.say("demagnetisation", field=("1", "A/cm"))
    assert book.rule("residual-field")[0].message == "residual-field.unclear-heat"


def test_a_clearance_that_is_measured_is_felt_again_between_two_heatings() -> None:
    book = Book()
    book.say("heating", heater="heater")
    first = book.say("clearance_before", g0=("30", "um"))
    for _ in range(2):
        book.tap("heater on")
    book.say("demagnetisation", field=("1", "A/cm"))
    book.look_elsewhere()
    assert book.rule("heatings")[0].message == "heatings.clearance-again"
    again = Book(lines=[line for line in book.lines if line.id != first.id])
    assert again.rule("heatings")[0].verdict == "conforming"


def test_gap_clearance_and_turning_are_checked_again_after_another_heating() -> None:
    book = sound()
    book.tap("heater on")
    before = {name: f.message for name, f in book.findings().items() if f.message.endswith("before-heat")}
    assert set(before) == {
        "residual field", "cold when checked", "shoulder gap", "clearance found", "turns-freely"
    }  # fmt: skip


def test_heatings_are_not_judged_before_other_records_were_looked_at() -> None:
    book = Book()
    book.tap("heater on")
    assert book.rule("heatings") == []


UM = "um from 60 mm"
# The spread of these nine readings is 4.2 µm, so that equal digits by chance are far rarer than 1 in 1,000.
SPREAD = {"A": ("14", "21", "18"), "B": ("25", "17", "13"), "C": ("20", "15", "22")}


def test_the_same_scattered_digits_at_the_other_end_are_asked_about() -> None:
    book = Book()
    measure(book, **journal_fields(SPREAD, "um from 60 mm"))
    mine = sorted((a.key, a.base) for a in book.case().many("measurement", "journal"))
    book.look_elsewhere(other_end=[base for _, base in mine], other_end_mounting="m2")
    assert book.rule("same-digits")[0].verdict == "query"


def test_other_digits_at_the_other_end_are_not() -> None:
    book = sound()
    book.look_elsewhere(other_end=[60_017_000] * 9, other_end_mounting="m2")
    assert book.rule("same-digits") == []


def test_digits_that_agree_by_chance_are_not_asked_about() -> None:
    same = (20_000, 21_000, 20_000, 21_000)
    assert chance_of_same(same, same, 1000) > 1e-3


def test_the_chance_of_equal_digits_agrees_with_drawing_them() -> None:
    mean, spread, draws = 20_400.0, 900.0, 40_000
    noise = random.Random(7)

    def digit() -> int:
        return round(noise.gauss(mean, spread) / 1000)

    agreed = sum(digit() == digit() for _ in range(draws)) / draws
    sample = tuple(round(NormalDist(mean, spread).inv_cdf((i + 0.5) / 50)) for i in range(50))
    computed = chance_of_same(sample, sample, 1000) ** (1 / len(sample))
    assert computed == pytest.approx(agreed, abs=0.02)


def typed_one_by_one(every_s: float, **changes: Any) -> Book:
    """The nine readings, each a capture of its own."""
    book = Book(gear={"micrometer": {**MICROMETER, **changes.pop("gear", {})}})
    measure(book, **dict.fromkeys(journal_fields(SPREAD, UM)), **changes)
    for key, reading in journal_fields(SPREAD, UM).items():
        book.now += timedelta(seconds=every_s - 10)
        book.say("measurement", **{key: reading})
    return book


MICROMETER = {
    "id": "micrometer", "kind": "outside micrometer", "mark": "micrometer", "due": "2099-01-31",
    "resolution": 1000, "expanded_u": 1000, "calibration": "c",
}  # fmt: skip


@pytest.mark.parametrize(("every_s", "asked"), [(11.9, 1), (12, 0), (40, 0)])
def test_readings_typed_in_under_twelve_seconds_each_are_asked_about(every_s: float, asked: int) -> None:
    """Ruling 8."""
    found = typed_one_by_one(every_s).rule("reading-speed")
    assert [finding.verdict for finding in found] == ["query"] * asked


@pytest.mark.parametrize(("before", "after"), [(1, 8), (2, 7), (8, 1)])
def test_a_pause_makes_readings_typed_in_a_hurry_no_slower(before: int, after: int) -> None:
    """One, two or eight readings, ten minutes, and the rest: three seconds apart on both sides."""
    book = typed_one_by_one(3)
    readings = [n for n, line in enumerate(book.lines) if line.kind == "capture"][1:]
    assert len(readings) == before + after
    later = {line.id for line in (book.lines[n] for n in readings[before:])}
    moved = [_later(line, 600) if line.id in later else line for line in book.lines]
    (asked,) = Book(lines=moved).rule("reading-speed")
    assert asked.facts["count"] == max(before, after) - 1
    assert asked.facts["took_ms"] == 3000 * (max(before, after) - 1)


def test_planes_typed_at_once_with_time_to_read_between_them_are_not_asked_about() -> None:
    book = Book()
    measure(book, **dict.fromkeys(journal_fields(SPREAD, UM)))
    for plane in "ABC":
        book.now += timedelta(seconds=36)
        book.say("measurement", **journal_fields({plane: SPREAD[plane]}, UM))
    assert book.rule("reading-speed") == []


def _later(line: Line, seconds: float) -> Line:
    at = datetime.fromisoformat(line.payload["at_device"]) + timedelta(seconds=seconds)
    return replace(line, payload={**line.payload, "at_device": at.isoformat()})


@pytest.mark.parametrize("changes", [{"noted_first": "yes"}, {"gear": {"data_output": True}}])
def test_readings_noted_first_or_sent_by_the_gauge_are_not(changes: dict[str, Any]) -> None:
    assert typed_one_by_one(3, **changes).rule("reading-speed") == []


@pytest.mark.parametrize("state", list(State))
def test_whether_they_were_noted_first_need_not_be_said(state: State) -> None:
    assert typed_one_by_one(3, noted_first=Absent(state, "typed")).rule("reading-speed") != []


def test_nothing_is_known_of_the_speed_inside_one_capture_nor_of_five_readings() -> None:
    assert sound().rule("reading-speed") == []
    book = typed_one_by_one(3)
    book.lines = book.lines[:-3]
    assert book.rule("reading-speed") == []
