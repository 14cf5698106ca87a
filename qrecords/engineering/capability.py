"""Capability of a process, Cp, Cpk and Ppk: each with its interval and the number of readings it rests on.

From few readings such an index says next to nothing: 30 readings make of a Cpk of 0.63 anything from 0.42 to
0.83. So there is no way here to get one without its interval.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from .charts import ENOUGH_SUBGROUPS, XbarR, xbar_r
from .distributions import chi2_quantile, in_between, normal_quantile
from .errors import OutOfRangeError
from .range_factors import factors
from .readings import Group, counted, finite, mean, positive
from .result import Result, said

SOURCE = "NIST/SEMATECH e-Handbook 6.1.6"
ASSUMPTIONS = (
    "the process is in control",
    "readings are normal: ovality, taper and other one-sided quantities are not",
)


@dataclass(frozen=True)
class Spread:
    """Mean and standard deviation of a process, from `n` readings in `subgroups` (1: no subgroups).

    `degrees` of freedom of sigma; `how` it was found, as an assumption to print.
    """

    mean: float
    sigma: float
    n: int
    degrees: float
    subgroups: int
    unit: str
    how: str

    def __post_init__(self) -> None:
        finite((self.mean,), self.unit, "mean")
        positive("standard deviation", self.sigma, self.unit)
        counted("readings", self.n, 2)


@dataclass(frozen=True)
class Limits:
    """Limits of the drawing; None where there is none on that side. Raises OutOfRangeError if swapped."""

    lower: float | None
    upper: float | None
    unit: str = "um"

    def __post_init__(self) -> None:
        finite([limit for limit in (self.lower, self.upper) if limit is not None], self.unit, "limit")
        if self.lower is None and self.upper is None:
            raise OutOfRangeError("number of limits", 0, "", 1, 2)
        if self.lower is not None and self.upper is not None and self.lower >= self.upper:
            raise OutOfRangeError("lower limit", self.lower, self.unit, "any", f"less than {self.upper:g}")


class Index(NamedTuple):
    """One index with its two-sided interval. `provisional`: from fewer than 25 subgroups."""

    value: Result
    low: Result
    high: Result
    confidence: float
    n: int
    subgroups: int

    @property
    def provisional(self) -> bool:
        """Fewer than 25 subgroups: to be called provisional wherever it is shown."""
        return self.subgroups < ENOUGH_SUBGROUPS


class Capability(NamedTuple):
    """The three indices; `cp` is None where the drawing has one limit only."""

    cp: Index | None
    cpk: Index
    ppk: Index
    chart: XbarR


def capability(subgroups: Sequence[Group], limits: Limits, confidence: float = 0.95) -> Capability:
    """Cp and Cpk with the spread within subgroups (R̄/d2), Ppk with that of all readings.

    Raises what `charts.xbar_r` raises. Source: NIST/SEMATECH e-Handbook 6.1.6.
    """
    chart = xbar_r(subgroups, limits.unit)
    inside = within(chart)
    return Capability(
        cp=None if None in (limits.lower, limits.upper) else cp(inside, limits, confidence),
        cpk=cpk(inside, limits, confidence),
        ppk=cpk(overall(subgroups, limits.unit), limits, confidence, "Ppk"),
        chart=chart,
    )


def within(chart: XbarR) -> Spread:
    """The spread within subgroups, σ = R̄/d2: what the process could do if its mean stood still.

    A mean range knows less than as many readings, so its degrees of freedom are fewer than n − 1; with n − 1
    an interval of 95 % from ten subgroups of three would hold the true Cp in 88 of 100 cases (simulated).
    """
    given, k = factors(chart.n), len(chart.means)
    sigma, degrees = chart.mean_range.value / given.d2, given.degrees(k)
    how = f"σ = R̄/d2 within subgroups, {said(degrees)} degrees of freedom"
    return Spread(chart.mean.value, sigma, chart.n * k, degrees, k, chart.unit, how)


def overall(subgroups: Sequence[Group], unit: str = "um") -> Spread:
    """The spread of all readings together: what the process did, drifts and all."""
    every = [value for group in subgroups for value in group]
    middle = mean(every)
    sigma = math.sqrt(math.fsum((value - middle) ** 2 for value in every) / (len(every) - 1))
    how = "σ is the standard deviation of all readings"
    return Spread(middle, sigma, len(every), len(every) - 1, len(subgroups), unit, how)


def cp(spread: Spread, limits: Limits, confidence: float = 0.95) -> Index:
    """(U − L)/6σ: what the limits allow beside what the process takes, wherever its mean lies.

    The interval is Cp·√(χ²/ν). Raises OutOfRangeError where one of the limits is lacking.
    """
    if limits.lower is None or limits.upper is None:
        raise OutOfRangeError("number of limits", 1, "", 2, 2)
    value, nu = (limits.upper - limits.lower) / (6 * spread.sigma), spread.degrees
    tail = (1 - in_between("confidence", confidence, 0, 1)) / 2
    ends = tuple(value * math.sqrt(chi2_quantile(p, nu) / nu) for p in (tail, 1 - tail))
    return _index("Cp = (U − L)/(6·σ)", "Cp·√(χ²/ν)", value, (ends[0], ends[1]), (spread, limits, confidence))


def cpk(spread: Spread, limits: Limits, confidence: float = 0.95, name: str = "Cpk") -> Index:
    """The distance of the mean from the nearer limit over 3σ; of all readings together it is called Ppk.

    The interval is Cpk ± z·√(1/(9n) + Cpk²/(2ν)), an approximation for many readings.
    """
    gaps = [] if limits.upper is None else [limits.upper - spread.mean]
    gaps += [] if limits.lower is None else [spread.mean - limits.lower]
    value = min(gaps) / (3 * spread.sigma)
    z = normal_quantile(1 - (1 - in_between("confidence", confidence, 0, 1)) / 2)
    reach = z * math.sqrt(1 / (9 * spread.n) + value**2 / (2 * spread.degrees))
    formula, interval = f"{name} = min(U − x̿, x̿ − L)/(3·σ)", f"{name} ± z·√(1/(9·n) + {name}²/(2·ν))"
    return _index(formula, interval, value, (value - reach, value + reach), (spread, limits, confidence))


def _index(
    formula: str, interval: str, value: float, ends: tuple[float, float], given: tuple[Spread, Limits, float]
) -> Index:
    """The index and both ends, each naming n and the interval, so that none can be printed bare."""
    spread, limits, confidence = given
    put_in = (
        *((sign, said(limit, spread.unit)) for sign, limit in (("L", limits.lower), ("U", limits.upper))
          if limit is not None),
        ("x̿", said(spread.mean, spread.unit)), ("σ", said(spread.sigma, spread.unit)), ("n", str(spread.n)),
        ("k", str(spread.subgroups)), ("ν", said(spread.degrees)),
        (f"interval {100 * confidence:g} %", f"{ends[0]:.2f}…{ends[1]:.2f}"),
    )  # fmt: skip
    few = (f"provisional: {spread.subgroups} subgroups, {ENOUGH_SUBGROUPS} are enough",)
    assumptions = (spread.how, *ASSUMPTIONS, *(few if spread.subgroups < ENOUGH_SUBGROUPS else ()))
    answers = [
        Result(number, "1", None, said_by, put_in, assumptions, SOURCE)
        for number, said_by in ((value, formula), (ends[0], interval), (ends[1], interval))
    ]
    return Index(answers[0], answers[1], answers[2], confidence, spread.n, spread.subgroups)
