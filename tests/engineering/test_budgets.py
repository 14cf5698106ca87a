"""Uncertainty budgets: parts with their distributions, u_c, degrees of freedom, U."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.budgets import Component, Distribution, combine, of_diameter
from qrecords.engineering.errors import OutOfRangeError

VALUES = st.lists(st.floats(0.001, 1000), min_size=1, max_size=6)


def parts(values: list[float], degrees: float | None = None) -> list[Component]:
    return [Component(f"part {number}", value, degrees=degrees) for number, value in enumerate(values)]


@pytest.mark.parametrize(
    ("distribution", "divisor"),
    [
        (Distribution.NORMAL, 2.0),
        (Distribution.RECTANGULAR, math.sqrt(3)),
        (Distribution.TRIANGULAR, math.sqrt(6)),
        (Distribution.U_SHAPED, math.sqrt(2)),
    ],
)
def test_each_distribution_has_its_divisor(distribution: Distribution, divisor: float) -> None:
    assert Component("part", 6.0, distribution).u == pytest.approx(6 / divisor)


def test_a_certificate_of_another_k_states_it() -> None:
    assert Component("calibration", 75.0, Distribution.NORMAL, divisor=3).u == 25


def test_a_budget_names_what_every_part_is_made_of() -> None:
    part = Component("temperature", 1.5, Distribution.RECTANGULAR, sensitivity=0.69, unit="K")
    (put_in,) = combine([part]).combined.put_in
    assert put_in == ("temperature", "0.597558 um of 1.5 K, rectangular, divisor 1.73205, c 0.69")


def test_a_sensitivity_has_no_sign_in_a_budget() -> None:
    assert Component("temperature", 2.0, sensitivity=-3.0).u == 6


def test_without_degrees_of_freedom_k_is_2_and_said_to_be() -> None:
    found = combine(parts([3.0, 4.0]))
    assert (found.combined.value, found.degrees, found.expanded.value) == (5.0, None, 10.0)
    assert ("k", "2") in found.expanded.put_in


def test_few_degrees_of_freedom_make_a_larger_k() -> None:
    found = combine(parts([1.0], degrees=2))
    assert found.expanded.value == pytest.approx(4.303, abs=5e-4)  # t of 95 % on 2, JCGM 100 table G.2


@given(VALUES, st.integers(1, 100))
def test_degrees_of_freedom_lie_between_the_fewest_and_the_sum(values: list[float], degrees: int) -> None:
    found = combine(parts(values, degrees)).degrees
    assert found is not None
    assert degrees * (1 - 1e-9) <= found.value <= degrees * len(values) * (1 + 1e-9)


@given(VALUES, st.sampled_from([1e-3, 1e3, 25.4]))
def test_a_budget_scales_with_its_unit(values: list[float], factor: float) -> None:
    here, there = combine(parts(values, 9)), combine(parts([v * factor for v in values], 9), "nm")
    assert there.expanded.value == pytest.approx(here.expanded.value * factor)
    assert here.degrees is not None and there.degrees is not None
    assert there.degrees.value == pytest.approx(here.degrees.value)


@given(VALUES)
def test_the_order_of_parts_changes_nothing(values: list[float]) -> None:
    assert combine(parts(values[::-1])).combined.value == pytest.approx(combine(parts(values)).combined.value)


@given(VALUES, st.floats(0.001, 1000))
def test_one_more_part_never_lowers_the_uncertainty(values: list[float], more: float) -> None:
    assert combine(parts([*values, more])).combined.value >= combine(parts(values)).combined.value


@given(VALUES, st.integers(1, 50), st.floats(0.5, 0.98))
def test_more_probability_makes_a_larger_u(values: list[float], degrees: int, probability: float) -> None:
    less, more = (combine(parts(values, degrees), probability=p) for p in (probability, probability + 0.01))
    assert more.expanded.value > less.expanded.value


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"value": -1.0}, "part"),
        ({"value": math.nan}, "part"),
        ({"value": math.inf}, "part"),
        ({"value": 1.0, "divisor": 0.0}, "divisor of part"),
        ({"value": 1.0, "sensitivity": math.nan}, "sensitivity of part"),
        ({"value": 1.0, "degrees": 0.5}, "degrees of part"),
        ({"value": 1.0, "degrees": math.nan}, "degrees of part"),
    ],
)
def test_a_part_that_means_nothing_is_refused_by_name(wrong: dict[str, object], field: str) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        Component("part", **wrong)  # type: ignore[arg-type]
    assert refused.value.field == field


@pytest.mark.parametrize(
    ("components", "field"),
    [
        ([], "number of components"),
        ([Component("a", 1.0), Component("a", 2.0)], "number of components called a"),
        ([Component("a", 0.0)], "combined uncertainty"),
    ],
)
def test_a_budget_that_says_nothing_is_refused_by_name(components: list[Component], field: str) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        combine(components)
    assert refused.value.field == field


def test_repeats_shrink_the_repeatability_part_alone() -> None:
    one, three = (
        {part.name: part.u for part in of_diameter(60, 1, 1.5, 1.5, 5, 1e-6, 0.8, n, 0.6).components}
        for n in (1, 3)
    )
    assert {name for name in one if one[name] != three[name]} == {"repeatability"}
    assert three["repeatability"] == pytest.approx(0.8 / math.sqrt(3))
