"""What a step asks for, and the only parse from typed text to an answer."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from qrecords.engineering import units
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.slips import slips
from qrecords.steps.answers import Value
from qrecords.steps.errors import FieldError, SlipError


@dataclass(frozen=True)
class Quantity:
    """A number with a unit; `low` and `high` are the plausible range in base units: outside is asked once."""

    quantity: str
    units: tuple[str, ...]
    low: int
    high: int


@dataclass(frozen=True)
class Choice:
    options: tuple[str, ...]


@dataclass(frozen=True)
class Words:
    longest: int = 200


@dataclass(frozen=True)
class Gear:
    """A piece of registered equipment, named by its id."""

    kinds: tuple[str, ...]


Form = Quantity | Choice | Words | Gear


@dataclass(frozen=True)
class Field:
    """`id` is kept for ever with its meaning, unit and type. A `many` field is asked at several places:
    its keys are `id.place`, as `journal.A.60` or `gap.90`; `place` is the pattern of what is a place."""

    id: str
    form: Form
    many: bool = False
    place: str = ""
    optional: bool = False

    def parse(
        self, typed: str, unit: str, expected: "Expected | None" = None, *, sure: bool = False
    ) -> Value:
        """The value that was typed. FieldError asks back; SlipError asks once, unless `sure`."""
        text = typed.strip()
        match self.form:
            case Quantity():
                return self._quantity(text, unit, expected, sure)
            case Choice(options):
                if text not in options:
                    raise FieldError(self.id, typed, "", ", ".join(options))
                return Value(text, "", text)
            case Words(longest):
                if not text or len(text) > longest or not text.isprintable():
                    raise FieldError(self.id, typed, "", f"1 to {longest} characters in one line")
                return Value(text, "", text)
            case Gear(kinds):
                if not text:
                    raise FieldError(self.id, typed, "", " or ".join(kinds))
                return Value(text, "", text)

    def _quantity(self, text: str, unit: str, expected: "Expected | None", sure: bool) -> Value:
        form = self.form
        assert isinstance(form, Quantity)  # noqa: S101 - narrowed by the caller's match
        deviation = expected is not None and unit == expected.deviation_unit
        if unit not in form.units and not deviation:
            raise FieldError(self.id, text, unit, ", ".join(form.units), "a unit this field does not take")
        allowed = self.range_in(unit, expected)
        try:
            measure = units.read(text, form.quantity, unit)
        except EngineeringError as error:
            raise FieldError(self.id, text, unit, allowed, str(error)) from error
        low, high = (expected.low, expected.high) if expected else (form.low, form.high)
        if not sure and not low <= measure.base <= high:
            likely = slips(measure.base, low, high, form.quantity)
            meant = units.show(likely[0].meant, form.quantity, unit) if likely else ""
            raise SlipError(self.id, text, unit, allowed, meant)
        return Value(measure.typed, measure.unit, measure.base)

    def range_in(self, unit: str, expected: "Expected | None" = None) -> str:
        """The plausible range, in the unit typed."""
        form = self.form
        if not isinstance(form, Quantity):
            return ""
        low, high = (expected.low, expected.high) if expected else (form.low, form.high)
        shown = [units.show(base, form.quantity, unit) for base in (low, high)]
        return f"{shown[0]}…{shown[1]} {unit}"


@dataclass(frozen=True)
class Expected:
    """What a reading is expected to be near: nominal and plausible range in base units, and the unit that
    means *deviation from nominal*."""

    value: int
    low: int
    high: int
    deviation_unit: str = ""


def field_of(fields: Mapping[str, Field], key: str) -> Field | None:
    """The field that a key belongs to: `journal.A.60` belongs to the many-field `journal`."""
    if key in fields and not fields[key].many:
        return fields[key]
    head = key.split(".", 1)[0]
    found = fields.get(head)
    if found is None or not found.many:
        return None
    return found if re.fullmatch(found.place, key[len(head) + 1 :]) else None
