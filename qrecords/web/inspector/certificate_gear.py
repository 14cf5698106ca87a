"""With what it was measured and heated: each piece with the calibration that was in force, as the captures
froze it. The register is not asked: what it says later changes no certificate."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.steps.gear import GearRecord
from qrecords.tracing.record import gear_used
from qrecords.web.inspector.certificate import Source
from qrecords.web.inspector.sheets import Block, text_mm
from qrecords.web.moments import calendar_day, day

HEAD_MM, LETTERS, LINE_MM, APART_MM = 8.2, 26, 3.8, 0.7


@dataclass(frozen=True)
class Piece:
    """Number and kind, from which day its calibration was in force and to which; a dash where nobody said."""

    mark: str
    kind: str
    since: str
    due: str


def gear_block(source: Source) -> list[Block]:
    """Each piece with each calibration in the order of first use, once, in two columns."""
    used = gear_used(source.covered)
    if not used:
        return []
    pieces = list(dict.fromkeys(_piece(use.gear, source.fixed.zone) for use in used))
    half = (len(pieces) + 1) // 2
    columns = pieces[:half], pieces[half:]
    return [Block("gear", HEAD_MM + max(_column_mm(column) for column in columns), columns)]


def _column_mm(pieces: Sequence[Piece]) -> float:
    return sum(text_mm(f"{piece.mark} {piece.kind}", LETTERS, LINE_MM) + APART_MM for piece in pieces)


def _piece(gear: GearRecord, zone: str) -> Piece:
    since = day(gear.in_force_from, zone) if gear.in_force_from else "–"
    due = calendar_day(gear.due) if gear.due else "–"
    return Piece(gear.mark, gettext(gear.kind), since if gear.calibrated else gettext("not calibrated"), due)
