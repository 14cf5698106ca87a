"""Carrying and pressing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.cooling import (
    Ring,
    carry_drop,
    carry_time,
    equalised_c,
    mass_estimate,
    pressing_time,
    time_constant,
)
from qrecords.engineering.errors import OutsideValidityError

RING = Ring(60, 110, 22)


@given(st.floats(60, 150), st.floats(0, 35), st.floats(1, 600))
def test_carry_time_and_carry_drop_are_inverse(start_c: float, air_c: float, seconds: float) -> None:
    left_c = start_c - carry_drop(RING, start_c, air_c, seconds).value
    assert carry_time(RING, start_c, left_c, air_c).value == pytest.approx(seconds, rel=1e-6)


def test_a_weighed_ring_is_not_estimated() -> None:
    assert time_constant(Ring(60, 110, 22, 0.7456)).unconfirmed == ()
    assert time_constant(RING).unconfirmed
    assert mass_estimate(RING).u == pytest.approx(0.15 * mass_estimate(RING).value)


def test_a_ring_below_its_least_temperature_has_no_time_left() -> None:
    assert carry_time(RING, 80, 90, 20).value == 0


def test_a_ring_does_not_cool_below_the_air() -> None:
    with pytest.raises(OutsideValidityError):
        carry_time(RING, 80, 20, 20)


def test_equalised_temperature_lies_nearer_the_heavier_outer_ring() -> None:
    assert equalised_c(110, 90).value == pytest.approx(96)


@given(st.floats(15, 250), st.floats(2, 60), st.floats(60, 130), st.floats(0, 40))
def test_pressing_is_never_shorter_than_twice_the_grip_and_5_seconds(
    d: float, delta: float, ring_c: float, shaft_c: float
) -> None:
    found = pressing_time(d, 1.25 * d, delta, ring_c, shaft_c)
    assert found.grip.value >= 0
    assert found.hold.value == pytest.approx(2 * found.grip.value + 5)


@given(st.floats(30, 250), st.floats(5, 40), st.floats(1, 30))
def test_a_hotter_ring_is_pressed_longer(d: float, delta: float, hotter_k: float) -> None:
    cool, hot = (pressing_time(d, 1.25 * d, delta, t, 20).hold.value for t in (110, 110 + hotter_k))
    assert hot > cool or hot == 5


@pytest.mark.parametrize("interference_um", [0, -4])
def test_a_loose_ring_never_grips(interference_um: float) -> None:
    with pytest.raises(OutsideValidityError):
        pressing_time(60, 72.5, interference_um, 110, 20)
