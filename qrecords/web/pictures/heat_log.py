"""A logger's curve made ready to be drawn: a curve for every gap-free run, and its events, on one clock."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from qrecords.engineering.curve_cleaning import CleanCurve, Run
from qrecords.engineering.curve_events import Dropout, Event, Gap
from qrecords.web.pictures.heat_curve import Curve

MOST_PLACES = 420  # about one a pixel: more would only make the page heavy


@dataclass(frozen=True)
class HeatLog:
    """What `heat_curve` takes of a log: its curves and its events."""

    curves: tuple[Curve, ...]
    events: tuple[Event, ...]


def heat_log(log: CleanCurve, zero_s: float | None = None) -> HeatLog:
    """The runs of a log, those after a lost probe faint, on a clock that is nought at `zero_s`.

    Without it the first sample is nought. Where samples lie closer than can be seen, each place keeps its
    lowest and its highest: no peak is lost.
    """
    every = (*log.runs, *log.after)
    first, last = every[0][0][0], every[-1][-1][0]
    zero = first if zero_s is None else zero_s
    place_s = (last - first) / MOST_PLACES
    curves = [Curve(_thinned(run, zero, place_s)) for run in log.runs]
    curves += [Curve(_thinned(run, zero, place_s), faint=True) for run in log.after]
    return HeatLog(tuple(curves), tuple(_moved(event, zero) for event in log.events))


def _thinned(run: Run, zero_s: float, place_s: float) -> Run:
    points = [(at - zero_s, value) for at, value in run]
    if len(points) <= MOST_PLACES or place_s == 0:
        return tuple(points)
    start = points[0][0]
    places = groupby(points, key=lambda point: int((point[0] - start) / place_s))
    return tuple(kept for _, place in places for kept in _ends(list(place)))


def _ends(place: list[tuple[float, int]]) -> Iterator[tuple[float, int]]:
    """The first, the lowest, the highest and the last of a place, in order of time."""
    by_value = sorted(place, key=lambda point: point[1])
    yield from sorted({place[0], by_value[0], by_value[-1], place[-1]})


def _moved(event: Event, zero_s: float) -> Event:
    if isinstance(event, Dropout | Gap):
        return event._replace(at_s=event.at_s - zero_s, until_s=event.until_s - zero_s)
    return event._replace(at_s=event.at_s - zero_s)
