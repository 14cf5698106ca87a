"""Analysis of variance: how much of what readings differ belongs to which cause.

Sums of squares are taken about the mean, so that readings of many digits that differ in the last ones keep
what they differ by. Source: NIST/SEMATECH e-Handbook 7.4.3 and 2.4.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

from .distributions import f_above
from .readings import Group, counted, differing, differing_within, even_groups, finite, mean

Study = Sequence[Sequence[Group]]  # readings by operator, part and trial


class Source(NamedTuple):
    """One line of the table: sum of squares (unit squared), degrees of freedom, and their mean square."""

    sum_of_squares: float
    degrees: int

    @property
    def mean_square(self) -> float:
        """The sum of squares for each degree of freedom."""
        return self.sum_of_squares / self.degrees

    def ratio(self, other: "Source") -> float:
        """F, this mean square over another; infinite over nothing."""
        return self.mean_square / other.mean_square if other.mean_square else math.inf

    def chance(self, other: "Source") -> float:
        """The p-value of that ratio: how often chance alone makes one as large."""
        ratio = self.ratio(other)
        return f_above(ratio, self.degrees, other.degrees) if ratio < math.inf else 0.0

    def pooled(self, other: "Source") -> "Source":
        """Both together as one source."""
        return Source(self.sum_of_squares + other.sum_of_squares, self.degrees + other.degrees)


class OneWay(NamedTuple):
    """Between groups and within them."""

    between: Source
    within: Source

    @property
    def f(self) -> float:
        """How much more groups differ than their own readings do, as a ratio of mean squares."""
        return self.between.ratio(self.within)

    @property
    def p(self) -> float:
        """How often chance alone makes groups differ as much."""
        return self.between.chance(self.within)


class Crossed(NamedTuple):
    """Every operator measured every part as often: operators, parts, their interaction, repeats."""

    operators: Source
    parts: Source
    interaction: Source
    repeats: Source


def one_way(groups: Sequence[Group], unit: str = "um") -> OneWay:
    """Whether groups of equally many readings (gauges on one part, shafts of one lot) differ.

    Raises OutOfRangeError for uneven groups or readings that are not finite, and NoSpreadError where no group
    has two different readings.
    """
    size = even_groups(groups, unit, "group")
    differing_within(groups, unit, "group")
    means = [mean(group) for group in groups]
    between = size * _squares(means, mean(means))
    within = math.fsum(_squares(group, middle) for group, middle in zip(groups, means, strict=True))
    return OneWay(Source(between, len(groups) - 1), Source(within, len(groups) * (size - 1)))


def crossed(study: Study, unit: str = "um") -> Crossed:
    """The table of a crossed study of two or more operators, parts and trials.

    Raises OutOfRangeError for an uneven study or readings that are not finite, NoSpreadError where no
    operator read any part twice differently: the study cannot tell the gauge from its resolution then.
    """
    operators, parts, trials = shape(study, unit)
    cells = [[mean(cell) for cell in row] for row in study]
    by_operator, by_part = [mean(row) for row in cells], [mean(column) for column in zip(*cells, strict=True)]
    middle = mean(by_operator)
    left = math.fsum(
        (cells[o][p] - by_operator[o] - by_part[p] + middle) ** 2
        for o in range(operators)
        for p in range(parts)
    )
    repeats = math.fsum(_squares(study[o][p], cells[o][p]) for o in range(operators) for p in range(parts))
    return Crossed(
        operators=Source(parts * trials * _squares(by_operator, middle), operators - 1),
        parts=Source(operators * trials * _squares(by_part, middle), parts - 1),
        interaction=Source(trials * left, (operators - 1) * (parts - 1)),
        repeats=Source(repeats, operators * parts * (trials - 1)),
    )


def shape(study: Study, unit: str) -> tuple[int, int, int]:
    """Operators, parts and trials of an even study; raises as `crossed` does."""
    operators, parts = counted("operators", len(study), 2), counted("parts of operator 1", len(study[0]), 2)
    trials = counted("trials of operator 1 on part 1", len(study[0][0]), 2)
    for by, row in enumerate(study, start=1):
        counted(f"parts of operator {by}", len(row), parts, parts)
        for of, cell in enumerate(row, start=1):
            counted(f"trials of operator {by} on part {of}", len(cell), trials, trials)
            finite(cell, unit, f"reading of operator {by} on part {of}")
    cells = [cell for row in study for cell in row]
    differing([value for cell in cells for value in cell], unit, "readings")
    differing_within(cells, unit, "trial")
    return operators, parts, trials


def _squares(values: Sequence[float], middle: float) -> float:
    return math.fsum((value - middle) ** 2 for value in values)
