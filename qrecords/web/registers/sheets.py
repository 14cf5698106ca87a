"""A sheet as its page shows it: the columns in words, and what becomes of each row."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.web.names import field_name
from qrecords.wording.figures import visible
from qrecords.workshop.importing.fates import Fate, What
from qrecords.workshop.importing.taking_in import Kind

UNITS = {
    "expanded_u": _("µm; thermometer and heater K; field meter mT"),
    "resolution": _("as U"),
    "repeatability": _("as U"),
    "measures_from": "mm",
    "measures_up_to": "mm",
    "blades": _("mm, apart by blanks"),
    "power": "W",
    "due": _("YYYY-MM-DD"),
    "valid_from": _("YYYY-MM-DD; empty: now"),
    "resolution_in_u": _("yes or no"),
}
GUIDANCE = {
    "work orders": _(
        "A row is a machine under an order, and a place of it where shaft and position are given. A machine "
        "is known by its mark, else by name and owner."
    ),
    "bearings": _(
        "A row is one bearing. One with a serial is known by designation and serial; of rows without one "
        "that are alike, only so many are new as are more than are here."
    ),
    "gauges": _(
        "A piece is known by its mark. A calibration of one that is here is recorded on its own page."
    ),
    "people": _(
        "No password is in the file: after it, each person is given a first password on his own page, "
        "one by one."
    ),
}


@dataclass(frozen=True)
class ColumnWords:
    name: str
    required: bool
    unit: str


@dataclass(frozen=True)
class FateRow:
    """One row: its line, what it says in short, what becomes of it and why. `calls`: somebody has to look."""

    line: int
    said: str
    what: str
    why: tuple[str, ...]
    calls: bool


def column_words(kind: Kind) -> list[ColumnWords]:
    return [ColumnWords(c, c in kind.required, gettext(UNITS[c]) if c in UNITS else "") for c in kind.columns]


def guidance(kind: Kind) -> str:
    return gettext(GUIDANCE[kind.name])


def fate_rows(fates: Sequence[Fate]) -> list[FateRow]:
    """What somebody has to look at stands first; the rest in the order of the file."""
    rows = [_row(fate) for fate in fates]
    return sorted(rows, key=lambda row: not row.calls)


def _row(fate: Fate) -> FateRow:
    said = " · ".join(visible(cell[:60]) for cell in fate.row.cells.values() if cell)
    return FateRow(
        fate.row.line, said[:200], gettext(fate.what.value), tuple(_why(fate)),
        fate.what in (What.REFUSED, What.DIFFERS, What.DUPLICATE),
    )  # fmt: skip


def _why(fate: Fate) -> list[str]:
    """`due, “31.1.27”: a day as YYYY-MM-DD`; `lot: L-77 here, L-78 in the file`."""
    words = []
    for wrong in fate.wrong:
        value = gettext("“%(value)s”") % {"value": visible(wrong.value)} if wrong.value else gettext("empty")
        unit = f" {wrong.unit}" if wrong.unit and wrong.value else ""
        facts = {"field": field_name(wrong.field), "value": value + unit, "allowed": wrong.allowed}
        words.append(gettext("%(field)s, %(value)s: allowed %(allowed)s") % facts)
    for differs in fate.differs:
        facts = {
            "field": field_name(differs.field),
            "here": visible(differs.here) or gettext("nothing"),
            "file": visible(differs.file),
        }
        words.append(gettext("%(field)s: %(here)s here → %(file)s in the file") % facts)
    if fate.first:
        words.append(gettext("as line %(line)s") % {"line": fate.first})
    return words
