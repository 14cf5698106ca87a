"""What is in doubt in a look-back of a gauge: the piece, the time between, how far it reads high by size."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from itertools import pairwise
from typing import Any

from qrecords.engineering.errors import shortened
from qrecords.steps.errors import DocumentError

MOST_POINTS = 40
READS, BY = "equipment", "points"


@dataclass(frozen=True)
class ErrorPoint:
    """At `size` the piece reads `error` too high, with the standard uncertainty `u` of that; all in the base
    unit of what it measures. Of a master or a blade: its mark less its true size (JCGM 200:2012, 4.20, from
    memory), so that what is read with it is as much too high."""

    size: int
    error: int
    u: int

    def document(self) -> dict[str, int]:
        return {"size": self.size, "error": self.error, "u": self.u}


@dataclass(frozen=True)
class ErrorOfSize:
    """The error as a function of size: linear between the points, beyond them as at the nearest (ruling 23).
    Between two points u is interpolated as if both were wrong the same way, which is the larger."""

    points: tuple[ErrorPoint, ...]

    def at(self, size: int) -> tuple[int, int]:
        """Error and u at a size; u rounded up."""
        below = [point for point in self.points if point.size <= size]
        above = [point for point in self.points if point.size > size]
        if not below or not above:
            near = below[-1] if below else above[0]
            return near.error, near.u
        low, high = below[-1], above[0]
        way = Fraction(size - low.size, high.size - low.size)
        error = low.error + (high.error - low.error) * way
        return round(error), -int(-(low.u + (high.u - low.u) * way) // 1)

    def document(self) -> list[dict[str, int]]:
        return [point.document() for point in self.points]


@dataclass(frozen=True)
class Suspect:
    """A piece of equipment in doubt from its last good calibration or master check until it was found."""

    piece: str
    since: datetime
    until: datetime
    error: ErrorOfSize

    def covers(self, at: datetime) -> bool:
        return self.since <= at < self.until


def read_error(points: Sequence[Mapping[str, Any]]) -> ErrorOfSize:
    """The points as a look-back states them, by rising size. DocumentError for what is no such function."""
    found = [ErrorPoint(*(_whole(point, name) for name in ("size", "error", "u"))) for point in points]
    if not 1 <= len(found) <= MOST_POINTS:
        raise DocumentError("look-back", BY, f"{len(found)} points are given; allowed: 1 to {MOST_POINTS}")
    if any(point.u < 0 or point.size < 0 for point in found):
        raise DocumentError("look-back", BY, "a size or u below 0 is not possible; allowed: 0 or more")
    found.sort(key=lambda point: point.size)
    if any(one.size == other.size for one, other in pairwise(found)):
        raise DocumentError("look-back", BY, "one size stands twice; allowed: each size once")
    return ErrorOfSize(tuple(found))


def _whole(point: Mapping[str, Any], name: str) -> int:
    sent = point.get(name)
    if not isinstance(sent, int) or isinstance(sent, bool):
        why = f"{name}: {shortened(str(sent))!r} is no whole number; allowed: base units (nm, m°C or mK, nT)"
        raise DocumentError("look-back", BY, why)
    return sent
