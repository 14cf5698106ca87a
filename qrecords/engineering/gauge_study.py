"""What of the spread of readings is the gauge's own: repeats, operators, parts (crossed gauge study, GRR).

Shares are told of variances, which add, and of standard deviations, which do not. Sources: AIAG, Measurement
Systems Analysis, 4th edition, chapter III (its numbers checked, its text not at hand); NIST/SEMATECH
e-Handbook 2.4.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from . import anova
from .distributions import in_between
from .range_factors import factors
from .ranges import inside
from .readings import Group, mean, positive, span
from .result import Result, said

MANY_RANGES = 15  # above it d2* is taken as d2, as AIAG does
ALPHA = 0.05  # AIAG; other practice pools from 0.25
WIDTHS = (5.15, 6.0)  # standard deviations that count as "the spread": 99 % to 99.73 % of a normal one
SOURCE = "AIAG MSA 4th edition, chapter III"
UNCONFIRMED = ("AIAG MSA 4th edition: formulas from memory, numbers reproduced",)
CROSSED = "every operator read every part equally often, in random order, not knowing the part"


class Share(NamedTuple):
    """One component: its standard deviation, its width k·σ, and its share in per cent of the total variance
    (these add) and of the total standard deviation (these do not)."""

    sigma: Result
    width: Result
    of_variance: Result
    of_sigma: Result


class GaugeStudy(NamedTuple):
    """Repeatability (EV), reproducibility (AV: operators and their interaction with parts), both together
    (GRR), parts (PV), and all (TV). `categories`: how many sorts of part the gauge tells apart (ndc).

    `pooled`: whether the interaction went into the repeats; None by the range method, which does not see it.
    `of_tolerance`: k·GRR in per cent of the tolerance, where one was given.
    """

    repeatability: Share
    reproducibility: Share
    gauge: Share
    parts: Share
    total: Share
    categories: Result
    of_tolerance: Result | None
    pooled: bool | None
    table: anova.Crossed | None


@dataclass(frozen=True)
class Terms:
    """What a study is told in: the unit, k (6 or 5.15 standard deviations), and the tolerance if any."""

    unit: str = "um"
    width: float = 6.0
    tolerance: float | None = None

    def __post_init__(self) -> None:
        inside("width", self.width, "σ", min(WIDTHS), max(WIDTHS))
        if self.tolerance is not None:
            positive("tolerance", self.tolerance, self.unit)


MICROMETRES = Terms()


class Found(NamedTuple):
    """The variances of the three components with their formulas, numbers and assumptions."""

    repeats: float
    operators: float
    parts: float
    formulas: tuple[str, str, str]
    put_in: tuple[tuple[str, str], ...]
    assumptions: tuple[str, ...]


def by_anova(study: anova.Study, terms: Terms = MICROMETRES, alpha: float = ALPHA) -> GaugeStudy:
    """The study by analysis of variance, all effects random. A negative variance is told as 0.

    The interaction goes into the repeats where its p-value is above `alpha`. Raises what `anova.crossed`
    raises.
    """
    in_between("alpha", alpha, 0, 1)
    table = anova.crossed(study, terms.unit)
    operators, parts, trials = anova.shape(study, terms.unit)
    p_value = table.interaction.chance(table.repeats)
    pooled = p_value > alpha
    repeats = table.repeats.pooled(table.interaction) if pooled else table.repeats
    beside = repeats if pooled else table.interaction
    of_operators = _not_negative((table.operators.mean_square - beside.mean_square) / (parts * trials))
    of_both = 0.0 if pooled else _not_negative((beside.mean_square - repeats.mean_square) / trials)
    of_parts = _not_negative((table.parts.mean_square - beside.mean_square) / (operators * trials))
    words = "is" if pooled else "is not"
    found = Found(
        repeats.mean_square, of_operators + of_both, of_parts,
        ("σ²_e = MS_e", "σ²_AV = (MS_o − MS_op)/(p·r) + (MS_op − MS_e)/r", "σ²_p = (MS_p − MS_op)/(o·r)"),
        (("MS_o", said(table.operators.mean_square)), ("MS_p", said(table.parts.mean_square)),
         ("MS_op", said(beside.mean_square)), ("MS_e", said(repeats.mean_square)), ("o", str(operators)),
         ("p", str(parts)), ("r", str(trials)), ("p-value of the interaction", said(p_value)),
         ("α", said(alpha))),
        (CROSSED, "operators and parts are drawn at random", "negative variances are 0",
         f"the interaction {words} pooled with the repeats: its p-value against α"),
    )  # fmt: skip
    return _told(found, terms, pooled, table)


def by_ranges(study: anova.Study, terms: Terms = MICROMETRES) -> GaugeStudy:
    """The study from ranges and averages, for 2 to 10 operators, parts and trials; blind to the interaction.

    EV = R̿/d2, AV² = (X̄diff/d2*)² − EV²/(p·r), PV = R_p/d2*, each d2* for one range; up to 15 ranges of
    trials EV takes d2* too. Raises what `anova.crossed` raises.
    """
    operators, parts, trials = anova.shape(study, terms.unit)
    of_trials, cells = factors(trials, "trials"), [cell for row in study for cell in row]
    divisor = of_trials.d2 if len(cells) > MANY_RANGES else of_trials.of_few(len(cells))
    middle = mean([span(cell) for cell in cells])
    between_operators = span([_mean_of(row) for row in study])
    between_parts = span([_mean_of(column) for column in zip(*study, strict=True)])
    repeats = (middle / divisor) ** 2
    k2 = 1 / factors(operators, "operators").of_few(1)
    k3 = 1 / factors(parts, "parts").of_few(1)
    found = Found(
        repeats, _not_negative((between_operators * k2) ** 2 - repeats / (parts * trials)),
        (between_parts * k3) ** 2,
        ("EV = R̿·K1", "AV² = (X̄diff·K2)² − EV²/(p·r)", "PV = R_p·K3"),
        (("R̿", said(middle, terms.unit)), ("X̄diff", said(between_operators, terms.unit)),
         ("R_p", said(between_parts, terms.unit)), ("K1", said(1 / divisor)), ("K2", said(k2)),
         ("K3", said(k3)), ("p", str(parts)), ("r", str(trials))),
        (CROSSED, "readings are normal", "operators and parts do not interact: ranges cannot see it",
         "a negative variance is 0"),
    )  # fmt: skip
    return _told(found, terms, None, None)


def _told(found: Found, terms: Terms, pooled: bool | None, table: anova.Crossed | None) -> GaugeStudy:
    gauge = found.repeats + found.operators
    total = gauge + found.parts

    def share(name: str, variance: float, formula: str) -> Share:
        return _share(name, variance, total, formula, found, terms)

    return GaugeStudy(
        repeatability=share("EV", found.repeats, found.formulas[0]),
        reproducibility=share("AV", found.operators, found.formulas[1]),
        gauge=share("GRR", gauge, "GRR² = EV² + AV²"),
        parts=share("PV", found.parts, found.formulas[2]),
        total=share("TV", total, "TV² = GRR² + PV²"),
        categories=_categories(math.sqrt(found.parts), math.sqrt(gauge), found, terms),
        of_tolerance=_of_tolerance(math.sqrt(gauge), found, terms),
        pooled=pooled,
        table=table,
    )


def _share(name: str, variance: float, total: float, formula: str, found: Found, terms: Terms) -> Share:
    sigma, whole, k = math.sqrt(variance), math.sqrt(total), terms.width
    both = ((name, said(sigma, terms.unit)), ("TV", said(whole, terms.unit)))
    of_sigma = Result(
        100 * sigma / whole, "%", None, f"100·{name}/TV", both,
        (*found.assumptions, "shares of standard deviations do not add up to 100 %"), SOURCE, UNCONFIRMED,
    )  # fmt: skip
    return Share(
        sigma=_result(sigma, terms.unit, formula, found.put_in, found),
        width=_result(k * sigma, terms.unit, f"k·{name}", (("k", said(k)), both[0]), found),
        of_variance=_result(100 * variance / total, "%", f"100·{name}²/TV²", both, found),
        of_sigma=of_sigma,
    )


def _categories(parts: float, gauge: float, found: Found, terms: Terms) -> Result:
    exact = 1.41 * parts / gauge
    put_in = (
        ("PV", said(parts, terms.unit)),
        ("GRR", said(gauge, terms.unit)),
        ("before cutting", said(exact)),
    )
    return _result(float(math.floor(exact)), "1", "ndc = 1.41·PV/GRR, cut to a whole number", put_in, found)


def _of_tolerance(gauge: float, found: Found, terms: Terms) -> Result | None:
    if terms.tolerance is None:
        return None
    put_in = (
        ("k", said(terms.width)),
        ("GRR", said(gauge, terms.unit)),
        ("T", said(terms.tolerance, terms.unit)),
    )
    return _result(100 * terms.width * gauge / terms.tolerance, "%", "100·k·GRR/T", put_in, found)


def _result(
    value: float, unit: str, formula: str, put_in: tuple[tuple[str, str], ...], found: Found
) -> Result:
    return Result(value, unit, None, formula, put_in, found.assumptions, SOURCE, UNCONFIRMED)


def _mean_of(cells: Sequence[Group]) -> float:
    return mean([mean(cell) for cell in cells])


def _not_negative(variance: float) -> float:
    return max(0.0, variance)
