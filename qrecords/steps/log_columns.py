"""Which column of a heating log is the time, and which are temperatures."""

import re
from collections.abc import Iterator, Sequence

from qrecords.steps import log_cells, log_times, log_units
from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.log_table import MOST_COLUMNS, Column

SIGNS = "commas between columns need points in the numbers; semicolons or tabs allow both"
_OTHER = re.compile(
    r"[\[(]\s*(?:%|k?W|m?A|k?V|k?Hz|mm|rpm|m?T|bar|k?J|kWh)\s*[\])]|^\s*(?:no\.?|nr\.?|#|index|record|sample)\s*$",
    re.I,
)
_TIME = re.compile(r"\s*(?i:(?:elapsed |run |log )?(?:time|zeit|seconds?|secs?|minutes?|min|ms)|t|s)\b")
_COUNTED = re.compile(r"^\s*(?:no\.?|nr\.?|#|index|record|sample|n)\s*$", re.I)
Table = Sequence[Sequence[str]]
"""The cells by column."""


def time_column(names: Sequence[str], table: Table) -> tuple[int, Sequence[str]]:
    """The column that counts the time, and its cells, joined with the date before it. One that can be nothing
    else, else one that says so, else the first that is no mere count."""
    for n, column in enumerate(table):
        if log_times.is_clock(column[0]):
            if n and log_times.is_date(table[n - 1][0]):
                return n, [f"{day}T{at}" for day, at in zip(table[n - 1], column, strict=True)]
            return n, column
    numbers = [n for n, column in enumerate(table) if log_cells.is_number(column[0])]
    said = [n for n in numbers if _TIME.match(names[n]) and not log_units.unit(names[n])]
    counts = [n for n in numbers if not _COUNTED.match(names[n])]
    found = (said or counts or numbers)[0]
    return found, table[found]


def columns(
    names: Sequence[str], table: Table, lines: Sequence[int], places: Sequence[int], of_all: str
) -> tuple[Column, ...]:
    """Every column of numbers that does not say it is something else."""
    found = [n for n in places if not _OTHER.search(names[n]) and _mostly_numbers(table[n])]
    if not found:
        raise LogUnreadableError("no-temperature", lines[0], 1, table[0][0], log_cells.NUMBERS)
    if len(found) > MOST_COLUMNS:
        wanted = f"{MOST_COLUMNS} columns at most"
        raise LogUnreadableError("too-many-columns", lines[0], MOST_COLUMNS + 1, str(len(found)), wanted)
    columns = []
    for n in found:
        unit = log_units.unit(names[n]) or log_units.unit_in(table[n]) or of_all
        columns.append(Column(n + 1, names[n], unit, tuple(log_cells.temperatures(table[n], lines, n + 1))))
    return tuple(columns)


def _mostly_numbers(cells: Sequence[str]) -> bool:
    """A column of words with a digit here and there is no temperature."""
    told = [cell for cell in cells if log_cells.has_digit(cell)]
    return 2 * sum(map(log_cells.begins_as_number, told)) > len(told)


def not_split(places: Sequence[int], table: Table, line: int) -> None:
    """Whole numbers alone between commas under no words, two columns or more beside the time: the commas may
    stand inside the numbers as well, and nothing here tells which."""
    if len(places) > 1 and all(cell.isdecimal() for n in places for cell in table[n]):
        value = ",".join(column[0] for column in table)
        raise LogUnreadableError("two-kinds-of-comma", line, 1, value, SIGNS)


def one_decimal_sign(places: Sequence[int], table: Table, lines: Sequence[int]) -> None:
    """Points and commas both inside the numbers of one file: one of them may group thousands."""
    joined = "".join(cell for n in places for cell in table[n] if log_cells.begins_as_number(cell))
    if "." not in joined or "," not in joined:
        return
    signs = {
        sign: next((line, n + 1, c) for line, n, c in _numbers(places, table, lines) if sign in c)
        for sign in ".,"
    }
    raise LogUnreadableError("two-decimal-signs", *max(signs.values()), SIGNS)


def _numbers(places: Sequence[int], table: Table, lines: Sequence[int]) -> Iterator[tuple[int, int, str]]:
    for row, line in enumerate(lines):
        yield from ((line, n, table[n][row]) for n in places if log_cells.begins_as_number(table[n][row]))
