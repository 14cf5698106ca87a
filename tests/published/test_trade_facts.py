"""Facts of the trade. Common practice, no source: nothing below is a standard.

Each stands beside what this project computes, so that a reader sees where the saying is right and where it is
rounded, short or long.
"""

import pytest

from qrecords.engineering.ceilings import ceiling_for
from qrecords.engineering.cooling import pressing_time
from qrecords.engineering.field import HOUSE_LIMIT_NT
from qrecords.engineering.fits import stress_raceway_mm
from qrecords.engineering.growth import growth

SAID_DEMAGNETISING_S = (3, 4)  # the cycle of an induction heater at lift-off
SAID_PRESSED_HOME_S = (15, 20)  # a small bearing, held against its shoulder by hand


def test_a_55_mm_bearing_from_25_to_115_degrees_is_said_to_grow_by_a_tenth() -> None:
    grown = growth(55, 115 - 25)
    assert grown.value == pytest.approx(59.4, abs=0.05)  # µm
    assert round(grown.value / 1000, 1) == 0.1  # only when rounded to one decimal of a millimetre
    assert round(grown.value / 1000, 2) == 0.06


def test_a_bearing_is_heated_to_at_most_120_degrees() -> None:
    assert ceiling_for([]).cap_c == 120
    assert "no source" in ceiling_for([]).source


def test_demagnetising_takes_3_to_4_seconds_and_the_rule_judges_the_field_not_the_seconds() -> None:
    assert SAID_DEMAGNETISING_S == (3, 4)
    assert HOUSE_LIMIT_NT == 251_327


@pytest.mark.parametrize(
    ("d", "outside", "interference_um", "needed_s"), [(20, 47, 12, 9), (25, 52, 9, 16.7)]
)
def test_a_small_bearing_pressed_home_for_15_to_20_seconds_beside_the_computed_need(
    d: int, outside: int, interference_um: float, needed_s: float
) -> None:
    hold = pressing_time(d, stress_raceway_mm(d, outside), interference_um, 110, 20).hold
    assert hold.value == pytest.approx(needed_s, abs=0.1)  # own arithmetic
    assert hold.value <= SAID_PRESSED_HOME_S[1]


def test_the_same_15_to_20_seconds_are_too_short_for_a_60_mm_seat() -> None:
    hold = pressing_time(60, stress_raceway_mm(60, 110), 30, 110, 20).hold
    assert hold.value > SAID_PRESSED_HOME_S[1]
