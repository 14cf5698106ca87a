"""Probabilities and quantiles against scipy, and against each other."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from qrecords.engineering.distributions import (
    chi2_below,
    chi2_quantile,
    f_above,
    normal_quantile,
    t_above,
    t_quantile,
)
from qrecords.engineering.errors import OutOfRangeError

DEGREES = st.one_of(st.integers(1, 2000), st.floats(0.5, 2000))
PROBABILITIES = st.floats(1e-6, 1 - 1e-6)


@given(PROBABILITIES, DEGREES)
def test_chi_square_quantiles_are_those_of_scipy(probability: float, degrees: float) -> None:
    assert chi2_quantile(probability, degrees) == pytest.approx(
        stats.chi2.ppf(probability, degrees), rel=1e-8
    )


@given(st.floats(1e-3, 1e3), st.integers(1, 300), st.integers(1, 300))
def test_p_values_of_f_are_those_of_scipy(ratio: float, upper: int, lower: int) -> None:
    assert f_above(ratio, upper, lower) == pytest.approx(stats.f.sf(ratio, upper, lower), rel=1e-8, abs=1e-13)


@given(st.floats(0.5, 1 - 1e-6), DEGREES)
def test_students_quantiles_are_those_of_scipy(probability: float, degrees: float) -> None:
    assert t_quantile(probability, degrees) == pytest.approx(
        stats.t.ppf(probability, degrees), rel=1e-7, abs=1e-9
    )


@given(PROBABILITIES)
def test_normal_quantiles_are_those_of_scipy(probability: float) -> None:
    assert normal_quantile(probability) == pytest.approx(stats.norm.ppf(probability), rel=1e-9, abs=1e-12)


@given(PROBABILITIES, DEGREES)
def test_a_quantile_is_where_its_probability_lies(probability: float, degrees: float) -> None:
    assert chi2_below(chi2_quantile(probability, degrees), degrees) == pytest.approx(probability, rel=1e-9)


@given(st.floats(0, 1e3), st.floats(1e-3, 10), st.integers(1, 50), st.integers(1, 50))
def test_a_larger_ratio_is_never_likelier_by_chance(
    ratio: float, more: float, upper: int, lower: int
) -> None:
    assert f_above(ratio + more, upper, lower) <= f_above(ratio, upper, lower) + 1e-14


@given(st.floats(0.01, 100), st.integers(1, 200))
def test_f_on_one_degree_is_students_t_squared(t: float, degrees: int) -> None:
    assert f_above(t * t, 1, degrees) == pytest.approx(2 * t_above(t, degrees), rel=1e-9)


def test_a_sum_of_two_squares_is_exponential() -> None:
    assert chi2_quantile(0.95, 2) == pytest.approx(-2 * math.log(0.05), rel=1e-12)


@pytest.mark.parametrize("probability", [0, 1, -0.1, 1.5, math.nan, math.inf])
def test_what_is_no_probability_is_refused_by_name(probability: float) -> None:
    for quantile in (normal_quantile, lambda p: chi2_quantile(p, 5), lambda p: t_quantile(p, 5)):
        with pytest.raises(OutOfRangeError) as refused:
            quantile(probability)
        assert refused.value.field == "probability"


@pytest.mark.parametrize("degrees", [0, -1, math.nan, math.inf])
def test_no_degrees_of_freedom_are_refused_by_name(degrees: float) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        chi2_quantile(0.5, degrees)
    assert refused.value.field == "degrees of freedom"
