"""What is read off the gap-free runs of a heating log: peak, rate, time above the ceiling, overshoot, soak.

Temperatures in m°C inside, in °C and K in the results; times in s. Straight between samples, never across a
gap.
"""

import re
from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise
from math import fsum
from operator import add, sub
from typing import NamedTuple

from .curve_cleaning import CleanCurve, Run
from .curve_events import Gap, Point
from .result import Result, said

HOUSE_RULE = "house rule for temperature logs"
LEAST_SQUARES = "least squares line, JCGM 100:2008, H.3"
LIMITS_UNCONFIRMED = ("limits of spike, gap and lost probe",)
ON_THE_RING = "the probe sat on the inner ring's face"
STRAIGHT = "straight between samples, nothing across a gap"

RATE_WINDOW_S, RATE_LEAST_SAMPLES, RATE_LEAST_SPAN_S = 10.0, 4, 8.0
SOAK_MK = 3000
MEDIAN_OF = 3


class Above(NamedTuple):
    """Time above a ceiling as a bracket: surely `low` s, at most `high` s, and whether any was seen."""

    low: Result
    high: Result
    seen: bool


def celsius(mdegc: int) -> str:
    """A temperature as it stands in a formula."""
    return said(mdegc / 1000, "°C")


def highest_median(runs: Sequence[Run]) -> tuple[int, float] | None:
    """The highest median of three samples in a row, m°C, and when; None where no run has three."""
    best: tuple[int, float] | None = None
    for run in runs:
        if len(run) >= MEDIAN_OF and (
            (found := _highest_median(run)) and (best is None or found[0] > best[0])
        ):
            best = found
    return best


def _highest_median(run: Run) -> tuple[int, float]:
    """Of one run. The median of three is the most that two of them both reach: so only samples are looked at
    that reach what the three around the highest one have."""
    values = [value for _, value in run]
    top = min(max(values.index(max(values)), 1), len(values) - 2)
    least = sorted(values[top - 1 : top + 2])[1]
    high = [n for n, value in enumerate(values) if value >= least]
    most, middle = least, top
    for place, n in enumerate(high):
        for other in high[place + 1 : place + MEDIAN_OF]:
            if other - n < MEDIAN_OF and (both := min(values[n], values[other])) >= most:
                at = n + 1 if other - n > 1 else max(n, 1)
                most, middle = both, at if both > most else min(middle, at)
    return most, run[middle][0]


def peak(curve: CleanCurve, found: tuple[int, float], u_mk: int) -> Result:
    """Peak in °C with its u, from the highest median of three samples in a row within a run.

    A single wrong sample cannot make it; the tip of a steep peak is clipped by up to rate × step, so the
    highest single sample stands beside it.
    """
    mdegc, at_s = found
    return Result(
        mdegc / 1000, "°C", u_mk / 1000, "peak = max of median(Tᵢ₋₁, Tᵢ, Tᵢ₊₁) within gap-free runs",
        (("median", celsius(mdegc)), ("t", said(at_s, "s")),
         ("highest sample", celsius(highest_sample(curve)))),
        (ON_THE_RING, "clips the tip of a steep peak by up to rate × step"), HOUSE_RULE, LIMITS_UNCONFIRMED,
    )  # fmt: skip


def highest_sample(curve: CleanCurve) -> int:
    """The highest sample, m°C, that is no spike and was read before the probe came off."""
    return max(curve.tops)


def slope(points: Sequence[Point]) -> float:
    """Slope of the least squares line in K/s; the times must not all be equal."""
    mean_s = fsum(at for at, _ in points) / len(points)
    mean_k = fsum(value for _, value in points) / len(points) / 1000
    squares = fsum((at - mean_s) ** 2 for at, _ in points)
    return fsum((at - mean_s) * (value / 1000 - mean_k) for at, value in points) / squares


def rate(curve: CleanCurve) -> Result | None:
    """The highest slope in K/s of any window [t, t + 10 s] that starts at a sample and lies in one run.

    A window holds four samples or more over 8 s or more; None where there is no such window.
    """
    found = [window for run in curve.runs if (window := _steepest(run))]
    if not found:
        return None
    value, window = max((slope(window), window) for window in found)
    return Result(
        value, "K/s", None, "rate = Σ(tᵢ − t̄)(Tᵢ − T̄) / Σ(tᵢ − t̄)², highest window of 10 s",
        (("n", str(len(window))), ("t", f"{said(window[0][0])} to {said(window[-1][0], 's')}"),
         ("T", f"{said(window[0][1] / 1000)} to {celsius(window[-1][1])}")),
        ("no gap in the window",), LEAST_SQUARES, ("length of the window",),
    )  # fmt: skip


def _steepest(run: Run) -> Run | None:
    """The window of the highest slope."""
    times, values = [at for at, _ in run], [value for _, value in run]
    steps = {*map(sub, times[1:], times)}
    step = steps.pop() if len(steps) == 1 else 0.0
    if step >= 1 and step.is_integer() and times[0].is_integer():
        best = _steepest_even(values, int(step))
    else:
        best = _steepest_uneven(times, values)
    return run[best[1] : best[2]] if best else None


def _steepest_even(values: Sequence[int], step_s: int) -> tuple[float, int, int] | None:
    """Slope, start and end of the steepest window where samples are whole equal seconds apart. All windows of
    n samples have one Σ(tᵢ − t̄)², and Σ(tᵢ − t̄)Tᵢ follows from running sums: whole numbers, so exactly."""
    sums = list(accumulate(values, initial=0))  # of T before each sample
    of_sums = list(accumulate(sums))
    most = int(RATE_WINDOW_S) // step_s + 1
    least = max(RATE_LEAST_SAMPLES, -(-int(RATE_LEAST_SPAN_S) // step_s) + 1)
    best: tuple[float, int, int] | None = None
    for n in range(min(most, len(values)), least - 1, -1):
        skip = 0 if n == most else len(values) - n  # only where the log ends does a window end sooner
        begun = [
            (n - 1) * of_t + 2 * of_sum for of_t, of_sum in zip(sums[skip:], of_sums[skip:], strict=True)
        ]
        ended = (
            (n - 1) * of_t - 2 * of_sum
            for of_t, of_sum in zip(sums[skip + n :], of_sums[skip + n - 1 :], strict=False)
        )
        twice = list(map(add, begun, ended))
        highest = max(twice)
        steep = (step_s * n * highest // 2) / (step_s * step_s * n * n * (n * n - 1) // 12)
        if best is None or steep > best[0]:
            start = skip + twice.index(highest)
            best = steep, start, start + n
    return best


def _steepest_uneven(times: Sequence[float], values: Sequence[int]) -> tuple[float, int, int] | None:
    """The same of any samples. One pass: the sums follow the window, counted from its first sample so that
    they stay small whatever the clock says."""
    best: tuple[float, int, int] | None = None
    end = 0
    st = sv = stt = stv = 0.0  # sums of t, T, t², t·T
    for start, origin in enumerate(times):
        while end < len(times) and (t := times[end] - origin) <= RATE_WINDOW_S:
            v = values[end]
            end += 1
            st += t
            sv += v
            stt += t * t
            stv += t * v
        n = end - start
        if n >= RATE_LEAST_SAMPLES and times[end - 1] - origin >= RATE_LEAST_SPAN_S:
            steep = (n * stv - st * sv) / (n * stt - st * st)
            if best is None or steep > best[0]:
                best = steep, start, end
        sv -= values[start]  # its t is 0: nothing else to take off
        if start + 1 < len(times):
            on, n = times[start + 1] - origin, n - 1
            stv -= on * sv
            stt = stt - 2 * on * st + n * on * on
            st -= n * on
    return best


def seconds_above(run: Run, limit_mdegc: int) -> float:
    """Time strictly above a temperature, straight between samples."""
    over = (pair for pair in pairwise(run) if pair[0][1] > limit_mdegc or pair[1][1] > limit_mdegc)
    return fsum(_part_above(a, b, limit_mdegc) for a, b in over)


def _part_above(a: Point, b: Point, limit: int) -> float:
    """Of an interval with an end above."""
    low, high = min(a[1], b[1]), max(a[1], b[1])
    return (b[0] - a[0]) * ((high - limit) / (high - low) if low < limit else 1.0)


def above(curve: CleanCurve, ceiling_mdegc: int) -> Above:
    """Time above the ceiling: a gap adds nothing to the low end, and its whole length to the high end if one
    of its ends is above. What came after a lost probe, and what a gap with both ends below can hide, are not
    in it: they leave the curve unproven.
    """
    low_s = fsum(
        seconds_above(run, ceiling_mdegc)
        for run, top in zip(curve.runs, curve.tops, strict=True)
        if top > ceiling_mdegc
    )
    open_s = fsum(
        gap.length_s for gap in curve.gaps if max(gap.before_mdegc, gap.after_mdegc) > ceiling_mdegc
    )

    def result(value: float, formula: str) -> Result:
        return Result(
            value, "s", None, formula,
            (("ceiling", celsius(ceiling_mdegc)), ("seen", said(low_s, "s")), ("gaps", said(open_s, "s"))),
            (ON_THE_RING, STRAIGHT), HOUSE_RULE, LIMITS_UNCONFIRMED,
        )  # fmt: skip

    return Above(
        result(low_s, "low = time seen above"),
        result(low_s + open_s, "high = time seen above + gaps that begin or end above"),
        max(curve.tops) > ceiling_mdegc,
    )


def could_hide(gap: Gap, rise: Result | None, highest_mdegc: int) -> bool:
    """Whether the ring could have been above a temperature within a gap: from where it went in, at the
    highest rate of the log. Where the rate is not known, it could."""
    return rise is None or gap.before_mdegc + max(0.0, rise.value * 1000) * gap.length_s > highest_mdegc


def overshoot(peak_mdegc: int, target_mdegc: int) -> Result:
    """How far the peak went over the target, in K; 0 if it did not."""
    return Result(
        max(0, peak_mdegc - target_mdegc) / 1000, "K", None, "overshoot = max(0, peak − target)",
        (("peak", celsius(peak_mdegc)), ("target", celsius(target_mdegc))), (ON_THE_RING,), HOUSE_RULE,
    )  # fmt: skip


def overshoot_share(peak_mdegc: int, target_mdegc: int, first_mdegc: int) -> Result | None:
    """The overshoot in % of the rise that was wanted, target − first sample; None where none was."""
    if target_mdegc <= first_mdegc:
        return None
    over = max(0, peak_mdegc - target_mdegc)
    return Result(
        100 * over / (target_mdegc - first_mdegc), "%", None,
        "overshoot = 100·max(0, peak − target) / (target − first)",
        (("peak", celsius(peak_mdegc)), ("target", celsius(target_mdegc)), ("first", celsius(first_mdegc))),
        (ON_THE_RING,), HOUSE_RULE,
    )  # fmt: skip


def soak(curve: CleanCurve, target_mdegc: int) -> Result:
    """The longest time on end within 3 K of the target, limits included, in s, without a gap."""
    low, high = target_mdegc - SOAK_MK, target_mdegc + SOAK_MK
    return Result(
        max(longest_within(run, low, high) for run in curve.runs), "s", None,
        "soak = longest time on end with |T − target| ≤ 3 K",
        (("target", celsius(target_mdegc)),), (ON_THE_RING, STRAIGHT), HOUSE_RULE, ("band of 3 K",),
    )  # fmt: skip


def longest_within(run: Run, low_mdegc: int, high_mdegc: int) -> float:
    """The longest time on end between two temperatures, both included, straight between samples, s."""
    longest = since = last = 0.0
    for start, end in _pieces_within(run, low_mdegc, high_mdegc):
        since, last = (since if start == last else start), end
        if last - since > longest:
            longest = last - since
    return longest


_INSIDE = rb"\x01+|\x00(?=\x02)|\x02(?=\x00)"
"""Samples on end within, or the last one before an interval that crosses from below to above or back."""


def _pieces_within(run: Run, low: int, high: int) -> Iterator[tuple[float, float]]:
    """The parts of the run that lie inside, from sample or crossing to sample or crossing."""
    sides = bytes([(value >= low) + (value > high) for _, value in run])
    for found in re.finditer(_INSIDE, sides):
        first, last = found.start(), found.end() - 1
        if sides[first] != 1:
            yield _crossings(run[first], run[last + 1], low, high)
            continue
        yield (
            _crossings(run[first - 1], run[first], low, high)[0] if first else run[first][0],
            _crossings(run[last], run[last + 1], low, high)[1] if last + 1 < len(run) else run[last][0],
        )


def _crossings(before: Point, after: Point, low: int, high: int) -> tuple[float, float]:
    """When the line through two samples crosses both limits, the earlier first."""
    (t1, a), (t2, b) = before, after
    first, second = sorted(t1 + (t2 - t1) * (limit - a) / (b - a) for limit in (low, high))
    return first, second
