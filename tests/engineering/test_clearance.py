"""Residual clearance: measured or by group, and the chance that none is left."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.clearance import Spread, forecast, loss_factor

DELTA = Spread.of_reading(28, 0.9, 26, 30)


def test_a_hollow_shaft_costs_less_clearance_and_is_less_sure() -> None:
    solid, hollow = loss_factor(60, 110), loss_factor(60, 110, 42)
    assert solid.value == pytest.approx(0.857, abs=5e-4)
    assert hollow.value == pytest.approx(0.683, abs=5e-4)
    assert (solid.u, hollow.u) == (0.02, 0.03)


def test_a_known_raceway_replaces_the_equivalent_one() -> None:
    assert loss_factor(90, 190, raceway_mm=113.5).value == pytest.approx(90 / 113.5)


def test_the_loss_factor_of_a_thin_ring_says_that_nothing_bears_it_out() -> None:
    assert any("thin" in doubt for doubt in loss_factor(100, 125).unconfirmed)
    assert not any("thin" in doubt for doubt in loss_factor(60, 110).unconfirmed)


def test_measured_clearance_makes_a_sharper_forecast_than_the_group() -> None:
    measured = forecast(Spread.of_reading(33, 3), DELTA, 65, loss_factor(65, 120))
    group = forecast(Spread.of_limits(23, 43), DELTA, 65, loss_factor(65, 120))
    assert measured.mean.value == pytest.approx(group.mean.value)
    assert (measured.mean.u or 0) < (group.mean.u or 0)
    assert measured.worst_low_um > group.worst_low_um


def test_the_uncertainty_of_a_measured_forecast_holds_the_clearance_the_fit_and_the_loss_factor() -> None:
    factor = loss_factor(60, 110)
    found = forecast(Spread.of_reading(33, 3), DELTA, 60, factor, finish=None)
    assert found.mean.u == pytest.approx((3**2 + (factor.value * 0.9) ** 2 + (0.02 * 28) ** 2) ** 0.5)


def test_the_normal_assumption_is_declared_where_something_is_from_its_class() -> None:
    by_group = forecast(Spread.of_limits(23, 43), DELTA, 65, loss_factor(65, 120))
    assert any("normal" in assumption for assumption in by_group.mean.assumptions)
    measured = forecast(Spread.of_reading(33, 3), DELTA, 65, loss_factor(65, 120))
    assert not any("normal" in assumption for assumption in measured.mean.assumptions)


def test_normal_clearance_with_a_tight_fit_is_more_likely_gone_than_not() -> None:
    found = forecast(Spread.of_reading(14, 2), DELTA, 65, loss_factor(65, 120))
    assert found.mean.value < 0 and found.p_below > 0.95


def test_the_chance_is_against_the_drawings_minimum_where_it_has_one() -> None:
    spread = Spread.of_reading(35, 2)
    zero = forecast(spread, DELTA, 65, loss_factor(65, 120))
    ten = forecast(spread, DELTA, 65, loss_factor(65, 120), minimum_um=10)
    assert ten.p_below > zero.p_below


def test_an_inner_ring_warmer_than_the_outer_takes_clearance() -> None:
    cold = forecast(Spread.of_reading(35, 2), DELTA, 60, loss_factor(60, 110))
    warm = forecast(
        Spread.of_reading(35, 2), DELTA, 60, loss_factor(60, 110), ring_difference_k=10, outer_raceway_mm=100
    )
    assert cold.mean.value - warm.mean.value == pytest.approx(12)


@given(st.floats(0, 100), st.floats(1, 60), st.floats(20, 300))
def test_the_mean_lies_between_the_worst_ends(g0: float, delta: float, d: float) -> None:
    found = forecast(
        Spread.of_limits(g0, g0 + 20),
        Spread.of_class_fit((delta, delta + 19), (-15, 0)),
        d,
        loss_factor(d, 2 * d),
    )
    assert found.worst_low_um < found.mean.value < found.worst_high_um
    assert found.worst_low_um < found.probable_low_um < found.probable_high_um < found.worst_high_um
    assert 0 <= found.p_below <= 1
