"""The course of a log in time: from where the ring is heated, and whether it gets hotter again later."""

from functools import lru_cache
from itertools import pairwise

from qrecords.engineering.curve_events import Point
from qrecords.steps.heating_log import JudgedColumn

LEAST_RISE_MK = 10_000
"""Less than this is no heating to be timed by."""
STARTED = 0.25
"""Share of the whole rise by which the heater has surely been on: late enough for a log that begins cold, or
in a slow warming of the shop (house rule)."""
RISE_MK = 5000
"""What a ring off the heater may rise by: rings that even out, and noise (house rule)."""


@lru_cache(maxsize=64)
def heated_from_s(log: JudgedColumn) -> float | None:
    """The latest moment at which the heater can have been switched on; None for a log without a rise."""
    points = log.points
    top = max(range(len(points)), key=lambda n: points[n][1])
    first, rise = points[0][1], points[top][1] - points[0][1]
    if rise < LEAST_RISE_MK:
        return None
    low = first + STARTED * rise
    return max(time for time, value in points[: top + 1] if value <= low)


def risen_after(log: JudgedColumn, from_s: float) -> tuple[int, float] | None:
    """By how much at most the log rises after a moment, by medians of three samples, and until when; None
    where it ends before."""
    points = [point for point in _medians(log) if point[0] >= from_s]
    if not points:
        return None
    lowest, most, until_s = points[0][1], 0, points[0][0]
    for at_s, value in points:
        lowest = min(lowest, value)
        if value - lowest > most:
            most, until_s = value - lowest, at_s
    return most, until_s


@lru_cache(maxsize=64)
def most_step_s(log: JudgedColumn) -> float:
    """The usual step of the log: half of its steps are no longer."""
    steps = sorted(b - a for (a, _), (b, _) in pairwise(log.points))
    return steps[len(steps) // 2] if steps else 0.0


@lru_cache(maxsize=64)
def _medians(log: JudgedColumn) -> list[Point]:
    points = log.points
    return [
        (at_s, sorted((a, b, c))[1])
        for (_, a), (at_s, b), (_, c) in zip(points, points[1:], points[2:], strict=False)
    ]
