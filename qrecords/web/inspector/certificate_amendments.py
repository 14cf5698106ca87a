"""What each amendment that a certificate covers changed, against the version signed before it."""

from django.utils.translation import gettext

from qrecords.web.amendments import AmendmentShown, Difference, shown_amendments
from qrecords.web.inspector.certificate import Source
from qrecords.web.inspector.sheets import Block, Table, text_mm


def amendment_blocks(source: Source) -> list[Block]:
    """One table for each amendment, oldest first; none on the record as it was first signed."""
    if not source.signed or not source.record.version:
        return []
    every = shown_amendments(source.record, source.findings, source.fixed.zone)
    return [_block(each) for each in every[: source.record.version]]


def _block(amendment: AmendmentShown) -> Block:
    words = {"number": amendment.number, "reason": amendment.reason, "who": amendment.opened}
    title = gettext("Amendment %(number)s: %(reason)s") % words
    note = gettext("opened by %(who)s; what is otherwise than signed before") % words
    nothing = Difference(gettext("nothing was changed"), "–", "–")
    rows = amendment.differences or (nothing,)
    heights = tuple(_height(row) for row in rows)
    return Block("amendment", 11, Table(title, note), rows, heights)


def _height(row: Difference) -> float:
    cells = ((row.about, 24), (row.before, 22), (row.after, 22), (f"{row.who}: {row.reason}", 34))
    return max(text_mm(text, across, 3.8) for text, across in cells) + 1.3
