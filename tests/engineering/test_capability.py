"""Capability indices: never without interval and n."""

import math
import random
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.capability import Index, Limits, Spread, capability, cp, cpk, within
from qrecords.engineering.charts import xbar_r
from qrecords.engineering.errors import NoSpreadError, OutOfRangeError
from tests.engineering.groups import Groups, changed, subgroups

STEADY = [[10.0 + (3 * g + 2 * r) % 5 for r in range(5)] for g in range(24)]
LIMITS = Limits(0.0, 30.0)


def of(mean: float, sigma: float, n: int) -> Spread:
    return Spread(mean, sigma, n, n - 1, 1, "um", "all readings")


def indices(groups: Groups, limits: Limits) -> tuple[Index, Index, Index]:
    found = capability(groups, limits)
    assert found.cp is not None
    return found.cp, found.cpk, found.ppk


def test_every_number_that_can_be_printed_names_n_and_the_interval() -> None:
    for index in indices(STEADY, LIMITS):
        for result in (index.value, index.low, index.high):
            put_in = dict(result.put_in)
            assert put_in["n"] == "120"
            assert put_in["interval 95 %"] == f"{index.low.value:.2f}…{index.high.value:.2f}"


def test_fewer_than_25_subgroups_are_provisional_and_say_so() -> None:
    for index in indices(STEADY, LIMITS):
        assert index.provisional
        assert "provisional: 24 subgroups, 25 are enough" in index.value.assumptions
    for index in indices([*STEADY, STEADY[0]], LIMITS):
        assert not index.provisional
        assert not any("provisional" in words for words in index.value.assumptions)


def test_it_is_said_that_form_is_not_normal() -> None:
    assert any("ovality, taper" in words for words in indices(STEADY, LIMITS)[0].value.assumptions)


def test_an_interval_holds_the_true_cp_as_often_as_it_says() -> None:
    """2000 processes of Cp 1, ten subgroups of three: from ranges n − 1 would hold it in 88 of 100 only."""
    draw, held, as_if_from_readings = random.Random(1), 0, 0
    for _ in range(2000):
        groups = [[draw.gauss(0, 1) for _ in range(3)] for _ in range(10)]
        inside, limits = within(xbar_r(groups)), Limits(-3.0, 3.0)
        found, freer = cp(inside, limits), cp(replace(inside, degrees=29), limits)
        held += found.low.value < 1 < found.high.value
        as_if_from_readings += freer.low.value < 1 < freer.high.value
    assert held / 2000 == pytest.approx(0.95, abs=0.015)
    assert as_if_from_readings / 2000 < 0.90


def test_with_one_limit_there_is_no_cp() -> None:
    found = capability(STEADY, Limits(None, 30.0))
    assert found.cp is None
    assert found.cpk.value.value == pytest.approx(capability(STEADY, Limits(-1e6, 30.0)).cpk.value.value)
    with pytest.raises(OutOfRangeError):
        cp(of(1, 1, 9), Limits(None, 3.0))


def test_a_drift_lowers_ppk_and_not_cp() -> None:
    drifting = [[value + 0.5 * number for value in group] for number, group in enumerate(STEADY)]
    (steady_cp, _, _), (drifting_cp, _, drifting_ppk) = indices(STEADY, LIMITS), indices(drifting, LIMITS)
    assert drifting_cp.value.value == pytest.approx(steady_cp.value.value)
    assert drifting_ppk.value.value < drifting_cp.value.value / 2


@given(subgroups(), st.sampled_from([1e-3, 1e3, 25.4]), st.floats(-1e3, 1e3))
def test_an_index_does_not_depend_on_unit_or_nominal(groups: Groups, factor: float, shift: float) -> None:
    there = Limits(-60 * factor + shift, 60 * factor + shift, "in")
    for mine, other in zip(
        indices(groups, Limits(-60.0, 60.0)), indices(changed(groups, factor, shift), there), strict=True
    ):
        # Of a mm beside a shift of a thousand, a float keeps twelve digits of the spread.
        assert other.value.value == pytest.approx(mine.value.value, rel=1e-6, abs=1e-6)
        assert other.low.value == pytest.approx(mine.low.value, rel=1e-6, abs=1e-6)


@given(subgroups())
def test_turning_the_sign_turns_nothing_between_even_limits(groups: Groups) -> None:
    limits = Limits(-60.0, 60.0)
    for mine, other in zip(indices(groups, limits), indices(changed(groups, -1.0), limits), strict=True):
        assert other.value.value == pytest.approx(mine.value.value, rel=1e-9, abs=1e-12)


@given(subgroups())
def test_cpk_is_never_above_cp(groups: Groups) -> None:
    of_cp, of_cpk, _ = indices(groups, Limits(-60.0, 60.0))
    assert of_cpk.value.value <= of_cp.value.value * (1 + 1e-12)


@given(st.floats(-20, 20), st.floats(0.1, 10), st.integers(2, 1000), st.integers(1, 1000))
def test_more_readings_make_a_narrower_interval_about_the_same_value(
    mean: float, sigma: float, n: int, more: int
) -> None:
    for index in (cp, cpk):
        few, many = index(of(mean, sigma, n), LIMITS), index(of(mean, sigma, n + more), LIMITS)
        assert few.value.value == many.value.value
        assert many.high.value - many.low.value < few.high.value - few.low.value
        assert few.low.value < few.value.value < few.high.value or n == 2


@given(st.floats(0.1, 10), st.floats(1.01, 5), st.floats(-20, 20))
def test_more_spread_never_raises_cp(sigma: float, factor: float, mean: float) -> None:
    assert cp(of(mean, sigma * factor, 50), LIMITS).value.value < cp(of(mean, sigma, 50), LIMITS).value.value


@given(st.floats(0.51, 0.99), st.floats(0.001, 0.0099))
def test_more_confidence_makes_a_wider_interval(confidence: float, more: float) -> None:
    for index in (cp, cpk):
        loose = index(of(12, 3, 40), LIMITS, confidence)
        strict = index(of(12, 3, 40), LIMITS, confidence + more)
        assert strict.low.value < loose.low.value < loose.high.value < strict.high.value


@pytest.mark.parametrize(
    ("lower", "upper", "field"),
    [
        (30.0, 0.0, "lower limit"),
        (5.0, 5.0, "lower limit"),
        (None, None, "number of limits"),
        (math.nan, 5.0, "limit"),
        (0.0, math.inf, "limit"),
    ],
)
def test_limits_that_are_none_are_refused_by_name(
    lower: float | None, upper: float | None, field: str
) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        Limits(lower, upper)
    assert refused.value.field == field
    assert {"value", "unit", "low", "high"} <= set(refused.value.facts)


@pytest.mark.parametrize(
    ("mean", "sigma", "n", "field"),
    [
        (math.nan, 1, 5, "mean"),
        (0, 0, 5, "standard deviation"),
        (0, math.inf, 5, "standard deviation"),
        (0, 1, 1, "number of readings"),
    ],
)
def test_a_spread_that_is_none_is_refused_by_name(mean: float, sigma: float, n: int, field: str) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        of(mean, sigma, n)
    assert refused.value.field == field


@pytest.mark.parametrize("confidence", [0, 1, math.nan])
def test_no_confidence_at_all_and_complete_confidence_are_refused(confidence: float) -> None:
    with pytest.raises(OutOfRangeError, match="confidence"):
        capability(STEADY, LIMITS, confidence)


def test_readings_all_the_same_say_nothing_of_capability() -> None:
    with pytest.raises(NoSpreadError, match="nothing can be said of the spread"):
        capability([[5.0, 5.0], [5.0, 5.0]], LIMITS)
