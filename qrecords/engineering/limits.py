"""Limits of size of a shaft or hole by tolerance class, ISO 286-1:2010 and ISO 286-2:2010."""

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import NamedTuple

from .errors import OutOfRangeError, UnknownClassError
from .tables import BUILT_IN, Row, Tables

Size = Decimal | float | str  # mm, as a number or as its text
GRADES = ("01", "0", *(str(n) for n in range(1, 19)))
_CLASS = r"([A-Z]{1,2}|[a-z]{1,2})(01|[0-9]|1[0-8])"
BIGGEST_MM, MOST_DIGITS = Decimal(3150), 48


class Limits(NamedTuple):
    """Limits of deviation from a nominal size, with the table rows they come from.

    The µm may be halves (js with an odd tolerance) and tenths (IT01); the `_nm` are exact integers.
    """

    nominal_mm: Decimal
    tolerance_class: str
    lower_nm: int
    upper_nm: int
    rows: tuple[Row, ...]
    stated: str = ""
    """Where limits that no table gives are written."""

    @property
    def lower_um(self) -> float:
        """Lower limit of deviation in µm."""
        return self.lower_nm / 1000

    @property
    def upper_um(self) -> float:
        """Upper limit of deviation in µm."""
        return self.upper_nm / 1000

    @property
    def it_um(self) -> float:
        """Width of the tolerance in µm."""
        return (self.upper_nm - self.lower_nm) / 1000

    @property
    def source(self) -> str:
        """Standard and edition."""
        return ", ".join(dict.fromkeys(row.cited for row in self.rows)) or self.stated

    @property
    def confirmed(self) -> bool:
        """Whether every row behind these limits was found in separately made copies."""
        return all(row.confirmed for row in self.rows)

    @property
    def unconfirmed(self) -> tuple[str, ...]:
        """What is told of the rows: those nobody confirmed, and those of the site's own copy (`Row.told`)."""
        return tuple(text for row in self.rows for text in row.told)


def size_mm(field: str, size: Size, upto_mm: Decimal = BIGGEST_MM) -> Decimal:
    """A nominal size as an exact Decimal; OutOfRangeError if it is not above zero and up to `upto_mm`."""
    text = str(size)
    try:
        exact = Decimal(text) if len(text) <= MOST_DIGITS else Decimal("NaN")
    except ArithmeticError:
        exact = Decimal("NaN")
    if not (exact.is_finite() and 0 < exact <= upto_mm):
        raise OutOfRangeError(field, size, "mm", 0, upto_mm)
    return exact


def limits_of_size(nominal_mm: Size, tolerance_class: str, tables: Tables = BUILT_IN) -> Limits:
    """Limits of a class at a size: an upper-case letter is a hole, a lower-case one a shaft.

    A size on a boundary belongs to the lower range. Raises OutOfRangeError for a size no table holds and
    UnknownClassError, which says which classes there are, for one that does not exist at this size.
    Source: ISO 286-1:2010, tables 1 to 5.
    """
    nominal = size_mm("nominal size", nominal_mm)
    parts = re.fullmatch(_CLASS, tolerance_class) if len(tolerance_class) <= 4 else None
    limits = _limits(nominal, parts[1], parts[2], tables) if parts else None
    if limits is None:
        raise UnknownClassError(tolerance_class, nominal_mm, _available(nominal, tolerance_class, tables))
    return limits


def shaft_classes(nominal_mm: Size, wanted: str, tables: Tables = BUILT_IN) -> tuple[str, ...]:
    """The classes of a shaft that exist at a size: those of the wanted letter, else the usual ones."""
    return _available(size_mm("nominal size", nominal_mm), wanted.lower(), tables)


def _limits(nominal: Decimal, letter: str, grade: str, tables: Tables) -> Limits | None:
    tolerance = tables.row("it_grades", (grade,), nominal)
    if tolerance is None or (_number(grade) >= 14 and nominal <= 1):  # IT14 and up: not at or below 1 mm
        return None
    found = _deviation(nominal, letter, grade, tables)
    if found is None:
        return None
    kind, deviation, rows = found
    width = tolerance.values[0]
    if kind == "sym":
        lower, upper = -width / 2, width / 2
    elif kind.lower() == "es":
        lower, upper = deviation - width, deviation
    else:
        lower, upper = deviation, deviation + width
    return Limits(nominal, letter + grade, int(lower * 1000), int(upper * 1000), (tolerance, *rows))


def _deviation(
    nominal: Decimal, letter: str, grade: str, tables: Tables
) -> tuple[str, Decimal, tuple[Row, ...]] | None:
    """Which limit the fundamental deviation is, its µm, and the rows used."""
    table = "hole_fundamental_deviations" if letter.isupper() else "shaft_fundamental_deviations"
    rows = [
        (key, row)
        for key in tables.keys(table)
        if key[0] == letter and covers(key[1], grade) and (row := tables.row(table, key, nominal)) is not None
    ]
    if not rows:
        return None
    key, row = max(rows, key=lambda found: "special" in found[0][1])  # M6 over 250 to 315 has its own line
    if letter.islower() or not row.values[1]:
        return key[2], row.values[0], (row,)
    delta = tables.row("hole_delta", (grade,), nominal)
    return None if delta is None else (key[2], row.values[0] + delta.values[0], (row, delta))


def covers(grades: str, grade: str) -> bool:
    """Whether a column headed `all`, `4-7`, `<=3 and >=8`, `>=9` or `6 (special …)` holds for a grade."""
    number = _number(grade)
    if grades == "all":
        return True
    if " and " in grades:
        return any(covers(part, grade) for part in grades.split(" and "))
    if grades.startswith("<="):
        return number <= int(grades[2:])
    if grades.startswith(">="):
        return number >= int(grades[2:])
    first, _, last = grades.split(" ")[0].partition("-")
    return int(first) <= number <= int(last or first)


def _number(grade: str) -> int:
    return -1 if grade == "01" else int(grade)


def _available(nominal: Decimal, wanted: str, tables: Tables) -> tuple[str, ...]:
    """Classes that do exist here: those of the wanted letter, or else of the usual letters and grade."""
    letter = re.match(r"[A-Za-z]{1,2}", wanted)
    same_letter = tuple(_of_letter(nominal, letter[0], tables)) if letter else ()
    if same_letter:
        return same_letter
    hole = wanted[:1].isupper()
    table = "hole_fundamental_deviations" if hole else "shaft_fundamental_deviations"
    letters = dict.fromkeys(key[0] for key in tables.keys(table))
    usual = ("6", "7") if hole else ("5", "6")
    return tuple(found + g for found in letters for g in usual if _limits(nominal, found, g, tables))


def _of_letter(nominal: Decimal, letter: str, tables: Tables) -> Iterator[str]:
    return (letter + grade for grade in GRADES if _limits(nominal, letter, grade, tables))
