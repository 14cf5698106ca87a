"""Rows as lines of CSV (RFC 4180) that no spreadsheet takes for formulas."""

import csv
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal, InvalidOperation

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


class _Echo:
    """What the csv writer writes into; hands each line on instead of keeping it."""

    def write(self, line: str) -> str:
        return line


def safe(value: str) -> str:
    """A cell that no spreadsheet takes for a formula; numbers stay numbers."""
    if not value.startswith(FORMULA_STARTS) or _is_number(value):
        return value
    return "'" + value


def _is_number(value: str) -> bool:
    try:
        return Decimal(value).is_finite()
    except InvalidOperation:
        return False


def lines(rows: Iterable[Sequence[str]]) -> Iterator[str]:
    """Each row as one line, the first with the mark that tells spreadsheets UTF-8."""
    writer = csv.writer(_Echo())
    for number, row in enumerate(rows):
        line: str = writer.writerow([safe(cell) for cell in row])
        yield line if number else "\ufeff" + line
