"""Crossed gauge studies: components that add, negatives that are 0, and what says nothing of the gauge."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.anova import crossed, one_way
from qrecords.engineering.errors import NoSpreadError, OutOfRangeError
from qrecords.engineering.gauge_study import GaugeStudy, Terms, by_anova, by_ranges
from tests.engineering.groups import Study, changed_study, studies, subgroups

METHODS = pytest.mark.parametrize("method", [by_anova, by_ranges], ids=["anova", "ranges"])
# Part 1 reads 0, part 2 reads 10 and operator B adds 4; repeats differ by 1.
PLAIN = [[[0.0, 1.0], [10.0, 11.0]], [[4.0, 5.0], [14.0, 15.0]]]
# Each operator reads the other part higher: nothing but interaction.
CROSSWISE = [[[0.0, 1.0], [10.0, 11.0]], [[10.0, 11.0], [0.0, 1.0]]]


def variances(found: GaugeStudy) -> list[float]:
    shares = (found.repeatability, found.reproducibility, found.gauge, found.parts, found.total)
    return [share.sigma.value**2 for share in shares]


def same(found: GaugeStudy, other: GaugeStudy, factor: float = 1.0) -> bool:
    """Compared as variances, to a millionth of the whole: the root of a float's dust is no longer dust."""
    wanted = [variance * factor**2 for variance in variances(other)]
    return variances(found) == pytest.approx(wanted, rel=1e-6, abs=1e-6 * wanted[-1])


def test_components_by_hand() -> None:
    found = by_anova(PLAIN)
    # Squares: operators 32, parts 200, interaction 0, repeats 2; pooled repeats 2 on 5.
    assert found.pooled is True
    assert found.repeatability.sigma.value**2 == pytest.approx(2 / 5)
    assert found.reproducibility.sigma.value**2 == pytest.approx((32 - 0.4) / 4)
    assert found.parts.sigma.value**2 == pytest.approx((200 - 0.4) / 4)


def test_an_interaction_that_stands_out_belongs_to_the_gauge_and_negative_variances_are_0() -> None:
    found = by_anova(CROSSWISE)
    # Squares: interaction 200 on 1, repeats 2 on 4; operators and parts 0, their variances (0 − 200)/4.
    assert found.pooled is False
    assert found.reproducibility.sigma.value**2 == pytest.approx((200 - 0.5) / 2)
    assert found.parts.sigma.value == 0
    assert found.categories.value == 0
    assert found.gauge.of_variance.value == pytest.approx(100)


def test_alpha_decides_whether_the_interaction_is_pooled_and_is_told() -> None:
    slight = [[[0.0, 1.0], [10.0, 11.0]], [[4.0, 5.0], [15.0, 16.0]]]  # F = 1 on 1 and 4: p 0.374
    assert by_anova(slight, alpha=0.05).pooled is True
    apart = by_anova(slight, alpha=0.5)
    assert apart.pooled is False
    assert dict(apart.repeatability.sigma.put_in)["α"] == "0.5"


@METHODS
@pytest.mark.parametrize("width", [5.15, 6.0])
def test_the_width_and_the_share_of_the_tolerance_name_their_k(method: object, width: float) -> None:
    found = method(PLAIN, Terms(width=width, tolerance=20.0))  # type: ignore[operator]
    assert found.gauge.width.value == pytest.approx(width * found.gauge.sigma.value)
    assert found.of_tolerance.value == pytest.approx(100 * width * found.gauge.sigma.value / 20)
    assert dict(found.of_tolerance.put_in)["k"] == dict(found.gauge.width.put_in)["k"] == f"{width:g}"


def test_no_tolerance_no_share_of_it() -> None:
    assert by_anova(PLAIN).of_tolerance is None


@METHODS
def test_shares_of_sigma_say_that_they_do_not_add(method: object) -> None:
    found = method(PLAIN)  # type: ignore[operator]
    assert any("do not add" in words for words in found.gauge.of_sigma.assumptions)
    assert found.gauge.of_sigma.value + found.parts.of_sigma.value > 100.0


def test_the_range_method_says_that_it_sees_no_interaction() -> None:
    assert any("ranges cannot see it" in words for words in by_ranges(PLAIN).gauge.sigma.assumptions)
    assert by_ranges(PLAIN).pooled is None


@METHODS
@given(study=studies())
def test_shares_of_the_variance_add_up_to_a_hundred(method: object, study: Study) -> None:
    found = method(study)  # type: ignore[operator]
    assert found.gauge.of_variance.value + found.parts.of_variance.value == pytest.approx(100)
    assert found.repeatability.of_variance.value + found.reproducibility.of_variance.value == pytest.approx(
        found.gauge.of_variance.value
    )


@METHODS
@given(study=studies(), factor=st.sampled_from([1e-3, 1e3, 25.4]), shift=st.integers(-1000, 1000))
def test_components_scale_with_the_unit_and_do_not_know_the_nominal(
    method: object, study: Study, factor: float, shift: int
) -> None:
    here, there = method(study), method(changed_study(study, factor, float(shift)), Terms("in"))  # type: ignore[operator]
    assert same(there, here, factor)


@METHODS
@given(study=studies(), chance=st.randoms(use_true_random=False))
def test_whoever_is_named_first_changes_nothing(method: object, study: Study, chance: object) -> None:
    order = list(range(len(study[0])))
    chance.shuffle(order)  # type: ignore[attr-defined]
    mixed = [[row[number] for number in order] for row in reversed(study)]
    assert same(method(mixed), method(study))  # type: ignore[operator]


@given(study=studies())
def test_turning_the_sign_turns_nothing(study: Study) -> None:
    assert same(by_anova(changed_study(study, -1.0)), by_anova(study))


@given(study=studies())
def test_the_squares_of_all_causes_add_up_to_those_of_all_readings(study: Study) -> None:
    table, every = crossed(study), [value for row in study for cell in row for value in cell]
    middle = sum(every) / len(every)
    total = sum((value - middle) ** 2 for value in every)
    sources = (table.operators, table.parts, table.interaction, table.repeats)
    assert sum(source.sum_of_squares for source in sources) == pytest.approx(total, rel=1e-9)
    assert sum(source.degrees for source in sources) == len(every) - 1


@given(study=studies(), lift=st.floats(1, 100))
def test_parts_further_apart_never_lower_the_categories(study: Study, lift: float) -> None:
    wider = [[[v + lift * part for v in cell] for part, cell in enumerate(row)] for row in ordered(study)]
    assert by_ranges(wider).categories.value >= by_ranges(ordered(study)).categories.value


def ordered(study: Study) -> Study:
    """Parts from the smallest to the largest mean, so that a lift of the later ones draws them apart."""
    parts = range(len(study[0]))
    order = sorted(parts, key=lambda part: sum(sum(row[part]) for row in study))
    return [[row[part] for part in order] for row in study]


@METHODS
@pytest.mark.parametrize(
    ("study", "field"),
    [
        ([], "number of operators"),
        (PLAIN[:1], "number of operators"),
        ([row[:1] for row in PLAIN], "number of parts of operator 1"),
        ([[cell[:1] for cell in row] for row in PLAIN], "number of trials of operator 1 on part 1"),
        ([PLAIN[0], PLAIN[1][:1]], "number of parts of operator 2"),
        ([PLAIN[0], [PLAIN[1][0], [14.0]]], "number of trials of operator 2 on part 2"),
        ([PLAIN[0], [PLAIN[1][0], [14.0, math.nan]]], "reading of operator 2 on part 2"),
        ([PLAIN[0], [[math.inf, 5.0], PLAIN[1][1]]], "reading of operator 2 on part 1"),
    ],
)
def test_what_is_no_study_is_refused_by_name(method: object, study: Study, field: str) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        method(study)  # type: ignore[operator]
    assert refused.value.field == field


@METHODS
@pytest.mark.parametrize("second", [0.0, 10.0], ids=["all the same", "repeats the same"])
def test_readings_without_spread_say_nothing_of_the_gauge(method: object, second: float) -> None:
    same = [[[0.0, 0.0], [second, second]], [[0.0, 0.0], [second, second]]]
    with pytest.raises(NoSpreadError, match="nothing can be said of the spread"):
        method(same)  # type: ignore[operator]


@pytest.mark.parametrize(("width", "tolerance"), [(4.0, None), (6.0, 0.0), (6.0, math.nan), (6.0, -3.0)])
def test_terms_that_mean_nothing_are_refused(width: float, tolerance: float | None) -> None:
    with pytest.raises(OutOfRangeError):
        Terms(width=width, tolerance=tolerance)


def test_more_than_ten_of_anything_is_for_the_analysis_of_variance() -> None:
    many = [[[float(part), part + 1.0] for part in range(11)] for _ in range(2)]
    with pytest.raises(OutOfRangeError, match="number of parts"):
        by_ranges(many)
    assert by_anova(many).parts.sigma.value > 0


@given(subgroups())
def test_groups_and_repeats_share_all_there_is(groups: list[list[float]]) -> None:
    found = one_way(groups)
    every = [value for group in groups for value in group]
    middle = sum(every) / len(every)
    assert found.between.sum_of_squares + found.within.sum_of_squares == pytest.approx(
        sum((value - middle) ** 2 for value in every), rel=1e-9
    )
    assert 0 <= found.p <= 1


def test_groups_that_do_not_scatter_say_nothing() -> None:
    with pytest.raises(NoSpreadError):
        one_way([[1.0, 1.0], [2.0, 2.0]])
