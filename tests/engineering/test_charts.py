"""X̄-R charts: limits, points out, and what cannot be charted."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.charts import XbarR, xbar_r
from qrecords.engineering.errors import NoSpreadError, OutOfRangeError
from tests.engineering.groups import Groups, changed, subgroups

STEADY = [[10.0 + (3 * g + 2 * r) % 5 for r in range(5)] for g in range(24)]


def limits(chart: XbarR) -> tuple[float, ...]:
    results = (
        chart.mean_lower,
        chart.mean,
        chart.mean_upper,
        chart.range_lower,
        chart.mean_range,
        chart.range_upper,
    )
    return tuple(result.value for result in results)


def test_a_subgroup_that_moved_is_told_by_its_number() -> None:
    moved = [*STEADY[:6], [value + 9 for value in STEADY[6]], *STEADY[7:]]
    assert xbar_r(moved).means_out == (6,)
    assert xbar_r(moved).ranges_out == ()


def test_a_subgroup_that_scattered_is_told_by_its_number() -> None:
    wild = [*STEADY[:3], [2.0, 22.0, 12.0, 12.0, 12.0], *STEADY[4:]]
    assert xbar_r(wild).ranges_out == (3,)


def test_a_point_on_its_limit_is_inside() -> None:
    still = xbar_r([*STEADY[:3], [12.0] * 5, *STEADY[4:]])
    assert (still.ranges[3], still.range_lower.value, still.ranges_out) == (0, 0, ())
    upper = replace(still.mean_upper, value=max(still.means))
    assert still._replace(mean_upper=upper).means_out == ()


def test_fewer_than_25_subgroups_are_provisional() -> None:
    assert xbar_r(STEADY).provisional
    assert not xbar_r([*STEADY, STEADY[0]]).provisional


@given(subgroups(), st.sampled_from([1e-3, 1e3, 25.4, 1 / 25.4]), st.floats(-1e3, 1e3))
def test_limits_do_not_depend_on_unit_or_nominal(groups: Groups, factor: float, shift: float) -> None:
    here, there = xbar_r(groups), xbar_r(changed(groups, factor, shift), "in")
    scale = max(1.0, abs(shift), *(abs(v) for group in groups for v in group)) * max(1.0, factor)
    for number, (mine, other) in enumerate(zip(limits(here), limits(there), strict=True)):
        wanted = mine * factor + (shift if number < 3 else 0)
        assert other == pytest.approx(wanted, rel=1e-9, abs=1e-11 * scale)


@given(subgroups())
def test_turning_the_sign_turns_the_chart_of_means_over(groups: Groups) -> None:
    here, there = xbar_r(groups), xbar_r(changed(groups, -1.0))
    assert there.mean_lower.value == pytest.approx(-here.mean_upper.value, abs=1e-9)
    assert there.range_upper.value == pytest.approx(here.range_upper.value, abs=1e-9)


@given(subgroups(), st.randoms(use_true_random=False))
def test_the_order_of_subgroups_moves_no_limit(groups: Groups, chance: "object") -> None:
    mixed = list(groups)
    chance.shuffle(mixed)  # type: ignore[attr-defined]
    assert limits(xbar_r(mixed)) == pytest.approx(limits(xbar_r(groups)), abs=1e-9)


@given(subgroups(), st.floats(1.01, 10))
def test_wider_ranges_never_make_narrower_limits(groups: Groups, factor: float) -> None:
    spread = [[sum(g) / len(g) + factor * (v - sum(g) / len(g)) for v in g] for g in groups]
    here, there = xbar_r(groups), xbar_r(spread)
    assert there.mean_upper.value - there.mean_lower.value > here.mean_upper.value - here.mean_lower.value


@pytest.mark.parametrize(
    ("groups", "field"),
    [
        ([], "number of subgroups"),
        ([[1.0, 2.0]], "number of subgroups"),
        ([[1.0], [2.0]], "number of readings in subgroup 1"),
        ([[1.0] * 11, [2.0] * 11], "number of readings in subgroup 1"),
        ([[1.0, 2.0], [1.0, 2.0, 3.0]], "number of readings in subgroup 2"),
        ([[1.0, 2.0], [1.0, math.nan]], "reading in subgroup 2"),
        ([[1.0, math.inf], [1.0, 2.0]], "reading in subgroup 1"),
        ([[1.0, -math.inf], [1.0, 2.0]], "reading in subgroup 1"),
    ],
)
def test_what_cannot_be_charted_is_refused_by_name(groups: Groups, field: str) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        xbar_r(groups)
    assert refused.value.field == field
    assert {"value", "unit", "low", "high"} <= set(refused.value.facts)


@pytest.mark.parametrize("groups", [[[7.0, 7.0], [7.0, 7.0]], [[7.0, 7.0], [8.0, 8.0]]])
def test_readings_without_spread_say_nothing_of_it(groups: Groups) -> None:
    with pytest.raises(NoSpreadError, match="nothing can be said of the spread") as refused:
        xbar_r(groups)
    assert {"field", "value", "unit", "low", "high"} <= set(refused.value.facts)
