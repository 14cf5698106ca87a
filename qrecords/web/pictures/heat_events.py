"""What befell a heating log, marked in its picture and said in words.

A gap keeps its place between two dotted lines, samples without a temperature are dots along the foot, a spike
that was left out is a cross (at the edge if it lies beyond), a lost probe a dashed line, a clock set back an
arrow head to the left. Only the longest gap and the lost probe are lettered: the words say all.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeVar

from django.utils.translation import gettext, ngettext

from qrecords.engineering.curve_events import BackwardClock, Dropout, Event, Gap, Point, ProbeOff, Spike
from qrecords.web.pictures.coordinates import Scale, head, line
from qrecords.wording.figures import Figures, with_unit

CROSS_PX, CLOCK_PX, LEAST_PX, OVER_FOOT_PX = 4.0, 8.0, 3.0, 4.0
SAID_SINGLY = 3  # of one kind; more are said together

Kind = TypeVar("Kind", BackwardClock, Dropout, Gap, ProbeOff, Spike)


@dataclass(frozen=True)
class EventMarks:
    """Paths of one picture: `empty` where nothing was read, `crosses`, `lost` and `clock`."""

    empty: str
    crosses: str
    lost: str
    clock: str


def event_marks(events: Sequence[Event], x: Scale, y: Scale, top: float, foot: float) -> EventMarks:
    """The marks of all events between the top and the foot of a picture, px."""
    empty = [line(x.at(s), top, x.at(s), foot) for gap in _of(events, Gap) for s in (gap.at_s, gap.until_s)]
    for lost in _of(events, Dropout):
        start, base = x.at(lost.at_s), foot - OVER_FOOT_PX
        empty.append(line(start, base, max(x.at(lost.until_s), start + LEAST_PX), base))
    crosses = []
    for spike in _of(events, Spike):
        at, height = x.at(spike.at_s), min(max(y.at(spike.read_mdegc), top + CROSS_PX), foot - CROSS_PX)
        for slant in (CROSS_PX, -CROSS_PX):
            crosses.append(line(at - CROSS_PX, height - slant, at + CROSS_PX, height + slant))
    return EventMarks(
        empty="".join(empty),
        crosses="".join(crosses),
        lost="".join(line(x.at(off.at_s), top, x.at(off.at_s), foot) for off in _of(events, ProbeOff)),
        clock="".join(head(x.at(back.at_s), foot, 180, CLOCK_PX) for back in _of(events, BackwardClock)),
    )


def moments(events: Sequence[Event]) -> list[float]:
    """Every moment that must lie inside the picture, s."""
    ends = [event.until_s for event in events if isinstance(event, Dropout | Gap)]
    return [event.at_s for event in events] + ends


def lettered(events: Sequence[Event], figures: Figures) -> list[tuple[Point, str, str]]:
    """The few words inside the picture: where, what, and whether they start or centre there."""
    found: list[tuple[Point, str, str]] = []
    if gaps := _of(events, Gap):
        longest = max(gaps, key=lambda gap: gap.length_s)
        middle = (longest.at_s + longest.until_s) / 2, max(longest.before_mdegc, longest.after_mdegc)
        found.append((middle, gettext("gap %(s)s") % {"s": _seconds(longest.length_s, figures)}, "middle"))
    for off in _of(events, ProbeOff):
        found.append(((off.at_s, off.from_mdegc), gettext("probe off"), "start"))
    return found


def event_words(events: Sequence[Event], figures: Figures) -> list[str]:
    """Every event in words: up to three of a kind one by one, more of them together."""
    return [
        *_said(_of(events, Dropout), figures, _dropout, _dropouts),
        *_said(_of(events, Spike), figures, _spike, _spikes),
        *_said(_of(events, Gap), figures, _gap, _gaps),
        *_said(_of(events, ProbeOff), figures, _probe_off, lambda _many, _figures: ""),
        *_clock(_of(events, BackwardClock), figures),
    ]


def _of(events: Sequence[Event], kind: type[Kind]) -> list[Kind]:
    return [event for event in events if isinstance(event, kind)]


def _said(
    events: list[Kind],
    figures: Figures,
    one: Callable[[Kind, Figures], str],
    many: Callable[[list[Kind], Figures], str],
) -> list[str]:
    if len(events) > SAID_SINGLY:
        return [many(events, figures)]
    return [one(event, figures) for event in events]


def _seconds(value: float, figures: Figures) -> str:
    """Seconds to a tenth, an idle nought dropped."""
    return with_unit(figures.plain(Decimal(f"{value:.1f}".removesuffix(".0"))), "s")


def _celsius(mdegc: int, figures: Figures) -> str:
    return with_unit(figures.tenths_of_celsius(mdegc), "°C")


def _dropout(lost: Dropout, figures: Figures) -> str:
    words = ngettext(
        "%(n)s sample without a temperature at %(at)s.",
        "%(n)s samples without a temperature from %(at)s to %(until)s.",
        lost.samples,
    )
    return words % {
        "n": lost.samples,
        "at": _seconds(lost.at_s, figures),
        "until": _seconds(lost.until_s, figures),
    }


def _dropouts(many: list[Dropout], figures: Figures) -> str:
    words = gettext("%(n)s samples without a temperature in %(times)s places, the first at %(at)s.")
    number = sum(lost.samples for lost in many)
    return words % {"n": number, "times": len(many), "at": _seconds(many[0].at_s, figures)}


def _spike(spike: Spike, figures: Figures) -> str:
    words = gettext("%(read)s at %(at)s is far from its neighbours at %(median)s and left out.")
    read, median = (_celsius(value, figures) for value in (spike.read_mdegc, spike.median_mdegc))
    return words % {"read": read, "at": _seconds(spike.at_s, figures), "median": median}


def _spikes(many: list[Spike], figures: Figures) -> str:
    words = gettext("%(n)s samples far from their neighbours are left out, the highest %(read)s.")
    highest = max(spike.read_mdegc for spike in many)
    return words % {"n": len(many), "read": _celsius(highest, figures)}


def _gap(gap: Gap, figures: Figures) -> str:
    words = gettext("Nothing usable was read from %(at)s to %(until)s; nothing is drawn there.")
    return words % {"at": _seconds(gap.at_s, figures), "until": _seconds(gap.until_s, figures)}


def _gaps(many: list[Gap], figures: Figures) -> str:
    words = gettext("Nothing usable was read in %(n)s gaps, the longest %(s)s; nothing is drawn there.")
    return words % {"n": len(many), "s": _seconds(max(gap.length_s for gap in many), figures)}


def _probe_off(off: ProbeOff, figures: Figures) -> str:
    words = gettext("The probe came off at %(at)s, at %(from)s: what follows is not the ring.")
    return words % {"at": _seconds(off.at_s, figures), "from": _celsius(off.from_mdegc, figures)}


def _clock(many: list[BackwardClock], figures: Figures) -> list[str]:
    if not many:
        return []
    words = ngettext(
        "The clock went back once, by %(s)s; the samples are sorted.",
        "The clock went back %(n)s times, by up to %(s)s; the samples are sorted.",
        len(many),
    )
    return [words % {"n": len(many), "s": _seconds(max(back.back_s for back in many), figures)}]
