"""The public 5 × 3 × 3 gauge study: five parts, three operators, three trials, with its table of squares.

Source: E23 of `engineering_examples.json`, a published worked example: operators 1.630, parts 28.909,
interaction 0.065, repeats 1.712. Found again here by least squares; components from its mean squares by hand.
"""

import math

import pytest

from qrecords.engineering.gauge_study import by_anova, by_ranges
from tests.published import example
from tests.published.least_squares import sums_of_squares

CASE = example("E23")
STUDY = CASE["inputs"]["data_operator_part_trial"]
NAMES = ("SS_operator", "SS_part", "SS_interaction", "SS_repeat")


def test_the_published_sums_of_squares() -> None:
    table = by_anova(STUDY).table
    assert table is not None
    found = [s.sum_of_squares for s in (table.operators, table.parts, table.interaction, table.repeats)]
    for name, value in zip(NAMES, found, strict=True):
        wanted = CASE["expected"][name]
        assert abs(value - wanted["value"]) <= wanted["tol_abs"], name
    assert found == pytest.approx(sums_of_squares(STUDY), rel=1e-9)


def test_components_from_the_published_squares() -> None:
    repeats = (0.065 + 1.712) / (8 + 30)
    operators, parts = (1.630 / 2 - repeats) / 15, (28.909 / 4 - repeats) / 9
    found = by_anova(STUDY)
    assert found.repeatability.sigma.value == pytest.approx(math.sqrt(repeats), rel=1e-3)
    assert found.reproducibility.sigma.value == pytest.approx(math.sqrt(operators), rel=1e-3)
    assert found.parts.sigma.value == pytest.approx(math.sqrt(parts), rel=1e-3)


def test_fifteen_ranges_are_few_enough_for_the_divisor_of_few() -> None:
    # √(1.692569² + 0.888368²/15) = 1.70804, from d2 and d3 of three readings.
    assert float(dict(by_ranges(STUDY).repeatability.sigma.put_in)["K1"]) == pytest.approx(
        1 / 1.70804, abs=2e-6
    )
