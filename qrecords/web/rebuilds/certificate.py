"""The certificate of a rebuild: what was released, each mounting with the facts of its own certificate.

Language and zone are those that the release fixed; before it the same sheets say they are no certificate.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import segno
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext, ngettext

from qrecords.ledger.queries import first_entry
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.tracing.record import record_of
from qrecords.web.heading import safety_of, seat_cell
from qrecords.web.inspector.certificate import Source, fixed_by, grouped, signature_of, source_of
from qrecords.web.inspector.certificate_words import Paragraph, answer, bearing_marks, decisions
from qrecords.web.inspector.sheets import Block, text_mm
from qrecords.web.parts import Cell, Safety, SheetBlock
from qrecords.web.rebuilds.order import PlaceLine
from qrecords.web.rebuilds.released import Released
from qrecords.web.rebuilds.releasing import scheme_of
from qrecords.workshop.models import Rebuild, Site

NOBODY = ("–", "")


@dataclass(frozen=True)
class RebuildHead:
    machine: str
    order: str
    bold: str
    rest: str
    released: bool
    scheme: str
    qr: SafeString


@dataclass(frozen=True)
class MountingFacts:
    """One mounting by its own certificate: number, place, bearing and marks, seat, the answer in a sentence,
    who signed, and the leaf of the signature."""

    number: str
    place: str
    bearing: str
    marks: str
    seat: Cell
    bold: str
    rest: str
    performed: tuple[str, str]
    inspected: tuple[str, str]
    leaf: str


def blocks(
    rebuild: Rebuild, places: Sequence[PlaceLine], released: Released | None, address: str, zone: str
) -> list[Block]:
    """Everything on it, in order: a fixed number of queries a mounting, as its own certificate takes."""
    carried = [place for place in places if place.standing is not None]
    sources = [_source(place.standing, zone) for place in carried if place.standing is not None]
    return [
        _head(rebuild, places, released, address),
        *(_mounting(place, source) for place, source in zip(carried, sources, strict=True)),
        *(_words(paragraph) for source in sources for paragraph in _decided(source)),
        *(_words(paragraph) for paragraph in _left_out(released)),
        *_safety(places),
    ]


def _source(mounting: Mounting, zone: str) -> Source:
    record = record_of(mounting)
    fixed = fixed_by(record, "en", zone)
    return source_of(record, None if record.signature else judged_now(mounting), fixed)


def _head(rebuild: Rebuild, places: Sequence[PlaceLine], released: Released | None, address: str) -> Block:
    # The code is plain path data of our own making.
    qr = mark_safe(segno.make(address, error="m").svg_inline(omitsize=True, border=0))  # noqa: S308
    signed = sum(place.carried for place in places)
    rest = ngettext("%(n)s mounting signed off.", "%(n)s mountings signed off.", signed) % {"n": signed}
    if released is None:
        bold = gettext("Not released: this is no certificate.")
    else:
        bold = gettext("Released by %(who)s, %(at)s.") % {"who": released.who, "at": released.at}
        if released.late_count:
            words = ngettext(
                "%(n)s entry came after the release.",
                "%(n)s entries came after the release.",
                released.late_count,
            )
            rest += " " + words % {"n": released.late_count}
        rest = " ".join(filter(None, (rest, released.remark)))
    machine = rebuild.machine
    head = RebuildHead(
        machine=f"{machine.owner}, {machine.name}",
        order=rebuild.work_order,
        bold=bold,
        rest=rest,
        released=released is not None,
        scheme=scheme_of(rebuild),
        qr=qr,
    )
    return Block("rebuild_head", 26 + text_mm(bold + rest, 74, 5), head)


def _mounting(place: PlaceLine, source: Source) -> Block:
    bold, rest = answer(source)
    asked, signature = source.case.requirement, source.record.signature
    facts = MountingFacts(
        number=source.record.mounting.number,
        place=gettext("shaft %(place)s") % {"place": f"{place.shaft}, {place.position}"},
        bearing=source.case.opened["bearing"]["designation"],
        marks=bearing_marks(source),
        seat=seat_cell(asked, asked.journal.lower_nm, asked.journal.upper_nm, source.fixed.figures),
        bold=bold,
        rest=rest,
        performed=signature_of(source, "performed"),
        inspected=signature_of(source, "inspected"),
        leaf=grouped(signature.entry.leaf) if signature else "–",
    )
    height = 24 + text_mm(f"{bold} {rest}", 95, 4.4) + text_mm(facts.marks, 95, 4.4)
    return Block("rebuild_mounting", height, facts)


def _decided(source: Source) -> list[Paragraph]:
    """What was decided in it, under its number: a certificate that lacks a concession says too much."""
    number = source.record.mounting.number
    return [Paragraph(f"{number}: {said.heading}", said.text) for said in decisions(source)]


def _left_out(released: Released | None) -> list[Paragraph]:
    left = released.left_out if released else ()
    return [Paragraph(gettext("Left out: %(place)s") % {"place": place}, reason) for place, reason in left]


def _words(paragraph: Paragraph) -> Block:
    return Block("words", 6 + text_mm(paragraph.text, 100, 4.4), paragraph)


def _safety(places: Sequence[PlaceLine]) -> list[Block]:
    standing = next((place.standing for place in places if place.standing is not None), None)
    safety = safety_of(standing, worked_out=False) if standing else Safety()
    return [Block("safety", 14.2 if safety.scheme else 10.7, safety)]


def sheet_block(
    rebuild: Rebuild, released: Released | None, language: str, number: int, of: int
) -> SheetBlock:
    """The title block of one sheet: the release in the place of *inspected*, proved by its own leaf."""
    first = first_entry()
    log = first.payload["body"]["seen"].get("log", "") if first else ""
    return SheetBlock(
        owner=Site.objects.filter(id=rebuild.site).values_list("name", flat=True).first() or "",
        document_type=gettext("certificate of rebuild"),
        status=gettext("released") if released else gettext("not released"),
        title=title_of(rebuild),
        number=rebuild.work_order,
        mark=rebuild.machine.mark,
        language_and_sheet=f"{language} · {number}/{of}",
        performed=NOBODY,
        inspected=(released.who, released.at) if released else NOBODY,
        ledger=gettext("ledger %(log)s: the release and its leaf, proved without this software")
        % {"log": log}
        if released
        else gettext("ledger: not released, so no entry to prove"),
        hashes=grouped(released.leaf) if released else "–",
    )


def title_of(rebuild: Rebuild) -> str:
    return f"{rebuild.machine.owner}, {rebuild.machine.name}"
