"""Interference and press fit beyond the published cases."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.bearings import bore_limits
from qrecords.engineering.errors import OutOfRangeError
from qrecords.engineering.fits import (
    from_bore_class,
    from_classes,
    from_readings,
    press_fit,
    share_outside,
    smoothed,
)
from qrecords.engineering.limits import limits_of_size


def test_a_measured_bore_gives_the_extremes_of_both_parts() -> None:
    fit = from_readings([[60.019, 60.021]], [[59.990, 59.992]], 1.5, 2.0)
    assert fit.local_max.value == pytest.approx(31)
    assert fit.local_min.value == pytest.approx(27)
    assert fit.mean.u == pytest.approx(2.5)


def test_a_bore_from_its_class_is_less_sure_and_says_so() -> None:
    fit = from_bore_class([[60.019, 60.021]], bore_limits(60, "Normal"), 1.5)
    assert (fit.mean.u or 0) > 1.5
    assert any("not measured" in assumption for assumption in fit.mean.assumptions)


def test_an_unconfirmed_bore_class_stays_unconfirmed_in_the_result() -> None:
    assert from_bore_class([[60.02]], bore_limits(60, "5"), 1.0).mean.unconfirmed
    assert not from_bore_class([[60.02]], bore_limits(60, "Normal"), 1.0).mean.unconfirmed


def test_at_its_own_mean_half_of_a_fit_lies_below() -> None:
    fit = from_readings([[60.02]], [[59.99]], 1.5, 2.0).mean
    outside = share_outside(fit, 30, 30)
    assert (outside.below.value, outside.above.value) == pytest.approx((0.5, 0.5))


def test_one_sixth_of_a_fit_lies_further_than_its_u() -> None:
    outside = share_outside(from_readings([[60.02]], [[59.99]], 1.5, 2.0).mean, 27.5, 32.5)
    assert (outside.below.value, outside.above.value) == pytest.approx((0.15866, 0.15866), abs=1e-5)


def test_without_a_spread_a_fit_is_inside_or_outside_of_its_limits() -> None:
    fit = from_readings([[60.02]], [[59.99]], 0, 0).mean
    assert [part.value for part in share_outside(fit, fit.value, fit.value)] == [0, 0]
    assert [part.value for part in share_outside(fit, fit.value + 1, fit.value + 2)] == [1, 0]


def test_a_fit_that_tells_no_u_has_no_share() -> None:
    fit = from_classes(limits_of_size(60, "m6"), bore_limits(60, "Normal")).mean
    with pytest.raises(OutOfRangeError) as told:
        share_outside(fit, 10, 40)
    assert told.value.field == "u of the fit"


def test_limits_the_wrong_way_round_are_refused_by_name() -> None:
    with pytest.raises(OutOfRangeError) as told:
        share_outside(from_readings([[60.02]], [[59.99]], 1.5, 2.0).mean, 30, 20)
    assert (told.value.field, told.value.low) == ("most allowed", 30)


@given(st.floats(20, 300), st.floats(1, 100), st.floats(1.1, 1.6))
def test_on_a_solid_shaft_of_the_same_steel_the_textbook_short_forms_hold(
    d: float, delta: float, ratio: float
) -> None:
    fit, k = press_fit(d, d * ratio, delta), 1 / ratio
    assert fit.pressure.value == pytest.approx(208_000 * delta / 1000 * (1 - k**2) / (2 * d))
    assert fit.hoop_bore.value == pytest.approx(208_000 * delta / 1000 * (1 + k**2) / (2 * d))
    assert fit.raceway_growth.value == pytest.approx(k * delta)


def test_a_long_shaft_presses_harder_than_the_model_and_a_hollow_one_still_more() -> None:
    solid, hollow = press_fit(60, 72.5, 30), press_fit(60, 72.5, 30, shaft_bore_mm=30)
    assert solid.hoop_with_allowance.value == pytest.approx(1.05 * solid.hoop_bore.value)
    assert hollow.hoop_with_allowance.value == pytest.approx(1.13 * hollow.hoop_bore.value)
    assert hollow.pressure.value < solid.pressure.value


def test_smoothing_takes_more_from_a_turned_seat() -> None:
    assert smoothed(30, 60, "turned").value < smoothed(30, 60, "ground").value < 30
