"""The boxes of the paper sheet: one row a question, in the order of the screens."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from qrecords.steps.answers import Absent
from qrecords.steps.case import Case
from qrecords.steps.fields import Choice, Field, Gear, Quantity
from qrecords.steps.procedure import Procedure
from qrecords.steps.standard import STEPS
from qrecords.web.fitter.screens import Part, label
from qrecords.web.fitter.sent import SMALL
from qrecords.web.fitter.words import absent_words, choice_label, field_label, unit_label
from qrecords.web.inspector.sheets import text_mm
from qrecords.web.paper.limits import limit_of
from qrecords.wording.figures import own_unit

BOX_MM = 8.0
ROW_MM = BOX_MM + 1.4
MARKED_MM = 7.2
"""The height of a row of words to mark."""
GRIDS = ("measurement.journal", "bore.bore", "shoulder_gap.gap")
"""Fields of several places, which have a table of their own."""


@dataclass(frozen=True)
class Row:
    """One question. `options` are words to mark, (word, marked); without them there is a box with `value` and
    `unit`. `limit` is what is allowed; `optional` stands where it may be left out."""

    label: str
    value: str = ""
    unit: str = ""
    options: tuple[tuple[str, bool], ...] = ()
    limit: str = ""
    optional: bool = False
    long: bool = False

    @property
    def height_mm(self) -> float:
        words = "   ".join(word for word, _ in self.options)
        return max(
            MARKED_MM if self.options else ROW_MM,
            text_mm(words, 46, 5.2) + 1.9,
            text_mm(self.label, 27, 4.2) + 2,
            text_mm(self.limit, 27, 3.8) + 2,
        )


@dataclass(frozen=True)
class Filled:
    """Whose answers stand on the sheet: none for a blank one."""

    case: Case | None
    standing: bool = False
    gear: dict[str, str] = field(default_factory=dict)
    """Marks of pieces named at shift start, by their kind: written where nothing else stands."""

    def answer(self, name: str) -> tuple[str, str]:
        """(text, unit) of what stands in a field."""
        step, _, key = name.partition(".")
        found = self.case.said(step, key) if self.case and self.standing else None
        if found is None:
            return "", ""
        if isinstance(found.answer, Absent):
            return absent_words(found.answer), ""
        gear = self.case.gear(step, key) if self.case else None
        if gear is not None:
            return gear.mark, ""
        typed = found.answer.typed
        return typed, own_unit(typed, unit_label(found.answer.unit))


def rows_of(part: Part, procedure: Procedure, filled: Filled) -> Iterator[Row]:
    """The questions of one part; those of several places stand in tables of their own."""
    optional = procedure.optional_for(filled.case.requirement) if filled.case else procedure.optional
    for name in part.fields:
        if name in GRIDS:
            continue
        step, _, key = name.partition(".")
        asked = STEPS[step].field(key)
        yield _row(name, asked, filled, optional=asked.optional or name in optional)


def _row(name: str, asked: Field, filled: Filled, *, optional: bool) -> Row:
    text, unit = filled.answer(name)
    limit = limit_of(filled.case, name) if filled.case else ""
    match asked.form:
        case Choice(options):
            said = filled.case.said(*name.split(".", 1)) if filled.case and filled.standing else None
            chosen = said.word if said and not isinstance(said.answer, Absent) else ""
            marked = tuple((choice_label(option), option == chosen) for option in options)
            limit = limit or (text if said and not chosen else "")
            return Row(field_label(name), options=marked, limit=limit, optional=optional)
        case Quantity(units=units):
            of_box = unit or unit_label("um" if name in SMALL else units[0])
            return Row(field_label(name), text, of_box, limit=limit, optional=optional)
        case Gear(kinds=kinds):
            known = text or next((filled.gear[kind] for kind in kinds if kind in filled.gear), "")
            return Row(field_label(name), known, limit=limit, optional=optional, long=True)
    return Row(field_label(name), text, limit=limit, optional=optional, long=True)


def heading(part: Part) -> str:
    return label(part)
