"""A bearing's life with years to scale, and the day of mounting as a detail with hours."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta, tzinfo
from typing import Any

from django.utils.translation import gettext, ngettext
from django.utils.translation import gettext_noop as _

from qrecords.people.bounds import zone_of
from qrecords.steps.bearing_life import Event as Became
from qrecords.steps.runs import Run, runs
from qrecords.steps.transitions import State
from qrecords.tracing.history import Chapter
from qrecords.tracing.lives import Life, removed_on
from qrecords.tracing.record import Line, Record
from qrecords.web.moments import begun, calendar_day, moment
from qrecords.web.moments import day as day_of
from qrecords.web.names import hold_name
from qrecords.web.pictures.timeline import Event, Timeline, day, life


@dataclass(frozen=True)
class Day:
    """The day of mounting: `factor` of its detail, and what belongs to other days in words."""

    picture: Timeline
    factor: str
    before: str
    after: str


def _span(first: datetime, last: datetime) -> str:
    """`5 years 2 months`, `3 months`, `12 days`."""
    days = (last - first).days
    years, months = divmod(round(days / 30.44), 12)
    if years == 0 and months < 2:
        return ngettext("%(n)s day", "%(n)s days", days) % {"n": days}
    words = [ngettext("%(n)s year", "%(n)s years", years) % {"n": years}] if years else []
    words += [ngettext("%(n)s month", "%(n)s months", months) % {"n": months}] if months else []
    return " ".join(words)


def duration(span: timedelta) -> str:
    """`4 h 11 min`, `16 s`."""
    seconds = round(span.total_seconds())
    if seconds < 120:
        return f"{seconds} s"
    minutes = seconds // 60
    return f"{minutes // 60} h {minutes % 60} min" if minutes >= 60 else f"{minutes} min"


def life_picture(
    chapters: Sequence[Chapter], open_id: object, zone: str, now: datetime, besides: Life | None = None
) -> Timeline:
    """Every mounting of the bearing and what became of it besides; the mounting that is opened carries the
    circle and letter of its detail."""
    where = zone_of(zone)
    events = [event for chapter in chapters for event in _of_chapter(chapter, open_id, zone)]
    events += _besides(besides, where) if besides else []
    events.sort(key=lambda event: event.at)
    served = _served(chapters, now, where, besides)
    return life(tuple(events), until=date(now.astimezone(where).year + 1, 1, 1), prefix="life", served=served)


def _of_chapter(chapter: Chapter, open_id: object, zone: str) -> list[Event]:
    where = zone_of(zone)
    at = chapter.mounting.opened_at.astimezone(where)
    opened = chapter.mounting.id == open_id
    words = begun(chapter.mounting, day_of(at, zone))
    found = [Event(at, f"D {words}" if opened else words, "detail" if opened else "mark")]
    if chapter.ending and chapter.ending.what != "inspected":
        end = chapter.ending.at.astimezone(where)
        words = f"{day_of(end, zone)}: {gettext(chapter.ending.what)}"
        scrapped = chapter.ending.what == State.SCRAPPED
        found.append(Event(end, words, "end" if scrapped else "looked", bold=scrapped))
    return found


NAMED: Mapping[str, str] = {
    Became.DELIVERED: _("delivered"),
    Became.REMOVED: _("removed"),
    Became.FAILED: _("failed"),
    Became.QUARANTINED: _("set aside"),
    Became.CLEARED: _("quarantine ended"),
    Became.SCRAPPED: _("scrapped"),
}


def _besides(life: Life, where: tzinfo) -> list[Event]:
    """Removals, failures, moves: each on its day, at noon, for no clock was there."""
    found = []
    for each in life.events:
        on = each.delivery.on if each.what == Became.DELIVERED and each.delivery else each.on
        last = each.what == Became.SCRAPPED
        words = f"{calendar_day(on)}: {gettext(NAMED[each.what])}"
        found.append(Event(_noon(on, where), words, "end" if last else "looked", bold=last))
    moved = gettext("shaft or machine moved")
    return found + [Event(_noon(m.on, where), f"{calendar_day(m.on)}: {moved}", "looked") for m in life.moves]


def _noon(on: date, where: tzinfo) -> datetime:
    return datetime.combine(on, time(12), where)


def _served(
    chapters: Sequence[Chapter], now: datetime, where: tzinfo, besides: Life | None
) -> tuple[datetime, datetime, str] | None:
    """From the newest sign-off to its removal, else to now: what happened outside since, this record does not
    know."""
    signed = [c for c in chapters if c.ending and c.ending.what == "inspected"]
    if not signed or not signed[-1].ending:
        return None
    start = signed[-1].ending.at.astimezone(where)
    off = removed_on(besides.events, signed[-1].mounting.id) if besides else None
    end = _noon(off, where) if off else now.astimezone(where)
    words = gettext("%(span)s in service") if off else gettext("%(span)s since sign-off")
    words %= {"span": _span(start, end)}
    return (start, end, words) if end - start > timedelta(days=1) else None


def day_picture(record: Record, zone: str, shown: Timeline | None = None) -> Day | None:
    """The day the ring went home, else of the first heat, else the first day; None where nothing was said."""
    where = zone_of(zone)
    events = sorted(_events(record, where), key=lambda event: event.at)
    if not events:
        return None
    chosen = _day_of_mounting(record, where)
    of_day = [event for event in events if event.at.date() == chosen] or events[:1]
    chosen = of_day[0].at.date()
    return Day(
        picture=day(tuple(of_day), prefix="day", spanned=_cooling(record, chosen, where)),
        factor=_factor(record, of_day, shown),
        before=_in_words((e for e in events if e.at.date() < chosen), zone),
        after=_in_words((e for e in events if e.at.date() > chosen), zone),
    )


def _in_words(events: Iterable[Event], zone: str) -> str:
    return "; ".join(f"{moment(event.at, zone)} {event.text}" for event in events)


def _day_of_mounting(record: Record, where: tzinfo) -> date:
    taps = [tap.at for what in ("home", "heater on") for tap in record.case.taps if tap.what == what]
    return (taps[0] if taps else record.mounting.opened_at).astimezone(where).date()


def _factor(record: Record, of_day: Sequence[Event], shown: Timeline | None) -> str:
    """How much larger than the life above it the detail is drawn, to one figure; '' without a life."""
    if shown is None:
        return ""
    hours = (of_day[-1].at - of_day[0].at) // timedelta(hours=1) + 2
    years = max(len(shown.tick_labels) - 1, 1)
    factor = years * 365.25 * 24 / hours
    power = 10 ** (len(str(int(factor))) - 1)
    return f"{int(factor // power * power)} : 1"


def _events(record: Record, where: tzinfo) -> list[Event]:
    """What happened, from entries of people; corrections of the same step only once."""
    found: list[Event] = []
    told: set[str] = set()
    for line in record.lines:
        words = _event_words(line, record)
        if words and words not in told:
            told.add(words)
            found.append(Event(line.at.astimezone(where), words))
    return found + [event for run in runs(record.case) for event in _of_run(run, where)]


def _event_words(line: Line, record: Record) -> str:
    said = line.said
    match line.entry.kind:
        case "capture" if said["role"] == "work":
            return _captured(said)
        case "release":
            what = {"fit": gettext("fit")}.get(said["hold"], hold_name(said["hold"]))
            return gettext("%(hold)s released, %(name)s") % {"hold": what, "name": line.author}
        case "decision":
            return f"{gettext(said['decision'])}, {line.author}"
        case "return":
            return gettext("returned, %(name)s") % {"name": line.author}
        case "withdrawal":
            return gettext("withdrawn, %(name)s") % {"name": line.author}
        case "amendment":
            words = gettext("amendment %(number)s opened, %(name)s")
            return words % {"number": line.seen["number"], "name": line.author}
        case "signature" if said["meaning"] == "performed":
            return gettext("ready")
        case "signature":
            return gettext("signed, %(name)s") % {"name": line.author}
    return ""


def _captured(said: Mapping[str, Any]) -> str:
    fields = said["fields"]
    match said["step"]:
        case "identification" if "marking" in fields:
            return gettext("marking read")
        case "measurement":
            count = sum(key.startswith("journal.") and "value" in answer for key, answer in fields.items())
            return ngettext("%(n)s reading", "%(n)s readings", count) % {"n": count} if count else ""
        case "shoulder_gap" if any(key.startswith("gap.") for key in fields):
            return gettext("gap felt")
        case "protection":
            return gettext("covered")
    return ""


def _of_run(run: Run, where: tzinfo) -> list[Event]:
    found = [Event(run.heater_on.at.astimezone(where), gettext("heater on"))]
    if run.lifted_off and run.home:
        words = gettext("lifted off, home %(span)s later") % {
            "span": duration(run.home.at - run.lifted_off.at)
        }
        found.append(Event(run.lifted_off.at.astimezone(where), words))
    elif run.lifted_off:
        found.append(Event(run.lifted_off.at.astimezone(where), gettext("lifted off")))
    return found + [Event(tap.at.astimezone(where), gettext(tap.what), bold=True) for tap in run.events]


def _cooling(record: Record, chosen: date, where: tzinfo) -> tuple[datetime, datetime, str] | None:
    """From let go to the first cold check of that day."""
    released = [tap.at for tap in record.case.taps if tap.what == "let go"]
    felt = [
        line.at
        for line in record.lines
        if line.entry.kind == "capture" and line.said["step"] == "shoulder_gap" and released
        if line.at > released[-1]
    ]
    if not felt or felt[0].astimezone(where).date() != chosen:
        return None
    start, end = released[-1].astimezone(where), felt[0].astimezone(where)
    if start.date() != chosen or end - start < timedelta(minutes=20):
        return None
    return start, end, gettext("cooling %(span)s") % {"span": duration(end - start)}
