"""From what a logger wrote to gap-free runs of temperature, and a list of what befell it on the way.

Nothing is filled in: a bad sample is left out and told, a gap stays a gap, and what was read after the probe
came off the ring is kept apart. The limits are house rules; the spike's is a median filter with the median
absolute deviation for its spread.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cached_property
from itertools import groupby, pairwise
from math import isfinite, nan
from operator import itemgetter, lt, sub
from typing import cast

from .curve_events import BackwardClock, Dropout, Event, Gap, Point, ProbeOff, Spike
from .errors import OutOfRangeError
from .readings import counted
from .units import known_unit

COLDEST_MDEGC, HOTTEST_MDEGC = -40_000, 400_000  # an open thermocouple reads 1372, a broken link 9999 or −200
LEAST_SAMPLES, MOST_SAMPLES = 2, 100_000  # a day at one a second and some more
LATEST_S = 1e10  # seconds since any epoch in use; a float still tells microseconds there

SPIKE_MK = 5000
MAD_TO_SIGMA = 1.4826  # of a normal spread: 1/Φ⁻¹(3/4)
SPIKE_FACTOR = 4 * MAD_TO_SIGMA
GAP_S, GAP_STEPS = 5.0, 3
FALL_MK_PER_S, FALL_MK = 2000, 10_000  # still air cools even a ring of 20 mm bore by 0.22 K/s at most

Sample = tuple[float, float | None]
"""Seconds, temperature in the log's unit or None where the logger wrote none."""

Run = tuple[Point, ...]


@dataclass(frozen=True)
class CleanCurve:
    """The gap-free runs before the probe came off, what was read after that, and all events in order of time.

    The last sample before a fall that no ring can make is the last of `runs`; `after` is empty without one.
    """

    runs: tuple[Run, ...]
    after: tuple[Run, ...]
    events: tuple[Event, ...]

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """The gaps between the runs; those after the probe came off are events only."""
        last_s = self.runs[-1][-1][0]
        return tuple(event for event in self.events if isinstance(event, Gap) and event.until_s <= last_s)

    @cached_property
    def tops(self) -> tuple[int, ...]:
        """The highest sample of every run, m°C."""
        return tuple(max(map(_value, run)) for run in self.runs)

    @property
    def probe_off(self) -> ProbeOff | None:
        return next((event for event in self.events if isinstance(event, ProbeOff)), None)


def clean(samples: Sequence[Sample], unit: str = "°C") -> CleanCurve:
    """Sort, drop and cut the samples of one log in °C or °F; their order tells only of a clock set back.

    Of good samples with equal times the median counts. Raises OutOfRangeError for a time that is no finite
    number, a temperature that is neither a number nor None, fewer than two samples (or two good times) and
    more than a log has; NotAQuantityError for a unit of something else. Source: house rule.
    """
    counted("samples", len(samples), LEAST_SAMPLES, MOST_SAMPLES)
    fahrenheit = known_unit("temperature", unit) == "°F"
    flawless = _flawless(samples, fahrenheit)
    good, befell = (flawless, []) if flawless else _one_by_one(samples, fahrenheit)
    counted("samples with a temperature", len(good), LEAST_SAMPLES, MOST_SAMPLES)
    steady, spikes = _without_spikes(good)
    steps_s = _steps(tuple(map(_time, steady)))
    runs, gaps = _runs(steady, steps_s)
    off = _probe_off(steady, steps_s)
    events = sorted([*befell, *spikes, *gaps, *([off] if off else [])], key=_in_time)
    if off is None:
        return CleanCurve(runs, (), tuple(events))
    return CleanCurve(*_cut(runs, off.at_s), tuple(events))


def _in_time(event: Event) -> tuple[float, str]:
    return event.at_s, type(event).__name__


_time, _value = itemgetter(0), itemgetter(1)


def _steps(numbers: Sequence[float]) -> list[float]:
    """From each number to the next."""
    return list(map(sub, numbers[1:], numbers))


def _flawless(samples: Sequence[Sample], fahrenheit: bool) -> Run | None:
    """The whole log at once, where every time and temperature is a float, the clock only goes on and all of
    it is what a ring can have: nearly always. Else None."""
    times, read = [time for time, _ in samples], [temperature for _, temperature in samples]
    if {*map(type, times), *map(type, read)} != {float} or not all(map(lt, times, times[1:])):
        return None
    numbers = cast(list[float], read)
    if not (times[0] >= -LATEST_S and times[-1] <= LATEST_S and isfinite(sum(numbers))):
        return None
    mdegc = [((n - 32) / 1.8 if fahrenheit else n) * 1000 for n in numbers]
    if min(mdegc) < COLDEST_MDEGC or max(mdegc) > HOTTEST_MDEGC:
        return None
    return tuple(zip(times, map(round, mdegc), strict=True))


def _one_by_one(samples: Sequence[Sample], fahrenheit: bool) -> tuple[Run, list[Event]]:
    """The good samples in order of time, and what befell clock and samples."""
    read = [(_seconds(time), _mdegc(temperature, fahrenheit)) for time, temperature in samples]
    backward = [BackwardClock(at, before - at) for (before, _), (at, _) in pairwise(read) if at < before]
    good, dropouts = _sorted(read)
    return good, [*backward, *dropouts]


def _number(value: object) -> float | None:
    """The value as a float, not a number if it is too big for one; None for what is no number."""
    if not isinstance(value, int | float | Decimal | Fraction) or isinstance(value, bool):
        return None
    try:
        return float(value)
    except (OverflowError, ValueError):
        return nan


def _seconds(time: object) -> float:
    number = time if type(time) is float else _number(time)
    if number is None or not -LATEST_S <= number <= LATEST_S:
        raise OutOfRangeError("time", told(time), "s", -LATEST_S, LATEST_S)
    return number


def _mdegc(temperature: object, fahrenheit: bool) -> int | None:
    """m°C, rounded once; None for a sample that says nothing of the ring."""
    if temperature is None:
        return None
    number = temperature if type(temperature) is float else _number(temperature)
    if number is None:
        low, high = COLDEST_MDEGC // 1000, HOTTEST_MDEGC // 1000
        raise OutOfRangeError("temperature", told(temperature), "°C", low, high)
    mdegc = ((number - 32) / 1.8 if fahrenheit else number) * 1000
    return round(mdegc) if COLDEST_MDEGC <= mdegc <= HOTTEST_MDEGC else None  # nothing that is not finite is


def told(value: object) -> str:
    """A value for a message; a whole number beyond what Python writes out is told by its kind."""
    try:
        return str(value)
    except ValueError:
        return type(value).__name__


def _sorted(read: Sequence[tuple[float, int | None]]) -> tuple[Run, tuple[Dropout, ...]]:
    """Good samples in order of time, one a time, and the bad ones as dropouts.

    A bad sample is left out before the median of equal times is taken: it would move it.
    """
    ordered = sorted(read, key=itemgetter(0))
    sound = tuple((at, value) for at, value in ordered if value is not None)
    if len(sound) == len(ordered) and all(a[0] < b[0] for a, b in pairwise(sound)):
        return sound, ()
    good: list[Point] = []
    dropouts: list[Dropout] = []
    dropping = False
    for at, same in groupby(ordered, key=itemgetter(0)):
        values = [value for _, value in same]
        there = sorted(value for value in values if value is not None)
        lost = len(values) - len(there)
        if lost and dropping:
            before = dropouts.pop()
            dropouts.append(Dropout(before.at_s, at, before.samples + lost))
        elif lost:
            dropouts.append(Dropout(at, at, lost))
        dropping = lost > 0
        if there:
            good.append((at, round(_median(there))))
    return tuple(good), tuple(dropouts)


def _median(ordered: Sequence[float]) -> float:
    half = len(ordered) // 2
    return ordered[half] if len(ordered) % 2 else (ordered[half - 1] + ordered[half]) / 2


def _without_spikes(points: Run) -> tuple[Run, tuple[Spike, ...]]:
    """Without samples further than max(5 K, 4·1.4826·MAD) from the median of the five around them.

    The window is centred, so it holds three at the second and last but one. The first and the last have no
    neighbour on one side and stay: a wrong one can leave a curve unproven, a right one that is dropped could
    hide an overheat.
    """
    spikes = {}
    for at in _far_from_a_neighbour(points):
        reach = min(2, at, len(points) - 1 - at)
        window = sorted(value for _, value in points[at - reach : at + reach + 1])
        middle = window[reach]
        spread = sorted(abs(value - middle) for value in window)[reach]
        if abs(points[at][1] - middle) > max(float(SPIKE_MK), SPIKE_FACTOR * spread):
            spikes[at] = Spike(points[at][0], points[at][1], middle)
    if not spikes:
        return points, ()
    return tuple(point for n, point in enumerate(points) if n not in spikes), tuple(spikes.values())


def _far_from_a_neighbour(points: Run) -> Iterator[int]:
    """Only these can be spikes: what is 5 K off the median of five is 5 K off three of its four neighbours,
    so off one of the two beside it."""
    steps = _steps(tuple(map(_value, points)))
    if min(steps, default=0) >= -SPIKE_MK and max(steps, default=0) <= SPIKE_MK:
        return iter(())
    far = [abs(step) > SPIKE_MK for step in steps]
    return (at for at, (before, behind) in enumerate(pairwise(far), start=1) if before or behind)


def _runs(points: Run, steps: Sequence[float]) -> tuple[tuple[Run, ...], tuple[Gap, ...]]:
    """Cut where samples are more than max(5 s, 3 median steps) apart."""
    longest = max(GAP_S, GAP_STEPS * _median(sorted(steps))) if steps else GAP_S
    if not steps or max(steps) <= longest:
        return (points,), ()
    cuts = [n for n, step in enumerate(steps, start=1) if step > longest]
    runs = tuple(points[a:b] for a, b in pairwise((0, *cuts, len(points))))
    gaps = tuple(Gap(a[-1][0], b[0][0], a[-1][1], b[0][1]) for a, b in pairwise(runs))
    return runs, gaps


def _probe_off(points: Run, steps_s: Sequence[float]) -> ProbeOff | None:
    """The first run of intervals that each fall faster than 2 K/s, by 10 K or more together.

    A gap counts by its mean rate: whatever happened in it, no ring cools so fast.
    """
    steepest_mk = min(_steps(tuple(map(_value, points))), default=0)
    if -steepest_mk <= FALL_MK_PER_S * min(steps_s, default=0.0):
        return None  # not even the deepest fall in the shortest step
    start: Point | None = None
    end = points[0]
    for before, after in pairwise(points):
        fall_mk = before[1] - after[1]
        if fall_mk > 0 and fall_mk > FALL_MK_PER_S * (after[0] - before[0]):
            start, end = start or before, after
        elif start and start[1] - end[1] >= FALL_MK:
            break
        else:
            start = None
    if start is None or start[1] - end[1] < FALL_MK:
        return None
    return ProbeOff(start[0], start[1], start[1] - end[1])


def _cut(runs: tuple[Run, ...], off_s: float) -> tuple[tuple[Run, ...], tuple[Run, ...]]:
    """The runs up to and with the moment, and those after it."""
    kept = tuple(part for run in runs if (part := tuple(p for p in run if p[0] <= off_s)))
    after = tuple(part for run in runs if (part := tuple(p for p in run if p[0] > off_s)))
    return kept, after
