"""Judging one whole mounting: nine readings, everything else its rules ask for, and a curve of 600 points.

The baseline of the curve is its definitions written out letter by letter with the standard library's
statistics module: median of five and its deviation, median of three, a line in every window. Ours also sorts,
tells events, brackets the time above and explains each number. What a point costs must not grow with the log:
ten thousand points stand beside a thousand logs of ten, and beside ten of a thousand.
"""

import math
from dataclasses import replace
from itertools import pairwise
from statistics import linear_regression, median

from qrecords.engineering.curve import Limits, judge
from qrecords.engineering.curve_cleaning import Sample
from qrecords.steps.standard import all_findings
from tests.bench.ratio import Ratio, alternating
from tests.steps.casebook import sound

LIMITS = Limits(target_mdegc=110_000, ceiling_mdegc=120_000, u_mk=600)
ROUNDS = 15


def measure() -> list[Ratio]:
    case, log = sound().case(), _log(600)

    def mounting() -> None:
        all_findings(replace(case))  # a case of which nothing was asked yet
        judge(log, LIMITS)

    whole = alternating(mounting, lambda: _letter_by_letter(log), ROUNDS)
    alone = alternating(lambda: judge(log, LIMITS), lambda: _letter_by_letter(log), ROUNDS)
    long, short, middle = _log(10_000), _log(10), _log(1000)
    from_10 = alternating(lambda: judge(long, LIMITS), lambda: _times(1000, short), ROUNDS)
    from_1000 = alternating(lambda: judge(long, LIMITS), lambda: _times(10, middle), ROUNDS)
    library = "600 points letter by letter, statistics module"
    return [
        Ratio("one mounting, 600-point curve", whole[0], library, whole[1], 1.3),
        Ratio("curve of 600 points alone", alone[0], library, alone[1], 0.15),
        Ratio("curve of 10,000 points", from_10[0], "1,000 curves of 10 points", from_10[1], 1.0),
        Ratio("curve of 10,000 points", from_1000[0], "10 curves of 1,000 points", from_1000[1], 1.3),
    ]


def _log(points: int) -> list[Sample]:
    """One sample a second: heated for a third of the time, held for a third, cooled; 0.3 K of ripple."""
    third = points / 3
    return [
        (
            float(n),
            round(20 + 90 * min(1.0, n / third, (4 * points - n) / (3 * points)) + 0.3 * math.sin(n), 3),
        )
        for n in range(points)
    ]


def _times(times: int, log: list[Sample]) -> None:
    for _ in range(times):
        judge(log, LIMITS)


def _letter_by_letter(log: list[Sample]) -> tuple[float, float, float]:
    """Peak, rate and time above as they are defined, and nothing else."""
    points = [(time, value) for time, value in log if value is not None]
    values = [value for _, value in points]
    kept = [point for n, point in enumerate(points) if not _spike(values[max(0, n - 2) : n + 3], point[1])]
    longest = max(5.0, 3 * median(b - a for (a, _), (b, _) in pairwise(kept)))
    gaps = sum(b - a > longest for (a, _), (b, _) in pairwise(kept))
    peak = max(median((a, b, c)) for (_, a), (_, b), (_, c) in zip(kept, kept[1:], kept[2:], strict=False))
    windows = (kept[n : n + 11] for n in range(len(kept) - 8))
    rate = max(linear_regression([t for t, _ in window], [v for _, v in window]).slope for window in windows)
    return peak, rate, sum(b - a for (a, x), (b, y) in pairwise(kept) if min(x, y) > 120) + gaps


def _spike(window: list[float], value: float) -> bool:
    middle = median(window)
    return abs(value - middle) > max(5.0, 4 * 1.4826 * median(abs(one - middle) for one in window))
