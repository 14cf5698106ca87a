"""The blocks of a certificate in their order on paper: the answer first, the entries last."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby

import segno
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext

from qrecords.evidence.models import StoredFile
from qrecords.steps.findings import WORST_FIRST, Verdict
from qrecords.web import heat_logs
from qrecords.web.heading import decision_rule, safety_of, seat_cell
from qrecords.web.inspector.certificate import Source, labels_by_digest
from qrecords.web.inspector.certificate_amendments import amendment_blocks
from qrecords.web.inspector.certificate_gear import gear_block
from qrecords.web.inspector.certificate_words import Paragraph, answer, bearing_marks, decisions, notes
from qrecords.web.inspector.drawings import Drawing, heat_course, seat
from qrecords.web.inspector.entries import Line, line_of
from qrecords.web.inspector.items import row_of
from qrecords.web.inspector.sheets import Block, Table, text_mm
from qrecords.web.moments import clock, day
from qrecords.web.parts import Cell, FindingRow, Photo, Safety
from qrecords.web.photographs import taken
from qrecords.web.pictures.heat_curve import HeatCurve
from qrecords.web.showing import Shown
from qrecords.wording.figures import with_unit

FIRST = (
    "journal-size", "journal-roundness", "journal-taper", "bore-in-class", "interference", "peak-temperature",
    "log-ceiling", "pressed-home", "shoulder-gap", "clearance-forecast", "clearance-found", "residual-field",
)  # fmt: skip
"""The measured characteristics of the first sheet; every other finding follows on the next."""
BEST_SHOTS = ("micrometer", "marking", "probe", "blade", "held", "seat", "covered", "package")


@dataclass(frozen=True)
class Head:
    """The top of the first sheet: what, where, the answer, the way to the record."""

    title: str
    what: str
    marks: str
    """Serial, lot and date code, as read off the ring or as the bearing came."""
    seat: Cell
    where: str
    bold: str
    rest: str
    signed: bool
    qr: SafeString


def blocks(source: Source, stored: dict[str, StoredFile], address: str) -> list[Block]:
    """Everything on the certificate, in order."""
    return [
        _head(source, address),
        *_pictures(source),
        *_findings(source),
        *amendment_blocks(source),
        *_decisions(source),
        *gear_block(source),
        *_photos(source, stored),
        *_small(source),
        *_rest(source),
        *_entries(source),
    ]


def _head(source: Source, address: str) -> Block:
    mounting, asked = source.record.mounting, source.case.requirement
    bold, rest = answer(source)
    where = f"{mounting.journal.machine.name}, {mounting.journal.position}"
    # The code is plain path data of our own making.
    qr = mark_safe(segno.make(address, error="m").svg_inline(omitsize=True, border=0))  # noqa: S308
    head = Head(
        title=gettext("Certificate of mounting"),
        what=source.case.opened["bearing"]["designation"],
        marks=bearing_marks(source),
        seat=seat_cell(asked, *_limits(source), source.fixed.figures),
        where=where,
        bold=bold,
        rest=rest,
        signed=source.signed,
        qr=qr,
    )
    return Block("head", 16 + text_mm(bold + rest, 74, 5), head)


def _limits(source: Source) -> tuple[int, int]:
    """The journal's limits as they were judged; the drawing's while nothing was measured."""
    size, asked = source.found.get("journal size"), source.case.requirement.journal
    if size is None or size.lower is None or size.upper is None:
        return asked.lower_nm, asked.upper_nm
    return size.lower, size.upper


def _pictures(source: Source) -> list[Block]:
    figures = source.fixed.figures
    found = source.found
    on_seat = seat(source.case, found, figures, "seat")
    logs = heat_logs.newest_log(source.case)
    if logs:
        curve: HeatCurve | None = heat_logs.draw(logs, figures, "heat", size=(380, 182))
        heading = gettext("Heating by the heater's own log, °C: {lines}").format(lines=heat_logs.lines(logs))
    else:
        curve = heat_course(source.case, found, figures, "heat", size=(380, 182))
        heading = gettext("Heating, °C: dots read, ( ) worked out")
    drawn: list[tuple[str, Drawing]] = []
    if on_seat:
        drawn.append((gettext("Journal, %(how)s") % {"how": on_seat.caption}, on_seat))
    if curve:
        plain = replace(curve, limit_words=())  # hatching and the figure say it; words would run into notes
        drawn.append((heading, Drawing("parts/heat_curve.html", plain)))
    return [Block("pictures", 44.5, drawn)] if drawn else []


def _findings(source: Source) -> list[Block]:
    """The measured characteristics, and everything that does not conform."""
    shown = [s for s in source.shown() if s.finding.rule in FIRST or _flagged(s)]
    rows = _rows(source, sorted(shown, key=_place))
    note = gettext("limits as they stood on %(day)s; decision rule %(edition)s, %(rule)s; ( ) worked out")
    facts = {
        "day": day(source.record.mounting.opened_at, source.fixed.zone),
        "edition": source.case.procedure.edition,
        "rule": decision_rule(source.case.procedure, source.fixed.figures),
    }
    return [_table(Table(gettext("Findings"), note % facts), rows)] if rows else []


def _flagged(shown: Shown) -> bool:
    return shown.finding.verdict != Verdict.CONFORMING


def _place(shown: Shown) -> tuple[int, int]:
    """What is unsafe or unknown first; within one verdict the order of the work."""
    rule = shown.finding.rule
    return WORST_FIRST.index(shown.finding.verdict), FIRST.index(rule) if rule in FIRST else len(FIRST)


def _rows(source: Source, shown: Sequence[Shown]) -> list[FindingRow]:
    labels = labels_by_digest(source)
    return [
        row_of(_in_print(source, s), source.fixed.figures, decision=labels.get(s.digest, "")) for s in shown
    ]


def _in_print(source: Source, shown: Shown) -> Shown:
    """A gap in blades of mm, as it was felt; an answer in words by its sentence."""
    finding, figures = shown.finding, source.fixed.figures
    if finding.rule == "shoulder-gap" and finding.value is not None and finding.upper is not None:
        limit = gettext("%(blade)s not in") % {"blade": with_unit(figures.mm(finding.upper, 2), "mm")}
        felt = with_unit(figures.mm(finding.value, 2), "mm") if finding.value else gettext("none")
        return replace(shown, limit=limit, found=felt, finding=replace(finding, value=None))
    if not shown.limit and not shown.found:
        return replace(shown, found=shown.lead.rstrip(".,:"))
    return shown


FRAME_MM = {"nonconforming": 4.1, "conforming": 1.6}
"""What the frame of a verdict adds to the height of its row; a frame of two lines of any other kind 2.3."""


def _table(table: Table, rows: Sequence[FindingRow]) -> Block:
    heights = tuple(
        max(text_mm(row.characteristic, 26, 3.7), text_mm(row.limit, 15, 3.7), text_mm(row.found, 13, 3.7))
        + FRAME_MM.get(row.verdict.kind, 2.3)
        for row in rows
    )
    return Block("findings", 8.4, table, tuple(rows), heights)


def _decisions(source: Source) -> list[Block]:
    said: list[Paragraph] = decisions(source)
    return [Block("words", 5 + text_mm(each.text, 104, 4.5), each) for each in said]


def _photos(source: Source, stored: dict[str, StoredFile]) -> list[Block]:
    zone = source.fixed.zone
    every = [t for t in taken(source.case, stored, zone, signed=True) if t.photo and not t.after_signature]
    newest = {each.shot: each for each in every}
    at = {photo.sha256: photo.at for photo in source.case.photos}
    best = [newest[shot] for shot in BEST_SHOTS if shot in newest][:4]
    if not best:
        return []
    shown = [
        Photo(
            each.photo.src,
            each.photo.alt,
            f"{each.name.split(',')[0]}, {clock(at[each.sha256], zone)} · "
            f"sha {each.sha256[:4]}…{each.sha256[-2:]}"
            + (f" · {each.photo.drawn.words}" if each.photo.drawn else ""),
            drawn=each.photo.drawn,
        )
        for each in best
        if each.photo
    ]
    # Of the originals, whether or not their pictures are made by now.
    kept = [photo.shot for photo in source.case.photos if photo.received and not photo.after_signature]
    facts = {
        "n": len(shown),
        "m": len(kept),
        "got": len({shot.id for shot in source.case.procedure.shots}.intersection(kept)),
        "wanted": len(source.case.procedure.shots),
    }
    heading = gettext("Photos: %(n)s of %(m)s shown, all originals kept; %(got)s of %(wanted)s shots")
    return [Block("photos", 31.2, (heading % facts, shown))]


def _small(source: Source) -> list[Block]:
    """Notes and the safety wording, whole."""
    said = notes(source)
    safety: Safety = safety_of(source.record.mounting, worked_out=False)
    height = text_mm(" ".join(said), 132, 3.6)
    return [Block("notes", height, said), Block("safety", 14.2 if safety.scheme else 10.7, safety)]


def _rest(source: Source) -> list[Block]:
    """Every finding that does not stand on the first sheet."""
    shown = [s for s in source.shown() if s.finding.rule not in FIRST and not _flagged(s)]
    if not shown:
        return []
    note = gettext("all conforming, in the order of the work")
    rows = tuple(_together(shown))
    heights = tuple(max(text_mm(row.found, 88, 3.8), text_mm(row.name, 28, 3.8)) + 1.3 for row in rows)
    return [Block("others", 11, Table(gettext("All other findings"), note), rows, heights)]


@dataclass(frozen=True)
class Other:
    """A finding that conforms and is no measured characteristic; or several of which the same was found."""

    name: str
    found: str


def _together(shown: Sequence[Shown]) -> Iterator[Other]:
    """What was found alike of things with one name before the mark, as photos and competences have, stands in
    one row."""
    for (_, found), alike in groupby(shown, key=lambda s: (s.finding.rule, f"{s.lead} {s.rest}".strip())):
        names = [each.name for each in alike]
        head = re.split(r"[:,] ", names[0])[0]
        tails = [name.removeprefix(head)[2:] for name in names if re.match(rf"{re.escape(head)}[:,] ", name)]
        if len(names) > 1 and len(tails) == len(names):
            yield Other(head, f"{found.rstrip('.')}: {', '.join(tails)}.")
        else:
            yield from (Other(name, found) for name in names)


def _entries(source: Source) -> list[Block]:
    """Every entry the certificate covers, and those that came after the signature, as that."""
    zone = source.fixed.zone
    covered = [line_of(line, zone) for line in source.covered]
    late = [line_of(line, zone) for line in source.record.after_signature]
    made = [_entry_table(gettext("Entries"), covered, zone)]
    return [*made, _entry_table(gettext("After signature"), late, zone)] if late else made


def _said(line: Line) -> str:
    """An entry as its row words it, for its height."""
    return line.what + (f": {line.told}" if line.told else "") + (f" – {line.reason}" if line.reason else "")


def _entry_table(title: str, lines: Sequence[Line], zone: str) -> Block:
    heights = tuple(text_mm(_said(line), 50, 3.9) + 1.2 for line in lines)
    note = gettext("in ledger order, times in %(zone)s; hashes by their first eight figures") % {"zone": zone}
    return Block("entries", 11, Table(title, note), tuple(lines), heights)
