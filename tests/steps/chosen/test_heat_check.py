"""Rows 19 and 20: second thermometer, ring difference, peak."""

from typing import Any

import pytest

from tests.numbers.number_row import Row
from tests.steps.casebook import Book, everything, sound
from tests.steps.ruled import ASKED, LOOK, NONE, OUT, SILENT, Ruled, chosen

LONG = {"10 times": "ten minutes above the target happen", "25.4 times": "and twenty-five"}


def apart() -> Book:
    return sound(procedure=everything(), heating___cross_check=("88", "°C"))


def pinched() -> Book:
    changes: dict[str, Any] = {
        "heating___peak_outer": ("60", "°C"),
        "heat_check___turned_hot": "turned by hand",
    }
    return sound(procedure=everything(), **changes)


SOUND: dict[str, Any] = {"probe_spot": "cleaned", "contact_gauge": "thermometer", "turned_hot": "not turned"}
RULED = (
    Ruled("probe-spot", "spot", chosen("heat_check___probe_spot"), "as it was", LOOK, ASKED,
          "a probe on oil and paint reads low"),
    Ruled("contact-check", "contact thermometer", chosen("heat_check___contact_gauge"), apart, LOOK, ASKED,
          "two thermometers on one ring that differ", good=NONE),
    Ruled("contact-check", "cross-check", chosen("heating___cross_check"), ("88", "°C"), LOOK, SILENT,
          "nothing to compare where only one was read", good=NONE),
    Ruled("not-turned-hot", "turned", chosen("heat_check___turned_hot"), pinched, OUT, ASKED,
          "elements that are clamped dent the raceway"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {"heat_check.above_target_for": Row("60", "0…7200 s", LONG, unit="s")}


def test_row_19_probes_and_ring_difference() -> None:
    """Turned with a small difference nothing was pinched; over it and not turned neither."""
    assert sound(procedure=everything(), heat_check___turned_hot="turned by hand").flags() == {}
    wide = sound(procedure=everything(), heating___peak_outer=("60", "°C"))
    assert wide.flags() == {"ring difference": "query"}
    assert pinched().flags() == {"ring difference": "query", "not-turned-hot": "nonconforming"}


@pytest.mark.parametrize("said", ["turned by hand", "loaded"])
def test_whether_a_ring_was_pinched_is_not_proven_where_nobody_read_both_rings(said: str) -> None:
    unread: dict[str, Any] = {"heating___peak_outer": None, "heat_check___turned_hot": said}
    assert sound(procedure=everything(), **unread).rule("not-turned-hot")[0].verdict == "not proven"
    still = {**unread, "heat_check___turned_hot": "not turned"}
    assert sound(procedure=everything(), **still).rule("not-turned-hot")[0].verdict == "conforming"
    alone = sound(procedure=everything(), **unread)
    alone.requirement["kinds"] = ["separable_inner_ring"]
    assert alone.rule("not-turned-hot")[0].verdict == "conforming"


def test_row_20_peak_and_contact_thermometer() -> None:
    """Within 5 K they agree, or within 2 u of both where that is more."""
    at_5 = sound(procedure=everything(), heating___cross_check=("90", "°C"))
    assert at_5.rule("contact-check")[0].verdict == "conforming"
    assert apart().rule("contact-check")[0].facts["off_mk"] == 7_000
