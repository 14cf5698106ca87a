"""Analysis of variance by statsmodels, on the printed studies and on made-up ones.

Source: statsmodels (BSD), ordinary least squares with factors, `anova_lm`. It knows nothing of gauges: sums
of squares, degrees of freedom, F and p are compared, and the components that follow from its mean squares.
"""

import math
import random
from collections.abc import Callable
from typing import Any

import pytest

from qrecords.engineering.anova import Source
from qrecords.engineering.gauge_study import GaugeStudy, by_anova
from tests.published import example
from tests.published.test_aiag_gauge_study import STUDY as AIAG
from tests.published.test_nist_strd_sirstv import INSTRUMENTS

Study = list[list[list[float]]]
PUBLIC: Study = example("E23")["inputs"]["data_operator_part_trial"]


def made_up(seed: int, operators: int, parts: int, trials: int) -> Study:
    """Parts that differ, operators that differ, and a gauge that does not repeat."""
    rng = random.Random(seed)
    of_part = [rng.gauss(0, 5) for _ in range(parts)]
    return [
        [[bias + part + rng.gauss(0, 1) for _ in range(trials)] for part in of_part]
        for bias in (rng.gauss(0, 2) for _ in range(operators))
    ]


STUDIES = {"AIAG": AIAG, "public": PUBLIC, "2 × 6 × 2": made_up(1, 2, 6, 2), "4 × 5 × 4": made_up(2, 4, 5, 4)}


@pytest.fixture(scope="module")
def table() -> Callable[..., Any]:
    """A table of variance of readings told as columns; imported here, because that takes three seconds."""
    import pandas
    from statsmodels.formula.api import ols
    from statsmodels.stats.anova import anova_lm

    def of(formula: str, rows: list[dict[str, Any]]) -> Any:
        return anova_lm(ols(formula, pandas.DataFrame(rows)).fit())

    return of


def rows(study: Study) -> list[dict[str, Any]]:
    return [
        {"who": f"o{o}", "part": f"p{p}", "y": y}
        for o, parts in enumerate(study)
        for p, readings in enumerate(parts)
        for y in readings
    ]


def crossed(table: Callable[..., Any], study: Study) -> list[tuple[float, float]]:
    """(sum of squares, degrees of freedom) of operators, parts, interaction and repeats."""
    found = table("y ~ C(who) * C(part)", rows(study))
    names = ("C(who)", "C(part)", "C(who):C(part)", "Residual")
    return [(float(found.loc[n, "sum_sq"]), float(found.loc[n, "df"])) for n in names]


def sources(found: GaugeStudy) -> tuple[Source, Source, Source, Source]:
    assert found.table is not None
    return found.table.operators, found.table.parts, found.table.interaction, found.table.repeats


@pytest.mark.parametrize("name", STUDIES)
def test_sums_of_squares_and_degrees_of_a_crossed_study(table: Callable[..., Any], name: str) -> None:
    found = [(s.sum_of_squares, s.degrees) for s in sources(by_anova(STUDIES[name]))]
    for mine, theirs in zip(found, crossed(table, STUDIES[name]), strict=True):
        assert mine == pytest.approx(theirs, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("name", STUDIES)
def test_the_chance_of_the_interaction(table: Callable[..., Any], name: str) -> None:
    """F and p of the interaction against the repeats, by which it is pooled or kept."""
    _, _, interaction, repeats = sources(by_anova(STUDIES[name]))
    theirs = table("y ~ C(who) * C(part)", rows(STUDIES[name])).loc["C(who):C(part)"]
    assert interaction.ratio(repeats) == pytest.approx(float(theirs["F"]), rel=1e-9)
    assert interaction.chance(repeats) == pytest.approx(float(theirs["PR(>F)"]), rel=1e-7)


@pytest.mark.parametrize("name", STUDIES)
def test_the_components_that_follow_from_its_mean_squares(table: Callable[..., Any], name: str) -> None:
    """Crossed, random, interaction kept: each component from expected mean squares, negative ones nought."""
    study = STUDIES[name]
    o, p, t = len(study), len(study[0]), len(study[0][0])
    operators, parts, interaction, repeats = (ss / df for ss, df in crossed(table, study))
    found = by_anova(study, alpha=1 - 1e-9)  # whatever its chance is
    assert found.pooled is False
    assert found.repeatability.sigma.value == pytest.approx(math.sqrt(repeats))
    between = max(0.0, (operators - interaction) / (p * t)) + max(0.0, (interaction - repeats) / t)
    assert found.reproducibility.sigma.value == pytest.approx(math.sqrt(between), abs=1e-9)
    assert found.parts.sigma.value == pytest.approx(math.sqrt(max(0.0, (parts - interaction) / (o * t))))


def test_the_certified_ratio_of_the_silicon_wafers(table: Callable[..., Any]) -> None:
    """NIST StRD SiRstv, F = 1.18046237440255: the reference itself is found by it."""
    told = [{"group": f"g{n}", "y": y} for n, group in enumerate(INSTRUMENTS) for y in group]
    found = table("y ~ C(group)", told)
    assert float(found.loc["C(group)", "F"]) == pytest.approx(1.18046237440255, rel=1e-7)
