"""Facts of the trade. Common practice, no source: nothing below is a standard.

Each stands beside what this project computes, so that a reader sees where the saying is right and where it is
rounded, short or long.
"""

import re

import pytest

from qrecords.engineering.ceilings import ceiling_for
from qrecords.engineering.cooling import pressing_time
from qrecords.engineering.fits import stress_raceway_mm
from qrecords.engineering.units import read
from qrecords.web.fitter.fitting import plan_line
from qrecords.web.fitter.words import field_label
from tests.steps.casebook import Book, measure, sound

SAID_DEMAGNETISING_S = (3, 4)  # the cycle of an induction heater at lift-off
SAID_PRESSED_HOME_S = (15, 20)  # a small bearing, held against its shoulder by hand


def test_the_planner_says_that_a_55_mm_bore_brought_from_25_to_115_degrees_grows_by_59_um_not_a_tenth() -> (
    None
):
    book = Book()
    book.requirement |= {"nominal_mm": "55", "designation": "6211 C3", "outside_mm": "100", "width_mm": "21"}
    measure(book, temperatures_c="25")
    book.say("bore", source="from class")
    line = plan_line(book.case())
    assert line is not None and line.working is not None
    assert re.fullmatch(r"115\s°C", line.set_to)
    grows = next(text for name, text in line.working.inputs if name == "the bore grows by Δd = α·d·ΔT")
    grown_mm = read(grows, "length", "mm").base / 1_000_000
    assert grown_mm == pytest.approx(0.0594)
    assert (round(grown_mm, 1), round(grown_mm, 2)) == (0.1, 0.06)  # a tenth only to one decimal


def test_a_bearing_is_heated_to_at_most_120_degrees() -> None:
    assert ceiling_for([]).cap_c == 120
    assert "no source" in ceiling_for([]).source


def test_the_fitter_is_told_that_demagnetising_takes_3_to_4_seconds() -> None:
    told = re.findall("[0-9]+", field_label("demagnetisation.cycle"))
    assert tuple(map(int, told)) == SAID_DEMAGNETISING_S


def test_a_cycle_waited_for_proves_no_field_gone_the_meter_does() -> None:
    book = sound(demagnetisation___cycle="done", demagnetisation___field=("2.6", "A/cm"))
    assert book.flags() == {"residual field": "nonconforming"}
    assert "demagnetising cycle" in sound(demagnetisation___cycle="left out").flags()


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
