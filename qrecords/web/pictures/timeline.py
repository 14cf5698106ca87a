"""A life along a line: years to scale, service dimensioned; one day opened as a detail.

Labels stand over the line on leaders. No label covers another, and no leader crosses a label.
"""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal

from django.utils.translation import gettext

from qrecords.web.moments import in_words
from qrecords.web.pictures.coordinates import Dimension, Label, Scale, line, px, text_width

WIDTH, LEFT, RIGHT, LETTERS, LANE = 990.0, 22.0, 956.0, 15.0, 19.0

Sort = Literal["mark", "looked", "end", "detail"]


@dataclass(frozen=True)
class Event:
    """Something that happened: `sort` is mark (dot), looked (open ring), end (cross) or detail (the circle of
    the day that is opened)."""

    at: datetime
    text: str
    sort: Sort = "mark"
    bold: bool = False


@dataclass(frozen=True)
class Mark:
    """An event as drawn."""

    x: str
    leader: str
    label: Label
    sort: Sort


@dataclass(frozen=True)
class Timeline:
    """Everything `parts/timeline.html` places."""

    id: str
    width: str
    height: str
    title: str
    desc: str
    y: str
    axis: str
    served: str
    ticks: str
    tick_labels: tuple[Label, ...]
    marks: tuple[Mark, ...]
    span: Dimension | None
    extensions: str
    told: tuple[tuple[str, str, Sort], ...]
    """When, what and its sort, in order: the same on a page too narrow for the line."""
    spanned: str


def life(
    events: tuple[Event, ...],
    *,
    until: date,
    prefix: str,
    served: tuple[datetime, datetime, str] | None = None,
) -> Timeline:
    """Years to scale from the year of the first event to `until`; `served` dimensions the service."""
    first = events[0].at.replace(month=1, day=1, hour=0, minute=0, second=0, microsecond=0)
    last = datetime(until.year, until.month, until.day, tzinfo=first.tzinfo)
    starts = [first.replace(year=year) for year in range(first.year, last.year + 1)]
    ticks = [(at, str(at.year)) for at in starts]
    return _timeline(events, first, last, ticks, served, prefix, gettext("Life of the bearing"), thick=True)


def day(
    events: tuple[Event, ...],
    *,
    prefix: str,
    spanned: tuple[datetime, datetime, str] | None = None,
) -> Timeline:
    """One day, whole hours to scale around its events."""
    first = events[0].at.replace(minute=0, second=0, microsecond=0) - timedelta(hours=1)
    last = events[-1].at.replace(minute=0, second=0, microsecond=0) + timedelta(hours=1)
    hours = round((last - first) / timedelta(hours=1))
    every = -(-hours // 12)
    moments = [first + timedelta(hours=number) for number in range(0, hours + 1, every)]
    ticks = [(at, f"{at:%H:%M}") for at in moments]
    return _timeline(events, first, last, ticks, spanned, prefix, gettext("The day of mounting"))


def _timeline(
    events: tuple[Event, ...],
    first: datetime,
    last: datetime,
    ticks: list[tuple[datetime, str]],
    span: tuple[datetime, datetime, str] | None,
    prefix: str,
    title: str,
    thick: bool = False,
) -> Timeline:
    x = Scale.between(first.timestamp(), LEFT, last.timestamp(), RIGHT)
    places = [x.at(e.at.timestamp()) for e in events]
    reaches = _reaches(places, [text_width(e.text, LETTERS) for e in events])
    lanes = _lanes(places, reaches)
    y = 34 + LANE * max(lanes)
    dimension, served, extensions = None, "", ""
    if span:
        start, end = x.at(span[0].timestamp()), x.at(span[1].timestamp())
        dimension = Dimension.across(start, end, y + 44, span[2], text_width(span[2], LETTERS))
        served = line(start, y, end, y) if thick else ""
        extensions = line(start, y + 6, start, y + 50) + line(end, y + 6, end, y + 50)
    return Timeline(
        id=prefix,
        width=px(WIDTH),
        height=px(y + (54 if span else 30)),
        title=title,
        desc=". ".join(f"{in_words(e.at)} {e.text}" for e in events) + (f". {span[2]}." if span else "."),
        y=px(y),
        axis=line(LEFT, y, RIGHT, y),
        served=served,
        ticks="".join(line(x.at(at.timestamp()), y, x.at(at.timestamp()), y + 9) for at, _ in ticks),
        tick_labels=tuple(Label.of(x.at(at.timestamp()), y + 25, words, "middle") for at, words in ticks),
        marks=tuple(
            _mark(e, at, reach[1] == at, y - lane * LANE - 20, y)
            for e, at, reach, lane in zip(events, places, reaches, lanes, strict=True)
        ),
        span=dimension,
        extensions=extensions,
        told=tuple((f"{e.at:%H:%M}" if not thick else in_words(e.at), e.text, e.sort) for e in events),
        spanned=span[2] if span else "",
    )


def _reaches(places: list[float], widths: list[float]) -> list[tuple[float, float]]:
    """How far each label runs: to the right of its leader, or to the left where it would leave the
    paper or run into the leader of one that runs to the left."""
    reaches: list[tuple[float, float]] = []
    edge = RIGHT + 14
    for at, wide in zip(reversed(places), reversed(widths), strict=True):
        if at + wide + 10 > edge:
            reaches.append((at - wide - 10, at))
            edge = at
        else:
            reaches.append((at, at + wide + 10))
    return reaches[::-1]


def _lanes(places: list[float], reaches: list[tuple[float, float]]) -> list[int]:
    """The height of each label: above every label it would meet and every leader it would cross."""
    lanes = [0] * len(places)
    rightward = [n for n in range(len(places)) if reaches[n][1] > places[n]]
    leftward = [n for n in range(len(places)) if reaches[n][1] == places[n]]
    settled: list[int] = []
    for number in [*reversed(rightward), *leftward]:
        low, high = reaches[number]
        met = [lanes[o] for o in settled if reaches[o][0] < high and low < reaches[o][1]]
        lanes[number] = 1 + max(met, default=-1)
        settled.append(number)
    return lanes


def _mark(event: Event, at: float, left: bool, top: float, y: float) -> Mark:
    label = Label.of(at - 6 if left else at + 6, top + 4, event.text, "end" if left else "start", event.bold)
    clear = {"mark": 0.0, "looked": 6.0, "end": 0.0, "detail": 14.0}[event.sort]
    return Mark(px(at), line(at, y - clear, at, top - 6), label, event.sort)
