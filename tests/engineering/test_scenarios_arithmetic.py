"""The arithmetic of the demonstration scenarios.

The scenarios are invented and so are their readings: this is the project's own arithmetic done twice, once
by hand when the scenarios were written and once by the models. It proves no model; `tests/published` does
that.
"""

import pytest

from qrecords.engineering.bearings import boundary_dimensions, internal_clearance
from qrecords.engineering.clearance import Spread, forecast, loss_factor
from qrecords.engineering.cooling import pressing_time
from qrecords.engineering.designation import parse_designation
from qrecords.engineering.fits import (
    clearance_raceway_mm,
    from_readings,
    outer_raceway_mm,
    stress_raceway_mm,
)
from qrecords.engineering.gap import TILTED, GapReading, seating, shoulder_radius_mm
from qrecords.engineering.growth import growth, ring_difference_allowed
from qrecords.engineering.limits import limits_of_size
from qrecords.engineering.measurement import at_20, roundness, taper
from qrecords.engineering.units import read, show


def planes(nominal_mm: float, *deviations_um: tuple[float, ...]) -> list[list[float]]:
    return [[nominal_mm + deviation / 1000 for deviation in plane] for plane in deviations_um]


@pytest.mark.parametrize(
    ("scenario", "d", "journal", "bore_um", "interference_um"),
    [
        (1, 100, ((36, 34, 35), (35, 34, 34), (33, 34, 33)), -8, 42),
        (4, 50, ((9, 8, 8), (8, 8, 7), (8, 8, 8)), -5, 13),
        (5, 90, ((22, 21, 21), (21, 20, 21), (21, 21, 21)), -9, 30),
        (6, 45, ((7, 7, 8), (7, 6, 7), (7, 7, 7)), -4, 11),
        (8, 75, ((15, 15, 16), (15, 14, 15), (15, 15, 15)), -7, 22),
        (11, 65, ((19, 19, 20), (19, 18, 19), (19, 19, 19)), -9, 28),
    ],
)
def test_mean_interference(
    scenario: int, d: int, journal: tuple[tuple[float, ...], ...], bore_um: float, interference_um: float
) -> None:
    fit = from_readings(planes(d, *journal), [[d + bore_um / 1000]], 0.6, 0.6)
    assert fit.mean.value == pytest.approx(interference_um, abs=0.5), scenario
    assert fit.local_min.value < fit.mean.value < fit.local_max.value


@pytest.mark.parametrize(
    ("scenario", "d", "ring_c", "shaft_c", "interference_um", "growth_um", "slip_um"),
    [
        (1, 100, 110, 19, 42, 109, 65),
        (4, 50, 98, 14, 13, 50, 36),
        (5, 90, 112, 22, 30, 97, 66),
        (6, 45, 76, 20, 10, 30, 19),
        (7, 70, 108.9, 20, 27, 75, 47),
        (10, 50, 92, 23, 12, 41, 28),
    ],
)
def test_growth_and_room_to_slide(
    scenario: int,
    d: int,
    ring_c: float,
    shaft_c: float,
    interference_um: float,
    growth_um: float,
    slip_um: float,
) -> None:
    grown = growth(d, ring_c - shaft_c).value
    assert grown == pytest.approx(growth_um, abs=0.6), scenario
    # The scenarios leave 1 to 2 µm for the local maximum over the mean.
    assert slip_um <= grown - interference_um <= slip_um + 2.3, scenario


def test_scenario_2_the_mean_looks_fine_and_one_end_is_under_the_limit() -> None:
    limits = limits_of_size(80, "k5")
    readings = [[80_011_000, 80_010_000, 80_011_000], [80_006_000, 80_005_000, 80_006_000],
                [79_995_000, 79_994_000, 79_995_000]]  # fmt: skip
    flat = [reading - 80_000_000 for plane in readings for reading in plane]
    assert (limits.lower_um, limits.upper_um) == (2, 15)
    assert limits.lower_nm < sum(flat) / 9 < limits.upper_nm
    assert min(flat) < limits.lower_nm
    assert round(taper(readings).difference_nm) == 16_000
    assert taper(readings).radial_nm == 8_000 > limits.it_um / 2 * 1000
    assert roundness(readings).radial_nm == 500


@pytest.mark.parametrize(
    ("scenario", "d", "outside", "g0_um", "interference_um", "forecast_um"),
    [
        (1, 100, 215, 118, 42, 84),
        (4, 50, 110, 27, 13, 16),
        (11, 65, 120, 14, 28, -10),
        (11, 65, 120, 35, 28, 11),
    ],
)
def test_forecast_clearance(
    scenario: int, d: int, outside: int, g0_um: float, interference_um: float, forecast_um: float
) -> None:
    # The scenarios were reckoned with rough raceway diameters (± 10 %) and without smoothing of the seat.
    found = forecast(
        Spread.of_reading(g0_um, 3.0),
        Spread.of_reading(interference_um, 0.9),
        d,
        loss_factor(d, outside),
        finish=None,
    )
    assert found.mean.value == pytest.approx(forecast_um, abs=0.1 * interference_um), scenario
    assert (found.p_below > 0.5) == (forecast_um < 0)


def test_scenario_4_needed_63_seconds_and_was_pressed_20() -> None:
    hold = pressing_time(50, stress_raceway_mm(50, 110), 13, 98, 14).hold
    assert round(hold.value) == 63


@pytest.mark.parametrize(
    ("scenario", "designation", "outside", "allowed_k"),
    [(1, "22320 C3", 215, 53), (4, "6310 C3", 110, 19), (11, "6213", 120, 7)],
)
def test_allowed_ring_difference_at_the_groups_minimum(
    scenario: int, designation: str, outside: int, allowed_k: float
) -> None:
    # The scenarios used the pitch diameter (D + d)/2, between the two raceways that bound the rule.
    bearing = parse_designation(designation)
    assert bearing.bore_mm is not None
    d = float(bearing.bore_mm)
    group = internal_clearance(bearing.kind, d, bearing.clearance_group)
    safe, clamped = ring_difference_allowed(
        group.min_um, clearance_raceway_mm(d, outside), outer_raceway_mm(d, outside)
    )
    assert safe.value < allowed_k < clamped.value, scenario
    (pitch, _same) = ring_difference_allowed(group.min_um, (d + outside) / 2, (d + outside) / 2)
    assert round(pitch.value) == allowed_k


def test_scenario_4_is_a_cocked_ring_and_no_burr() -> None:
    gaps = [GapReading(0, 0, 30), GapReading(90, 50), GapReading(180, 80), GapReading(270, 30)]
    assert seating(gaps, shoulder_radius_mm(50, 110), 30) == TILTED


def test_scenario_7_inch_readings() -> None:
    high, low, bore = (read(text, "length", "in").base for text in ("2.7567", "2.7566", "2.7556"))
    assert high - 70_000_000 == pytest.approx(20_200, abs=50)
    assert low - 70_000_000 == pytest.approx(17_600, abs=50)
    assert bore - 70_000_000 == pytest.approx(-7_800, abs=50)
    assert show(read("228", "temperature", "°F").base, "temperature", "°C", 1) == "108.9"
    assert show(read("0.0055", "length", "in").base, "length", "mm", 3) == "0.140"


def test_scenario_8_a_cold_shaft_reads_10_um_small() -> None:
    found = at_20(75.005, shaft_c=9, gauge_c=21)
    assert (found.value - 75.005) * 1000 == pytest.approx(10.4, abs=0.05)
    assert (found.value - 75) * 1000 == pytest.approx(15.4, abs=0.05)


def test_the_sizes_the_scenarios_use_are_in_the_table() -> None:
    for designation, outside in (("6310 C3", 110), ("6213", 120), ("6316 C3", 170), ("NU 318", 190)):
        assert boundary_dimensions(parse_designation(designation)).outside_mm == outside
