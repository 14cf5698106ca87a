"""What can be wrong with a number, a class or a designation. Facts are attributes; `code` never changes."""

from collections.abc import Sequence
from typing import ClassVar

SHOWN_TEXT = 40  # what of a hopeless text is worth repeating to the one who typed it


def shortened(text: str) -> str:
    """The start of `text`, so that a message never carries a billion digits."""
    return text if len(text) <= SHOWN_TEXT else text[:SHOWN_TEXT] + "…"


class EngineeringError(ValueError):
    """Base of everything this package refuses."""

    code: ClassVar[str] = "engineering"

    @property
    def facts(self) -> dict[str, object]:
        """The named values of a message, for the edge that translates it."""
        return dict(vars(self))


class NotAQuantityError(EngineeringError):
    """The text yields no quantity of this kind: it has to be asked again, at the keyboard."""

    code = "not_a_quantity"

    def __init__(self, text: str, quantity: str, units: Sequence[str]) -> None:
        self.text, self.quantity, self.units = shortened(text), quantity, tuple(units)
        super().__init__(f"{self.text!r} is no {quantity}; units: {', '.join(self.units) or 'none'}")


class OutOfRangeError(EngineeringError):
    """A quantity outside the range in which the question has an answer."""

    code = "out_of_range"

    def __init__(self, field: str, value: object, unit: str, low: object, high: object) -> None:
        self.field, self.value, self.unit, self.low, self.high = field, shortened(str(value)), unit, low, high
        super().__init__(f"{field}: {self.value} {unit} is outside {low} to {high} {unit}")


class NoSpreadError(EngineeringError):
    """Readings that do not differ, where their spread is asked for: more or finer readings, not a nought."""

    code = "no_spread"

    def __init__(self, field: str, value: object, unit: str) -> None:
        self.field, self.value, self.unit = field, shortened(str(value)), unit
        self.low, self.high = "more than 0", "any"
        super().__init__(f"{field}: all are {self.value} {unit}: nothing can be said of the spread")


class UnknownClassError(EngineeringError):
    """A tolerance class or clearance group that does not exist at this size; `available` says which do."""

    code = "unknown_class"

    def __init__(self, tolerance_class: str, nominal_mm: object, available: Sequence[str]) -> None:
        self.tolerance_class, self.nominal_mm = shortened(tolerance_class), str(nominal_mm)
        self.available = tuple(available)
        there = ", ".join(self.available) or "none"
        super().__init__(f"no class {self.tolerance_class!r} at {self.nominal_mm} mm; there are: {there}")


class DesignationError(EngineeringError):
    """A bearing designation that cannot be read, or of which a table knows nothing. `reason` is a slug."""

    code = "designation"

    def __init__(self, text: str, reason: str) -> None:
        self.text, self.reason = shortened(text), reason
        super().__init__(f"designation {self.text!r}: {reason}")


class OutsideValidityError(EngineeringError):
    """A model asked about something it does not describe. `reason` says what, in plain words."""

    code = "outside_validity"

    def __init__(self, model: str, reason: str) -> None:
        self.model, self.reason = model, reason
        super().__init__(f"{model}: {reason}")


class TableRowError(EngineeringError):
    """A row for a table that cannot be laid over it, with the field that is wrong and what would be right."""

    code = "table_row"

    def __init__(self, field: str, value: str, unit: str, allowed: str) -> None:
        self.field, self.value, self.unit, self.allowed = field, shortened(value), unit, allowed
        super().__init__(f"{field}: {self.value!r} {unit}".rstrip() + f" is not possible; allowed: {allowed}")


class FarRowError(TableRowError):
    """A value of a row far from what stands there now: asked back once, for it may be a slip."""

    code = "far_row"


class MisprintedFactorError(EngineeringError):
    """A factor that stands in print and is wrong: what it gives is `times` what it should be."""

    code = "misprinted_factor"

    def __init__(self, factor: float, unit: str, right: float, times: float) -> None:
        self.factor, self.unit, self.right, self.times = factor, unit, right, times
        super().__init__(f"{factor} {unit} is a misprint of {right} {unit}: {times:.3g} times the quantity")
