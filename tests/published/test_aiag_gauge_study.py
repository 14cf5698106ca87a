"""AIAG, Measurement Systems Analysis, 4th edition, chapter III: 3 appraisers, 10 parts, 3 trials.

Source: the printed sums of squares 3.1673, 88.3619, 0.3590, 2.7589; pooled EV 0.19993, AV 0.22684, GRR
0.30237, PV 1.04233; by ranges 0.20186, 0.22967, 0.30577, 1.10460, GRR 26.68 %, ndc 5. Readings from memory;
they give all four sums of squares, and their first five parts are the public 5 × 3 × 3 set less 3. Sums of
squares are found again by least squares, p-values by scipy; both by statsmodels in
`test_statsmodels_anova.py`.
"""

import pytest
from scipy.stats import f as fisher

from qrecords.engineering.gauge_study import GaugeStudy, Terms, by_anova, by_ranges
from tests.published import example, lines
from tests.published.least_squares import sums_of_squares

READINGS = {
    (x["operator"], x["part"], x["trial"]): float(x["reading"]) for x in lines("aiag_gauge_study.csv")
}
STUDY = [[[READINGS[o, str(p), t] for t in "123"] for p in range(1, 11)] for o in "ABC"]
PRINTED = (3.1673, 88.3619, 0.3590, 2.7589)


def sigmas(found: GaugeStudy) -> tuple[float, ...]:
    shares = (found.repeatability, found.reproducibility, found.gauge, found.parts)
    return tuple(share.sigma.value for share in shares)


def test_the_sums_of_squares_as_printed_and_by_least_squares() -> None:
    table = by_anova(STUDY).table
    assert table is not None
    found = [s.sum_of_squares for s in (table.operators, table.parts, table.interaction, table.repeats)]
    assert found == pytest.approx(PRINTED, abs=5e-5)
    assert found == pytest.approx(sums_of_squares(STUDY), rel=1e-9)
    degrees = [s.degrees for s in (table.operators, table.parts, table.interaction, table.repeats)]
    assert degrees == [2, 9, 18, 60]


def test_the_interaction_is_pooled_because_its_p_value_is_large() -> None:
    found = by_anova(STUDY)
    assert found.table is not None and found.pooled is True
    ratio = (PRINTED[2] / 18) / (PRINTED[3] / 60)
    p_value = found.table.interaction.chance(found.table.repeats)
    assert p_value == pytest.approx(fisher.sf(ratio, 18, 60), abs=1e-4)
    assert p_value == pytest.approx(0.974, abs=5e-4)


def test_the_components_by_analysis_of_variance() -> None:
    assert sigmas(by_anova(STUDY)) == pytest.approx((0.19993, 0.22684, 0.30237, 1.04233), abs=1.5e-5)


def test_the_components_by_ranges() -> None:
    # The book computes with K3 = 0.3146; the factor is 0.314556.
    assert sigmas(by_ranges(STUDY)) == pytest.approx((0.20186, 0.22967, 0.30577, 1.10460), rel=1.5e-4)
    assert by_ranges(STUDY).gauge.of_sigma.value == pytest.approx(26.68, abs=0.01)


def test_one_study_has_4_categories_by_variances_and_5_by_ranges() -> None:
    by_variances = by_anova(STUDY).categories
    assert by_variances.value == 4
    assert float(dict(by_variances.put_in)["before cutting"]) == pytest.approx(4.86, abs=0.005)
    assert by_ranges(STUDY).categories.value == 5


def test_the_width_is_told_in_the_sigmas_that_were_asked_for() -> None:
    wide, narrow = by_anova(STUDY, Terms(width=6.0)), by_anova(STUDY, Terms(width=5.15))
    assert wide.gauge.width.value == pytest.approx(6 * 0.30237, abs=1e-4)
    assert narrow.gauge.width.value == pytest.approx(5.15 * 0.30237, abs=1e-4)
    assert ("k", "5.15") in narrow.gauge.width.put_in


def test_the_first_five_parts_are_the_public_set_less_three() -> None:
    public = example("E23")["inputs"]["data_operator_part_trial"]
    for mine, theirs in zip(STUDY, public, strict=True):
        for cell, published in zip(mine[:5], theirs, strict=True):
            assert [reading + 3 for reading in cell] == pytest.approx(published, abs=1e-9)
