"""Each cross-check that exposes a mistaken or invented record: a query that accuses nobody."""

from datetime import timedelta
from typing import Any

import pytest

from qrecords.steps.errors import SlipError
from qrecords.steps.expected import expected_for
from qrecords.steps.standard import RULES, STEPS
from tests.steps.casebook import Book, measure, sound
from tests.steps.ruled import (
    JOURNAL,
    STRONG,
    copied,
    gauge,
    logged,
    seat_photographed_late,
    told_late,
    weakly_heated,
)
from tests.steps.test_crosschecks import typed_one_by_one

QUERIES = (
    "slid-on", "clearance-as-forecast", "same-digits", "reading-speed", "log-as-typed", "log-against-taps",
    "log-energy", "heat-time", "gap-plane", "order-in-time", "photo-in-time", "play-and-clearance",
)  # fmt: skip


def said(book: Book, rule: str) -> list[str]:
    return [finding.verdict.value for finding in book.rule(rule)]


@pytest.mark.parametrize("rule", QUERIES)
def test_a_cross_check_is_only_looked_at_and_is_never_decided(rule: str) -> None:
    assert RULES[rule].may == ("looked",)


def test_cross_check_could_it_have_slid_on() -> None:
    assert said(sound(heating___peak=("45", "°C")), "slid-on") == ["query"]
    assert said(sound(), "slid-on") == ["conforming"]


def test_cross_check_did_the_clearance_shrink_as_it_should() -> None:
    assert said(sound(clearance_after___g1=("30", "um")), "clearance-as-forecast") == ["query"]
    assert said(sound(clearance_before___g0=None), "clearance-as-forecast") == []


def test_cross_check_digit_pattern() -> None:
    assert said(copied(), "same-digits") == ["query"]


def test_cross_check_speed() -> None:
    assert said(typed_one_by_one(3), "reading-speed") == ["query"]
    assert said(typed_one_by_one(3, noted_first="yes"), "reading-speed") == []


@pytest.mark.parametrize(
    ("typed", "unit"), [("2.3628", "mm"), ("600.18", "mm"), ("6001.8", "mm"), ("60018", "mm")]
)
def test_cross_check_unit_slip(typed: str, unit: str) -> None:
    """An inch typed as mm, a mark in the wrong place: asked once at the keyboard, and what was meant told."""
    near = expected_for(sound().case(), "measurement", "journal")
    with pytest.raises(SlipError):
        STEPS["measurement"].field("journal.A.0").parse(typed, unit, near)


def test_cross_check_unit_slip_of_a_temperature() -> None:
    """°F typed as °C: a peak of 228."""
    with pytest.raises(SlipError) as asked:
        STEPS["heating"].field("peak").parse("228", "°C")
    assert (asked.value.meant, asked.value.meant_unit) == ("228", "°F")


def test_cross_check_bore_inside_its_class() -> None:
    changes = {f"bore___bore__{plane}__{at}": ("6", "um from 60 mm") for plane in "AB" for at in (0, 60, 120)}
    assert said(sound(**changes), "bore-in-class") == ["query"]


def test_cross_check_curve_shape() -> None:
    """35 K in ten seconds is a probe that came off: not proven. A ring off the heater only cools."""
    lost = logged((0, 20), (240, 95), (246, 95), (256, 60), (600, 50))
    (found,) = lost.rule("log-ceiling")
    assert (found.verdict, found.message) == ("not proven", "log-ceiling.probe-off")
    rising = logged((0, 20), (500, 95), (510, 95), (700, 80))
    assert said(rising, "log-against-taps") == ["query"]


def test_cross_check_heating_time_against_mass() -> None:
    """By the log where there is one, and by the taps where there is none."""
    assert said(logged((0, 20), (240, 95), (246, 95), (600, 70), power_w=20), "log-energy") == ["query"]
    (found,) = weakly_heated().rule("heat-time")
    assert found.verdict == "query" and int(found.facts["least_ms"]) > int(found.facts["took_ms"])
    assert said(sound(STRONG), "heat-time") == ["conforming"]
    assert said(sound(), "heat-time") == [], "of no known power nothing is asked"


def test_cross_check_opposite_gaps() -> None:
    """0.08 and 0.03 opposite, 0.05 and 0: a tilted ring. One odd gap: a burr, dirt or a bad reading."""
    tilted: dict[str, Any] = {
        "shoulder_gap___gap__0": ("0", "mm"), "shoulder_gap___gap__90": ("0.05", "mm"),
        "shoulder_gap___gap__180": ("0.08", "mm"), "shoulder_gap___gap__270": ("0.03", "mm"),
    }  # fmt: skip
    assert said(sound(**tilted), "gap-plane") == []
    assert said(sound(shoulder_gap___gap__90=("0.1", "mm")), "gap-plane") == ["query"]


def test_cross_check_order_in_time() -> None:
    """First told when the ring lay over it: asked about. Noted first, put right later, or told within what
    two clocks may differ: not."""
    (found,) = told_late().rule("order-in-time")
    assert (found.message, found.facts["count"]) == ("order-in-time.told-late", 9)
    noted = told_late()
    noted.say("measurement", noted_first="yes")
    assert noted.rule("order-in-time") == []
    corrected = sound()
    corrected.now += timedelta(minutes=20)
    measure(corrected, journal__A__0=("17", "um from 60 mm"))
    assert corrected.rule("order-in-time") == []
    soon = sound(**dict.fromkeys(JOURNAL))
    soon.now -= timedelta(minutes=3)
    measure(soon)
    assert soon.rule("order-in-time") == []


def test_cross_check_order_in_time_of_what_is_found_as_mounted() -> None:
    """A gap felt ten minutes before the ring went on is of another ring or another day."""
    book = sound(shoulder_gap___gap__0=None)
    early = book.say("shoulder_gap", gap__0=("0", "mm"))
    book.lines.remove(early)
    early.payload["at_device"] = (book.now - timedelta(hours=1)).isoformat()  # type: ignore[index]
    book.lines.insert(1, early)
    (found,) = book.rule("order-in-time")
    assert (found.characteristic, found.message) == (
        "order in time, shoulder_gap",
        "order-in-time.told-early",
    )


def test_cross_check_photo_time() -> None:
    assert said(seat_photographed_late(), "photo-in-time") == ["query"]


def test_cross_check_master_before_and_after() -> None:
    assert said(sound(measurement___master_after=("3", "um")), "master-check") == ["not proven"]
    assert said(gauge("master", due="2020-01-01")(), "gauge-in-date").count("not proven") == 1
