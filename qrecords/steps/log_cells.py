"""The cells of a heating log: numbers as loggers write them."""

import re
from collections.abc import Sequence

from qrecords.steps.errors import LogUnreadableError

NUMBERS = "a temperature is a number with point or comma; a cell without a digit means that none was read"
_NUMBER = re.compile(r"[+\-−]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][+\-]?[0-9]{1,3})?")
_DIGIT, _BEGIN = re.compile(r"[0-9]"), re.compile(r"[+\-−]?[.,]?[0-9]")
_PLAIN = re.compile(r"[0-9.,;\-]+")
_WITH_UNIT = re.compile(r"(.*[0-9])\s*(?:°|º|deg\s?)?[CF]")
Cells = Sequence[str]


def is_number(cell: str) -> bool:
    return bool(_NUMBER.fullmatch(cell))


def has_digit(cell: str) -> bool:
    return bool(_DIGIT.search(cell))


def begins_as_number(cell: str) -> bool:
    return bool(_BEGIN.match(cell))


def all_plain(cells: Cells) -> list[float] | None:
    """All cells at once, where each is digits with one sign of decimals and no more: nearly always."""
    joined = ";".join(cells)
    if not _PLAIN.fullmatch(joined):
        return None
    try:
        return list(map(float, joined.replace(",", ".").split(";")))
    except ValueError:
        return None


def plain(cell: str) -> float | None:
    """A number with point or comma; None for what is none."""
    if not _NUMBER.fullmatch(cell):
        return None
    return float(cell.replace(",", ".").replace("−", "-"))


def temperatures(cells: Cells, lines: Sequence[int], column: int) -> list[float | None]:
    """Every cell as a number, with or without °C or °F behind it; None where a cell has no digit at all, as
    loggers write *open* or a dash. LogUnreadableError for a cell with digits that is no number."""
    told: list[float | None] = []
    if numbers := all_plain(cells):
        return [*numbers]
    for cell, line in zip(cells, lines, strict=True):
        value = plain(cell)
        if value is None and has_digit(cell):
            parts = _WITH_UNIT.fullmatch(cell)
            value = plain(parts[1].strip()) if parts else None
            if value is None:
                raise LogUnreadableError("number", line, column, cell, NUMBERS)
        told.append(value)
    return told
