"""What a fit loses at work."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.fits import press_fit
from qrecords.engineering.service import left_in_service, loss_by_speed, loss_by_warmth

BORES, WALLS, SPEEDS = st.floats(10, 400), st.floats(1.1, 1.6), st.floats(1, 20_000)


def test_a_ring_of_60_loses_7_micrometres_to_10_kelvin() -> None:
    assert loss_by_warmth(60, 10).value == pytest.approx(7.2)


def test_a_ring_of_60_loses_one_micrometre_at_6000_a_minute() -> None:
    assert loss_by_speed(60, 72.5, 6000).value == pytest.approx(0.96, abs=0.005)


@given(BORES, st.floats(-50, 50))
def test_a_cooler_ring_grips_by_as_much_as_a_warmer_one_loses(bore: float, warmer_k: float) -> None:
    assert loss_by_warmth(bore, warmer_k).value == -loss_by_warmth(bore, -warmer_k).value


@given(BORES, WALLS, SPEEDS, st.floats(1.1, 4))
def test_speed_takes_by_its_square_and_size_by_its_cube(
    bore: float, wall: float, speed: float, times: float
) -> None:
    slow = loss_by_speed(bore, bore * wall, speed).value
    assert loss_by_speed(bore, bore * wall, speed * times).value == pytest.approx(slow * times**2)
    large = loss_by_speed(bore * times, bore * wall * times, speed).value
    assert large == pytest.approx(slow * times**3)


@given(BORES, WALLS, SPEEDS, st.floats(0.05, 0.95))
def test_a_hollow_shaft_follows_its_ring_and_loses_less(
    bore: float, wall: float, speed: float, hollow: float
) -> None:
    solid = loss_by_speed(bore, bore * wall, speed).value
    assert 0 < loss_by_speed(bore, bore * wall, speed, bore * hollow).value < solid


def test_what_is_left_may_be_nothing() -> None:
    found = left_in_service(6, loss_by_warmth(60, 10), loss_by_speed(60, 72.5, 6000))
    assert found.value == pytest.approx(6 - 7.2 - 0.96, abs=0.01)
    assert any("α" in doubt for doubt in found.unconfirmed)


def test_what_is_left_without_a_loss_is_the_whole() -> None:
    assert left_in_service(30).value == 30


@given(st.floats(20, 300), st.floats(1.12, 1.6), st.floats(1, 80), st.floats(0, 0.9), st.floats(1.01, 3))
def test_pressure_and_stress_go_with_the_interference_and_with_no_unit(
    bore: float, wall: float, delta: float, hollow: float, times: float
) -> None:
    one = press_fit(bore, bore * wall, delta, bore * hollow)
    more = press_fit(bore, bore * wall, delta * times, bore * hollow)
    scaled = press_fit(bore * times, bore * wall * times, delta * times, bore * hollow * times)
    for name in ("pressure", "hoop_bore", "equivalent_bore", "hoop_raceway"):
        value = getattr(one, name).value
        assert getattr(more, name).value == pytest.approx(times * value)
        assert getattr(scaled, name).value == pytest.approx(value)
    assert one.hoop_bore.value < one.equivalent_bore.value < one.hoop_bore.value + one.pressure.value


@given(st.floats(20, 300), st.floats(1.12, 1.6), st.floats(0.05, 0.85), st.floats(0.01, 0.1))
def test_the_larger_the_shafts_bore_the_less_it_presses(
    bore: float, wall: float, hollow: float, larger: float
) -> None:
    thick, thin = (press_fit(bore, bore * wall, 30, bore * h) for h in (hollow, hollow + larger))
    assert thin.pressure.value < thick.pressure.value
    assert thin.raceway_growth.value < thick.raceway_growth.value
