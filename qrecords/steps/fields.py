"""What a step asks for, and the only parse from typed text to an answer."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from qrecords.engineering import units
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.slips import lost_noughts, other_units, slips
from qrecords.steps.answers import Value
from qrecords.steps.errors import FieldError, SlipError


@dataclass(frozen=True)
class Quantity:
    """A number with a unit; `low` and `high` bound what is likely, in base units. What lies outside is asked
    about once and recorded as typed if it is so: the range finds slips, it judges nothing."""

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
    """A piece of registered equipment, named by its id. `reads` are the fields of the step that are read with
    it, or with a gauge that was set on it (of another step as `step.field`): what an error of it, found
    later, moves."""

    kinds: tuple[str, ...]
    reads: tuple[str, ...] = ()


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
    places: tuple[str, ...] = ()
    """Of a `many` field the places that a page asks, where no picture of the work does."""
    by_procedure: bool = False
    """Asked only where the procedure lists `step.field` under *also*."""

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
        whole = expected is not None and expected.is_whole(text, measure)
        if not sure and (whole or not low <= measure.base <= high):
            meant, meant_unit = self._meant(text, measure, expected)
            raise SlipError(self.id, text, unit, allowed, meant, meant_unit)
        return Value(measure.typed, measure.unit, measure.base)

    def _meant(self, text: str, measure: units.Measure, expected: "Expected | None") -> tuple[str, str]:
        """What was probably meant, with its unit: the same figures in another unit, then those with the mark
        or noughts elsewhere, then other figures; of several the one nearest to the limits."""
        form = self.form
        assert isinstance(form, Quantity)  # noqa: S101 - only quantities are asked about
        near = expected or Expected(0, form.low, form.high)
        as_deviation = (near.deviation_unit,) if near.deviation_unit and _decimals(text) < 2 else ()
        known = (*as_deviation, *form.units)
        for unit in other_units(text, form.quantity, measure.unit, known, near.low, near.high):
            return measure.typed, unit
        from_zero = near.value if measure.unit == near.deviation_unit else 0
        low, high = near.low - from_zero, near.high - from_zero
        found = [s.meant + from_zero for s in slips(measure.base - from_zero, low, high, form.quantity)]
        if expected is not None:
            found += [s.meant for s in lost_noughts(measure.base, near.value, near.low, near.high)]
        if not found:
            return "", ""
        likely = [(base, units.show(base, form.quantity, measure.unit)) for base in found]
        _base, shown = min(likely, key=lambda each: (_figures(each[1]) != _figures(text), near.off(each[0])))
        return (shown.replace(".", ",") if "," in text else shown), measure.unit

    def range_in(self, unit: str, expected: "Expected | None" = None) -> str:
        """The likely range, in the unit typed."""
        form = self.form
        if not isinstance(form, Quantity):
            return ""
        low, high = (expected.low, expected.high) if expected else (form.low, form.high)
        shown = [units.show(base, form.quantity, unit) for base in (low, high)]
        return f"{shown[0]}…{shown[1]} {unit}"


@dataclass(frozen=True)
class Expected:
    """What a value is expected to be near, in base units: nominal, likely range, the drawing's own limits,
    and the unit that means *deviation from nominal*."""

    value: int
    low: int
    high: int
    deviation_unit: str = ""
    lower: int = 0
    upper: int = 0

    def off(self, base: int) -> int:
        """How far a value lies outside the drawing's limits; 0 inside, and where no limits are known."""
        return max(self.lower - base, base - self.upper, 0) if self.lower < self.upper else 0

    def is_whole(self, text: str, measure: units.Measure) -> bool:
        """A whole size in mm or inch among deviations: 50.008 typed where *µm from 50* stands. No gauge
        shows hundredths of a µm, so such figures are asked about even inside the limits."""
        if measure.unit != self.deviation_unit:
            return False
        inside = self.lower <= measure.base <= self.upper
        if inside and _decimals(text) < 2:
            return False
        return bool(other_units(text, "length", measure.unit, ("mm", "in"), self.low, self.high))


def _figures(text: str) -> str:
    """The figures of a number without sign, mark and noughts: a slip of the hand keeps them."""
    return re.sub("[^1-9]", "", text)


def _decimals(text: str) -> int:
    _whole, *behind = re.split("[.,]", text)
    return len(behind[-1]) if behind else 0


def field_of(fields: Mapping[str, Field], key: str) -> Field | None:
    """The field that a key belongs to: `journal.A.60` belongs to the many-field `journal`."""
    if key in fields and not fields[key].many:
        return fields[key]
    head = key.split(".", 1)[0]
    found = fields.get(head)
    if found is None or not found.many:
        return None
    return found if re.fullmatch(found.place, key[len(head) + 1 :]) else None
