"""With what it was measured and heated: each piece with the calibration that was in force."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.steps.gear import GearRecord
from qrecords.tracing.record import gear_used
from qrecords.web.inspector.certificate import Source
from qrecords.web.inspector.sheets import Block, text_mm
from qrecords.web.moments import calendar_day, day
from qrecords.workshop.queries import calibrated_from

HEAD_MM, LETTERS, LINE_MM, APART_MM = 8.2, 26, 3.8, 0.7


@dataclass(frozen=True)
class Piece:
    """Number and kind, from which day its calibration held and to which; a dash where nobody said."""

    mark: str
    kind: str
    since: str
    due: str


def gear_block(source: Source) -> list[Block]:
    """Each piece with each calibration in the order of first use, in two columns."""
    used = gear_used(source.record)
    if not used:
        return []
    since = calibrated_from(use.gear.calibration for use in used)
    days = {id: day(at, source.fixed.zone) for id, at in since.items()}
    pieces = [_piece(use.gear, days.get(use.gear.calibration, "–")) for use in used]
    half = (len(pieces) + 1) // 2
    columns = pieces[:half], pieces[half:]
    return [Block("gear", HEAD_MM + max(_column_mm(column) for column in columns), columns)]


def _column_mm(pieces: Sequence[Piece]) -> float:
    return sum(text_mm(f"{piece.mark} {piece.kind}", LETTERS, LINE_MM) + APART_MM for piece in pieces)


def _piece(gear: GearRecord, since: str) -> Piece:
    calibrated = gear.expanded_u is not None or bool(gear.blades_nm)
    due = calendar_day(gear.due) if gear.due else "–"
    return Piece(gear.mark, gettext(gear.kind), since if calibrated else gettext("not calibrated"), due)
