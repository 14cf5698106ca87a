"""The sheet of one bearing, open at one of its mountings, with the panels beside it."""

from dataclasses import dataclass
from datetime import datetime

from django.db.models import QuerySet
from django.urls import NoReverseMatch, reverse
from django.utils.translation import gettext

from qrecords.mountings.models import Mounting
from qrecords.steps.findings import WORST_FIRST
from qrecords.steps.standard import all_findings
from qrecords.tracing.history import Chapter, Ending, life_of
from qrecords.tracing.lives import life_besides
from qrecords.tracing.record import Record, record_of
from qrecords.web.auditor.judged import Row, row
from qrecords.web.auditor.life import Day, day_picture, life_picture
from qrecords.web.auditor.panels import Panels, panels_of
from qrecords.web.auditor.read_with import Gauge, gauges_of, read_at
from qrecords.web.auditor.saying import occasion_name
from qrecords.web.moments import day, moment
from qrecords.web.parts import Cell
from qrecords.web.parts import Verdict as Frame
from qrecords.web.pictures.timeline import Timeline
from qrecords.web.registers.bearing_page import moved_words, origin_row
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import Figures
from qrecords.workshop.queries import zone_of_site


@dataclass(frozen=True)
class Beside:
    """One mounting in the list of a life: why it was made and how it ended."""

    number: str
    href: str
    when: str
    why: str
    ended: str
    here: bool


@dataclass(frozen=True)
class ThenNow:
    """A finding as it was judged then, with what and when its number was read; `now` is empty where judging
    today says the same."""

    then: Row
    now: Frame | None
    gauges: tuple[Gauge, ...]
    read: str


@dataclass(frozen=True)
class Sheet:
    cells: tuple[Cell, ...]
    life: Timeline
    where: str
    """Where the bearing is now."""
    origins: tuple[tuple[str, str, str], ...]
    moves: tuple[str, ...]
    bearing: str
    shared: tuple[tuple[str, str], ...]
    """What it shares with others, each with the address of all that share it."""
    day: Day | None
    mountings: tuple[Beside, ...]
    entries: str
    order: str
    judged_heading: str
    judged: tuple[ThenNow, ...]
    rest: str
    panels: Panels


def sheet_of(mounting: Mounting, rows: QuerySet[Mounting], now: datetime, base: str = "") -> Sheet:
    """Everything of the page; `rows` are the mountings within the asker's reach, `base` the address that
    opens another mounting on it (a query string ending in `=`). A fixed number of queries."""
    zone = zone_of_site(mounting.site)
    chapters = life_of(mounting.bearing, rows)
    record = record_of(mounting)
    besides = life_besides(mounting.bearing)
    picture = life_picture(chapters, mounting.id, zone, now, besides)
    heading, judged, rest = _then_now(record, zone)
    return Sheet(
        cells=cells_of(record, reverse("mounting-trace", args=[mounting.id])) + paper_of(record),
        entries=reverse("mounting-trace", args=[mounting.id]),
        order=reverse("rebuild", args=[mounting.rebuild_id]),
        life=picture,
        where=gettext(besides.now.where.value),
        origins=tuple(origin_row(origin) for origin in besides.origins),
        moves=tuple(moved_words(move) for move in besides.moves),
        bearing=reverse("bearing", args=[mounting.bearing_id]),
        shared=_shared_links(mounting),
        day=day_picture(record, zone, picture),
        mountings=tuple(_beside(chapter, mounting, zone, base) for chapter in chapters),
        judged_heading=heading,
        judged=judged,
        rest=rest,
        panels=panels_of(record, rows, zone),
    )


def _shared_links(mounting: Mounting) -> tuple[tuple[str, str], ...]:
    lot = mounting.lot_read or mounting.bearing.lot
    day_ = mounting.opened_at.date().isoformat()
    found = [(gettext("lot {lot}").format(lot=lot), reverse("shared", args=["lot", lot]))] if lot else []
    return (*found, (gettext("the same day"), reverse("shared", args=["day", day_])))


def place(mounting: Mounting) -> str:
    machine = mounting.journal.machine
    return f"{machine.owner} · {machine.name} · {mounting.journal.position}"


def cells_of(record: Record, href: str = "", figures: Figures = FIGURES) -> tuple[Cell, ...]:
    """The title block: which bearing, where, and how the mounting stands, with the address of its record."""
    mounting, asked = record.mounting, record.case.requirement
    return (
        Cell(gettext("bearing"), mounting.bearing.designation, strong=True),
        Cell(
            gettext("seat"),
            f"{figures.plain(asked.nominal_mm.normalize())} {asked.shaft_class}".strip(),
            upper=figures.deviation_um(asked.journal.upper_nm),
            lower=figures.deviation_um(asked.journal.lower_nm),
            unit="µm",
        ),
        Cell(gettext("place"), place(mounting), own_row=True),
        Cell(gettext("workshop mark"), mounting.journal.machine.mark),
        Cell(gettext("mounting"), f"{mounting.number}, {gettext(mounting.state)}", href=href),
    )


def paper_of(record: Record) -> tuple[Cell, ...]:
    """The certificate, once there is one to print."""
    if record.signature is None:
        return ()
    try:
        paper = reverse("certificate", args=[record.mounting.id])
    except NoReverseMatch:
        return ()
    return (Cell(gettext("on paper"), gettext("certificate"), href=paper),)


def _ended(ending: Ending | None, zone: str) -> str:
    if ending is None:
        return gettext("not closed")
    words = gettext("signed off") if ending.what == "inspected" else gettext(ending.what)
    reason = f": {ending.reason}" if ending.reason else ""
    return f"{words} {day(ending.at, zone)}{reason}"


def _why(chapter: Chapter, zone: str) -> str:
    """What led to this mounting."""
    if chapter.after is None:
        return gettext("first mounting of this journal in the rebuild")
    words = {"number": chapter.after.number, "ended": _ended(chapter.why, zone)}
    return gettext("again after %(number)s, %(ended)s") % words


def _beside(chapter: Chapter, chosen: Mounting, zone: str, base: str) -> Beside:
    mounting = chapter.mounting
    return Beside(
        number=mounting.number,
        href=f"{base}{mounting.id}",
        when=day(mounting.opened_at, zone),
        why=_why(chapter, zone),
        ended=_ended(chapter.ending, zone),
        here=mounting.id == chosen.id,
    )


def decisions_of(record: Record) -> dict[str, str]:
    """In words what was decided, or looked at, by finding digest."""
    found = {digest: gettext("looked: %(why)s") % {"why": why} for digest, why in record.case.looked.items()}
    for decision in record.case.decisions:
        line = record.line(decision.entry)
        words = f"{gettext(decision.kind)}, {line.author}: {decision.reason}"
        found |= dict.fromkeys(decision.digests, words)
    return found


def _then_now(record: Record, zone: str) -> tuple[str, tuple[ThenNow, ...], str]:
    """Of the sign-off (else the newest judgement): what has a number or was flagged, then and today, worst
    first; and the rest in one sentence."""
    stored = record.counting
    if stored is None:
        return "", (), ""
    now = {finding.key: finding for finding in all_findings(record.case)}
    decisions, case = decisions_of(record), record.signed or record.case
    shown, quiet, to_come = [], 0, 0
    for finding in sorted(stored.findings, key=lambda finding: WORST_FIRST.index(finding.verdict)):
        then = row(finding, record.case, stored.workings, decisions)
        if then.to_come or (then.conforming and finding.value is None):
            quiet, to_come = quiet + then.conforming, to_come + then.to_come
            continue
        today = now.get(finding.key)
        same = today is not None and today.statement() == finding.statement()
        frame = None if same or today is None else Frame(today.verdict.value, iso=True)
        shown.append(ThenNow(then, frame, gauges_of(finding, case), read_at(finding, record, zone)))
    words = {"occasion": occasion_name(stored.occasion), "at": moment(stored.line.at, zone)}
    return gettext("As judged at %(occasion)s, %(at)s") % words, tuple(shown), _rest(quiet, to_come)


def _rest(quiet: int, to_come: int) -> str:
    """`42 more conforming, without a number. 12 not entered yet.`"""
    words = [gettext("%(n)s more conforming, without a number.") % {"n": quiet}] if quiet else []
    words += [gettext("%(n)s not entered yet.") % {"n": to_come}] if to_come else []
    return " ".join(words)
