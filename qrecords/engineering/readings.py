"""Sets of readings before anything is computed from them: finite, enough, even, and not all the same."""

import math
from collections.abc import Iterable, Sequence

from .errors import NoSpreadError, OutOfRangeError
from .ranges import above, inside

Group = Sequence[float]
BIGGEST = 1e15  # beyond it a float no longer tells whole units apart
LEAST_SPREAD = 1e-100  # below it squares vanish in a float


def finite(values: Iterable[float], unit: str, field: str = "reading") -> None:
    """Raises OutOfRangeError for NaN, infinity and what no gauge reads."""
    for value in values:
        inside(field, value, unit, -BIGGEST, BIGGEST)


def positive(field: str, value: float, unit: str) -> float:
    """`value` if it is above nought and no more than anybody measures; raises OutOfRangeError."""
    return above(field, value, unit, 0, BIGGEST)


def counted(field: str, count: int, least: int, most: int | None = None) -> int:
    """`count` of something if there are enough and not too many of it; raises OutOfRangeError."""
    if count < least or (most is not None and count > most):
        raise OutOfRangeError(f"number of {field}", count, "", least, "any" if most is None else most)
    return count


def even_groups(
    groups: Sequence[Group], unit: str, of: str = "subgroup", least: int = 2, most: int | None = None
) -> int:
    """How many readings each of two or more groups has, from `least` to `most`.

    Raises OutOfRangeError if one group has another number or a reading is not finite, NoSpreadError if all
    readings are the same.
    """
    counted(f"{of}s", len(groups), 2)
    size = counted(f"readings in {of} 1", len(groups[0]), least, most)
    for number, group in enumerate(groups, start=1):
        counted(f"readings in {of} {number}", len(group), size, size)
        finite(group, unit, f"reading in {of} {number}")
    differing([value for group in groups for value in group], unit, "readings")
    return size


def differing(values: Sequence[float], unit: str, field: str) -> None:
    """Raises NoSpreadError where all values are the same."""
    if span(values) <= LEAST_SPREAD:
        raise NoSpreadError(field, values[0], unit)


def differing_within(groups: Sequence[Group], unit: str, of: str) -> None:
    """Raises NoSpreadError where no group has two different readings: the gauge is too coarse to tell."""
    if max(span(group) for group in groups) <= LEAST_SPREAD:
        raise NoSpreadError(f"ranges of the {of}s", 0, unit)


def mean(values: Sequence[float]) -> float:
    """The arithmetic mean, summed without loss."""
    return math.fsum(values) / len(values)


def span(values: Sequence[float]) -> float:
    """The largest less the smallest: the range of a group."""
    return max(values) - min(values)
