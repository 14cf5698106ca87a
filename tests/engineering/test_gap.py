"""The shoulder gap: home, not home, cocked, or something in between."""

from math import cos, radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.errors import OutOfRangeError, OutsideValidityError
from qrecords.engineering.gap import (
    BAD_READING,
    IN_PLACES,
    NOT_SEATED,
    SEATED,
    TILTED,
    GapReading,
    plane,
    seating,
    shoulder_radius_mm,
    told,
)

ANGLES = (0, 90, 180, 270)


def bladed(*enters_um: float) -> list[GapReading]:
    """Blades in steps of 10 µm from 30; 0 means that 30 does not go in."""
    return [GapReading(a, g, 30 if g == 0 else g + 10) for a, g in zip(ANGLES, enters_um, strict=True)]


@pytest.mark.parametrize(
    ("enters_um", "verdict"),
    [
        ((0, 0, 0, 0), SEATED),
        ((50, 50, 50, 50), NOT_SEATED),
        ((0, 50, 80, 30), TILTED),
        ((0, 60, 0, 0), BAD_READING),
        ((50, 50, 120, 50), BAD_READING),
        ((30, 0, 0, 0), IN_PLACES),
    ],
)
def test_what_the_gaps_say(enters_um: tuple[float, ...], verdict: str) -> None:
    assert seating(bladed(*enters_um), 31, 30) == verdict


def test_a_blade_of_the_limit_itself_that_enters_is_not_seated() -> None:
    assert seating([GapReading(a, 30, 40) for a in ANGLES], 31, 30) == NOT_SEATED
    assert seating([GapReading(a, 20, 30) for a in ANGLES], 31, 30) == SEATED


def test_does_not_enter_counts_as_the_middle_of_its_interval() -> None:
    reading = GapReading(0, 0, 30)
    assert reading.value_um == 15
    assert reading.u_um == pytest.approx(30 / 12**0.5)


def test_three_readings_have_no_residual_to_check() -> None:
    found = plane([GapReading(a, g) for a, g in ((0, 30), (120, 40), (240, 50))], 31)
    assert found.residual_um is None and found.fits


@given(
    st.floats(0, 100), st.floats(0, 40), st.floats(0, 360), st.integers(4, 8), st.floats(10, 200)
)  # fmt: skip
def test_a_true_plane_is_found_again(
    mean: float, amplitude: float, at_deg: float, n: int, radius: float
) -> None:
    gaps = [
        GapReading(a, mean + amplitude + amplitude * cos(radians(a - at_deg)))
        for a in (i * 360 / n for i in range(n))
    ]
    found = plane(gaps, radius)
    assert found.mean_um == pytest.approx(mean + amplitude, abs=1e-6)
    assert found.tilt.value == pytest.approx(amplitude / radius, abs=1e-9)
    assert found.residual_um == pytest.approx(0, abs=1e-6)
    assert found.tilt.u == pytest.approx(3 * (2 / n) ** 0.5 / radius)


def test_the_shoulder_is_met_a_fifth_of_the_section_out() -> None:
    assert shoulder_radius_mm(50, 110) == 31


@pytest.mark.parametrize("angles", [(0, 90), (0, 0, 90), (0, 360, 90)])
def test_fewer_than_three_angles_make_no_plane(angles: tuple[float, ...]) -> None:
    with pytest.raises(OutsideValidityError):
        plane([GapReading(angle, 30) for angle in angles], 31)


@pytest.mark.parametrize(("enters", "stops"), [(-1, None), (50, 50), (50, 40)])
def test_a_blade_cannot_enter_and_stop(enters: float, stops: float | None) -> None:
    with pytest.raises(OutOfRangeError):
        GapReading(0, enters, stops)


def test_the_verdict_brings_the_numbers_that_say_it() -> None:
    cocked = told(bladed(0, 50, 80, 30), 31, 30)
    assert (cocked.kind, cocked.widest_um, cocked.limit_um, cocked.checked) == (TILTED, 80, 30, True)
    assert cocked.plane is not None and cocked.plane.tilt.value >= 2 * (cocked.plane.tilt.u or 0)
    burr = told(bladed(50, 50, 120, 50), 31, 30)
    assert burr.plane is not None and not burr.plane.fits
    assert (burr.plane.residual_um or 0) > 2 * (burr.plane.residual_u_um or 0)
    away = told(bladed(50, 50, 50, 50), 31, 30)
    assert away.plane is not None and away.plane.mean_um == 55 and not away.plane.tilted


def test_three_angles_tell_a_tilt_that_nothing_checks() -> None:
    found = told([GapReading(a, g, g + 10) for a, g in ((0, 30), (120, 60), (240, 90))], 31, 30)
    assert (found.kind, found.checked) == (TILTED, False)


def test_two_angles_that_no_blade_enters_are_seated_and_have_no_plane() -> None:
    found = told([GapReading(0, 0, 30), GapReading(180, 0, 30)], 31, 30)
    assert (found.kind, found.plane, found.checked) == (SEATED, None, False)


@pytest.mark.parametrize("n", [3, 4, 6, 8])
@given(st.floats(0, 360), st.floats(30, 200))
def test_how_the_angles_are_counted_turns_the_direction_and_nothing_else(
    n: int, turned: float, most: float
) -> None:
    def at(offset: float) -> list[GapReading]:
        return [
            GapReading((i * 360 / n + offset) % 360, most * (1 + cos(radians(i * 360 / n))) / 2)
            for i in range(n)
        ]

    straight, round_ = told(at(0), 31, 30), told(at(turned), 31, 30)
    assert straight.kind == round_.kind
    assert straight.plane is not None and round_.plane is not None
    assert round_.plane.tilt.value == pytest.approx(straight.plane.tilt.value)
    assert (round_.plane.widest_deg - turned + 180) % 360 == pytest.approx(180, abs=1e-6)


def test_nothing_felt_says_nothing() -> None:
    with pytest.raises(OutOfRangeError):
        told([], 31, 30)
