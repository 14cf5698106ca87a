"""The whole record of one mounting on one page: what stood, what was judged, who decided, every entry."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.db.models import QuerySet
from django.utils.translation import gettext

from qrecords.evidence.queries import of_mounting
from qrecords.mountings.models import Mounting
from qrecords.steps.findings import Finding
from qrecords.steps.heating_log import ring_logs
from qrecords.steps.heatings import heatings
from qrecords.steps.standard import all_findings
from qrecords.steps.transitions import standing_release
from qrecords.tracing.record import Judgement, Line, Record, gear_used
from qrecords.web import heat_logs
from qrecords.web.amendments import AmendmentShown, shown_amendments
from qrecords.web.auditor.entries import EntryRow, entry_row
from qrecords.web.auditor.judged import Row, rows
from qrecords.web.auditor.panels import Panels, panels_of
from qrecords.web.auditor.saying import occasion_name, saying
from qrecords.web.auditor.sheet import cells_of, decisions_of, paper_of
from qrecords.web.auditor.standing import GearRow, Limit, gear_row, limits_of
from qrecords.web.auditor.told import Told
from qrecords.web.moments import moment
from qrecords.web.names import hold_name
from qrecords.web.parts import Cell
from qrecords.web.photographs import Taken, taken
from qrecords.web.pictures.heat_curve import HeatCurve
from qrecords.web.showing import FIGURES
from qrecords.workshop.queries import zone_of_site


@dataclass(frozen=True)
class JudgementBlock:
    """One stored judgement. `open` for the one that counts: the sign-off, else the newest."""

    title: str
    line: Line
    by: str
    at: str
    tables: str
    flagged: tuple[Row, ...]
    to_come: tuple[Row, ...]
    """What nobody had entered yet at that moment."""
    conforming: tuple[Row, ...]
    open: bool


@dataclass(frozen=True)
class Act:
    """An act of authority in one line."""

    what: str
    who: str
    at: str
    about: str
    reason: str
    href: str
    note: str = ""


@dataclass(frozen=True)
class TracedLog:
    """A heating log as it is drawn, with the words below it and the file it was read from."""

    curve: HeatCurve
    caption: str
    sha256: str


@dataclass(frozen=True)
class TracePage:
    cells: tuple[Cell, ...]
    panels: Panels
    limits: tuple[Limit, ...]
    gear: tuple[GearRow, ...]
    judgements: tuple[JudgementBlock, ...]
    acts: tuple[Act, ...]
    photos: tuple[Taken, ...]
    entries: tuple[EntryRow, ...]
    zone: str
    logs: tuple[TracedLog, ...]
    amendments: tuple[AmendmentShown, ...]


def trace_page(record: Record, reach: QuerySet[Mounting]) -> TracePage:
    zone = zone_of_site(record.mounting.site)
    return TracePage(
        cells=cells_of(record) + paper_of(record),
        panels=panels_of(record, reach, zone),
        limits=limits_of(record, FIGURES),
        gear=tuple(gear_row(use) for use in gear_used(record.lines)),
        judgements=_judgements(record, zone),
        acts=tuple(act for line in record.lines if (act := _act(line, record, zone))),
        photos=tuple(taken(record.case, of_mounting(record.mounting.id), zone, edge_px=320)),
        entries=tuple(entry_row(line, zone) for line in record.lines),
        zone=zone,
        logs=_logs(record),
        amendments=shown_amendments(record, _standing(record), zone),
    )


def _standing(record: Record) -> list[Finding]:
    """The findings of a record that is open for an amendment, as they are now; nobody asks else."""
    made = len(record.case.amendments) >= len(record.sign_offs) > 0
    return all_findings(record.case) if made else []


def _logs(record: Record) -> tuple[TracedLog, ...]:
    """Every log of every heating that can be drawn, in the order of the heatings."""
    found: list[TracedLog] = []
    for view in heatings(record.case):
        logs = ring_logs(view)
        for entry in dict.fromkeys(log.file.entry for log in logs):
            of_one = tuple(log for log in logs if log.file.entry == entry)
            curve = heat_logs.draw(of_one, FIGURES, f"log-{len(found)}")
            found.append(TracedLog(curve, heat_logs.caption(of_one, FIGURES), of_one[0].file.sha256))
    return tuple(found)


def _judgements(record: Record, zone: str) -> tuple[JudgementBlock, ...]:
    decisions = decisions_of(record)
    counting = record.counting
    return tuple(_block(j, record, decisions, zone, open=j is counting) for j in record.judgements)


def _block(
    judgement: Judgement, record: Record, decisions: Mapping[str, str], zone: str, *, open: bool
) -> JudgementBlock:
    found = rows(judgement, record.case, decisions)
    tables = judgement.line.entry.payload["versions"]["tables"] or ""
    return JudgementBlock(
        title=occasion_name(judgement.occasion),
        line=judgement.line,
        by=judgement.line.author,
        at=moment(judgement.line.at, zone),
        tables=tables[:12],
        flagged=tuple(each for each in found if not each.conforming and not each.to_come),
        to_come=tuple(each for each in found if each.to_come),
        conforming=tuple(each for each in found if each.conforming),
        open=open,
    )


OF_AUTHORITY = frozenset({"release", "decision", "looked", "return", "withdrawal", "signature", "amendment"})


def _act(line: Line, record: Record, zone: str) -> Act | None:
    """Releases, decisions, looks, returns, withdrawal, amendments and signatures."""
    if line.entry.kind not in OF_AUTHORITY:
        return None
    said = saying(line)
    note = _voided(line, record) if line.entry.kind == "release" else ""
    return Act(
        what=said.kind,
        who=line.author + (f" ({gettext('sent by')} {line.sender})" if line.sender else ""),
        at=moment(line.at, zone),
        about="; ".join(_about(told) for told in said.told),
        reason=line.reason,
        href=f"#e-{line.entry.id}",
        note=note,
    )


def _about(told: Told) -> str:
    """`rests on 2 captures`; under the head *about* the word is not said again."""
    return told.value if told.caption == gettext("about") else f"{told.caption} {told.value}"


def _voided(line: Line, record: Record) -> str:
    """Whether a later release or capture took the place of this one."""
    standing = standing_release(record.case, line.said["hold"])
    if standing is not None and standing.entry == str(line.entry.id):
        return ""
    return gettext("no longer stands: %(hold)s") % {"hold": hold_name(line.said["hold"])}
