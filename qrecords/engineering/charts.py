"""The X̄-R chart: whether means and ranges of small groups of readings keep within what chance explains."""

from collections.abc import Sequence
from typing import NamedTuple

from .range_factors import D2_D3, SOURCE, RangeFactors, factors
from .readings import Group, differing_within, even_groups, mean, span
from .result import Result, said

ENOUGH_SUBGROUPS = 25  # common practice (20 to 25 in textbooks), no clause of a standard
ASSUMPTIONS = (
    "subgroups are taken in order of time, under like conditions within each",
    "readings are normal and independent within a subgroup",
    "limits are computed from the very points judged by them",
)


class XbarR(NamedTuple):
    """Both charts of subgroups of `n` readings, in `unit`. Points out are told by the number of their
    subgroup, from 0; a point on a limit is inside."""

    n: int
    unit: str
    means: tuple[float, ...]
    ranges: tuple[float, ...]
    mean: Result
    mean_lower: Result
    mean_upper: Result
    mean_range: Result
    range_lower: Result
    range_upper: Result

    @property
    def means_out(self) -> tuple[int, ...]:
        """The subgroups whose mean lies outside its limits."""
        return _outside(self.means, self.mean_lower.value, self.mean_upper.value)

    @property
    def ranges_out(self) -> tuple[int, ...]:
        """The subgroups whose range lies outside its limits."""
        return _outside(self.ranges, self.range_lower.value, self.range_upper.value)

    @property
    def provisional(self) -> bool:
        """Fewer than 25 subgroups: the limits still move as more come in."""
        return len(self.means) < ENOUGH_SUBGROUPS


def xbar_r(subgroups: Sequence[Group], unit: str = "um") -> XbarR:
    """The chart of at least two subgroups of 2 to 10 readings each, all in `unit`.

    Raises OutOfRangeError (readings not finite, too few, too many, subgroups uneven) and NoSpreadError where
    no subgroup has two different readings. Source: NIST/SEMATECH e-Handbook 6.3.2.1; ASTM E2587.
    """
    given = factors(even_groups(subgroups, unit, least=min(D2_D3), most=max(D2_D3)))
    differing_within(subgroups, unit, "subgroup")
    means, ranges = tuple(mean(group) for group in subgroups), tuple(span(group) for group in subgroups)
    return _chart(given, means, ranges, unit)


def _chart(given: RangeFactors, means: tuple[float, ...], ranges: tuple[float, ...], unit: str) -> XbarR:
    grand, middle = mean(means), mean(ranges)
    a2, d3, d4 = given.mean_limit, given.lower_range, given.upper_range
    counts = (("n", str(given.n)), ("k", str(len(means))))
    of_range = (("R̄", said(middle, unit)), *counts)
    of_mean = (("x̿", said(grand, unit)), *of_range, ("A2", said(a2)))
    return XbarR(
        n=given.n, unit=unit, means=means, ranges=ranges,
        mean=_result(grand, unit, "x̿ = Σx̄/k", counts),
        mean_range=_result(middle, unit, "R̄ = ΣR/k", counts),
        mean_lower=_result(grand - a2 * middle, unit, "LCL = x̿ − A2·R̄", of_mean),
        mean_upper=_result(grand + a2 * middle, unit, "UCL = x̿ + A2·R̄", of_mean),
        range_lower=_result(d3 * middle, unit, "LCL = D3·R̄", (*of_range, ("D3", said(d3)))),
        range_upper=_result(d4 * middle, unit, "UCL = D4·R̄", (*of_range, ("D4", said(d4)))),
    )  # fmt: skip


def _result(value: float, unit: str, formula: str, put_in: tuple[tuple[str, str], ...]) -> Result:
    return Result(value, unit, None, formula, put_in, ASSUMPTIONS, SOURCE)


def _outside(values: tuple[float, ...], low: float, high: float) -> tuple[int, ...]:
    return tuple(number for number, value in enumerate(values) if not low <= value <= high)
