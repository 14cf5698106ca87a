"""Reading a row cell by cell: every wrong one is kept, so that all are told at once."""

from collections.abc import Mapping, Sequence
from datetime import date

from qrecords.engineering import units
from qrecords.engineering.errors import EngineeringError
from qrecords.workshop.importing.fates import Row, Wrong


class Cells:
    def __init__(self, row: Row) -> None:
        self.row = row
        self.wrong: list[Wrong] = []

    def fail(self, column: str, allowed: str, unit: str = "") -> None:
        self.wrong.append(Wrong(column, self.row.cell(column)[:60], allowed, unit))

    def text(self, column: str, longest: int, *, optional: bool = False) -> str:
        value = self.row.cell(column)
        if (not value and not optional) or len(value) > longest or not value.isprintable():
            self.fail(column, f"1 to {longest} characters in one line")
        return value

    def one_of(self, column: str, options: Sequence[str], empty: str | None = None) -> str:
        """One of some words, letter case aside; `empty` is what an empty cell means, None: it may not be."""
        value = self.row.cell(column).casefold()
        if not value and empty is not None:
            return empty
        if value not in options:
            self.fail(column, ", ".join(options))
        return value

    def yes(self, column: str) -> bool:
        return self.one_of(column, ("yes", "no"), "no") == "yes"

    def quantity(self, column: str, quantity: str, unit: str, low: int, high: int) -> int | None:
        """The base integer of what stands there in `unit`, comma or point; None of an empty cell."""
        value = self.row.cell(column)
        return self._base(column, value, quantity, unit, low, high) if value else None

    def quantities(self, column: str, quantity: str, unit: str, low: int, high: int) -> list[int]:
        """Several in one cell, apart by blanks."""
        found = [self._base(column, v, quantity, unit, low, high) for v in self.row.cell(column).split()]
        return sorted({base for base in found if base is not None})

    def _base(self, column: str, value: str, quantity: str, unit: str, low: int, high: int) -> int | None:
        said = "µm" if unit == "um" else unit
        try:
            base = units.read(value, quantity, unit).base
        except EngineeringError:
            base = low - 1
        if not low <= base <= high:
            ends = "…".join(units.show(end, quantity, unit) for end in (low, high))
            self.fail(column, f"{ends} {said}", said)
            return None
        return base

    def whole(self, column: str, low: int, high: int, unit: str) -> int | None:
        value = self.row.cell(column)
        if not value:
            return None
        number = int(value) if value.isascii() and value.isdecimal() and len(value) < 10 else low - 1
        if not low <= number <= high:
            self.fail(column, f"{low}…{high} {unit}", unit)
        return number

    def day(self, column: str) -> date | None:
        value = self.row.cell(column)
        if not value:
            return None
        try:
            found = date.fromisoformat(value)
        except ValueError:
            found = None
        if found is None or not 1900 <= found.year <= 2200:
            self.fail(column, "a day as YYYY-MM-DD")
            return None
        return found


def told(pairs: Mapping[str, object]) -> str:
    """What makes two rows of one file the same."""
    return "\x1f".join(f"{name}={value}" for name, value in sorted(pairs.items()))
