"""A heating log as delimited text: from the bytes somebody sent to times and columns of temperature.

Comma, semicolon or tab between columns; point or comma in numbers; any lines of words before the first
sample; UTF-8 with or without mark, or ISO 8859-1. What the text does not say (which ring a column is, °C or
°F) is left open here: a person says it. House rules; the bounds are far above any heating.
"""

import csv
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isfinite

from qrecords.steps import log_cells
from qrecords.steps.errors import LogUnreadableError

MOST_BYTES = 2_000_000
MOST_SAMPLES, LEAST_SAMPLES = 100_000, 2
MOST_COLUMNS = 12
LONGEST_LINE = 2000
DELIMITERS = ("\t", ";", ",")
TEXT = "a log is text: a line a sample, columns between commas, semicolons or tabs"
COLUMNS = "every sample has the same columns as the first"
SIGNS = "commas between columns need points in the numbers; semicolons or tabs allow both"
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")
_UNIT = re.compile(
    r"(?:°|º|˚|\bdeg\.?\s?)\s?([CF])\b|[\[(]\s*([CF])\s*[\])]|(?:^|[\s,;/_])([CF])\s*$|\b(Cel|Fahr)"
)
_OTHER = re.compile(
    r"[\[(]\s*(?:%|k?W|m?A|k?V|k?Hz|mm|rpm|m?T|bar|k?J|kWh)\s*[\])]|^\s*(?:no\.?|nr\.?|#|index|record|sample)\s*$",
    re.I,
)
_TIME = re.compile(r"\s*(?i:(?:elapsed |run |log )?(?:time|zeit|seconds?|secs?|minutes?|min|ms)|t|s)\b")
_TIME_UNIT = re.compile(r"(?:[\[(,/_\s]|^)\s*(ms|s|secs?|seconds?|min|minutes?|h|hours?)\s*[\])]?\s*$", re.I)
Table = Sequence[Sequence[str]]
"""The cells by column."""
_COUNTED = re.compile(r"^\s*(?:no\.?|nr\.?|#|index|record|sample|n)\s*$", re.I)


@dataclass(frozen=True)
class Column:
    """One column of temperature: its place in the file, counted from 1, the words over it, and the unit if
    the file says one (°C or °F, else '')."""

    place: int
    name: str
    unit: str
    values: tuple[float | None, ...]


@dataclass(frozen=True, eq=False)
class LogTable:
    """What a file says: seconds since its first sample and the columns. `started` is the moment of the first
    sample where the file tells the day, as ISO 8601 writes it (with its zone, if it tells that too)."""

    times_s: tuple[float, ...]
    columns: tuple[Column, ...]
    started: str

    def column(self, place: int) -> Column | None:
        return next((column for column in self.columns if column.place == place), None)


def read_log(content: bytes) -> LogTable:
    """The samples of one file. LogUnreadableError names line, column, value and what would be read."""
    lines = _lines(_text(content))
    delimiter = _delimiter([line for _, line in lines])
    rows = [(number, _cells(line, delimiter)) for number, line in lines]
    start = _first_sample(rows)
    header, body = rows[:start], _samples(rows[start:])
    numbers = [number for number, _ in body]
    table = list(zip(*(cells for _, cells in body), strict=True))
    names = _names(header, len(table))
    at, cells = _time_column(names, table)
    places = [n for n, _ in enumerate(table) if n != at and not log_cells.is_date(table[n][0])]
    if delimiter == "," and not any(names):
        _not_split(places, table, numbers[0])
    _one_decimal_sign(places, table, numbers)
    times, started = log_cells.seconds(cells, numbers, at + 1, _time_unit(names[at]))
    if not isfinite(sum(times)):
        raise LogUnreadableError("time", numbers[0], at + 1, table[at][0], log_cells.TIMES)
    if max(times) == min(times):
        raise LogUnreadableError("one-moment", numbers[0], at + 1, table[at][0], log_cells.TIMES)
    columns = _columns(names, table, numbers, places, _unit_of_all(header))
    return LogTable(tuple(times), columns, started)


def read_or_why(content: bytes) -> LogTable | LogUnreadableError:
    """The samples, or why there are none: what `Case.logs` holds."""
    try:
        return read_log(content)
    except LogUnreadableError as why:
        return why


def _text(content: bytes) -> str:
    if not content:
        raise LogUnreadableError("empty", wanted=TEXT)
    if len(content) > MOST_BYTES:
        raise LogUnreadableError(
            "too-large", value=f"{len(content)} bytes", wanted=f"{MOST_BYTES} bytes at most"
        )
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("latin-1")
    if _CONTROL.search(text):
        raise LogUnreadableError("not-text", wanted=TEXT)
    return text


def _lines(text: str) -> list[tuple[int, str]]:
    """The lines that hold anything, with their numbers."""
    whole = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if max(map(len, whole)) > LONGEST_LINE:
        number = next(n for n, line in enumerate(whole, start=1) if len(line) > LONGEST_LINE)
        wanted = f"{LONGEST_LINE} characters a line at most"
        raise LogUnreadableError("line-too-long", number, 1, whole[number - 1], wanted)
    return [(number, line) for number, line in enumerate(whole, start=1) if line.strip()]


def _delimiter(lines: Sequence[str]) -> str:
    """The first of tab, semicolon and comma that stands in most lines."""
    for delimiter in DELIMITERS:
        if 2 * sum(delimiter in line for line in lines) > len(lines):
            return delimiter
    first = lines[0] if lines else ""
    raise LogUnreadableError("no-columns", 1, 1, first, TEXT)


def _cells(line: str, delimiter: str) -> list[str]:
    cells = next(csv.reader([line], delimiter=delimiter)) if '"' in line else line.split(delimiter)
    cells = [cell.strip() for cell in cells]
    return cells[:-1] if len(cells) > 2 and not cells[-1] else cells  # a delimiter at the end of the line


def _first_sample(rows: Sequence[tuple[int, Sequence[str]]]) -> int:
    """Where the samples begin: a time first (behind a count or a day), and a number beside it."""
    worded: tuple[int, str] | None = None
    for place, (number, cells) in enumerate(rows):
        if len(cells) > 1 and any(map(log_cells.begins_as_number, cells[1:])):
            if log_cells.is_time(cells[0]) or log_cells.is_date(cells[0]):
                return place
            if log_cells.has_digit(cells[0]):
                worded = worded or (number, cells[0])
    number, value = worded or (rows[0][0], rows[0][1][0])
    raise LogUnreadableError("time", number, 1, value, log_cells.TIMES)


def _samples(rows: list[tuple[int, list[str]]]) -> list[tuple[int, list[str]]]:
    """The rows of samples without words at the end; LogUnreadableError where one has other columns, or where
    there are too few or too many."""
    while rows and not log_cells.begins_as_number(rows[-1][1][0]):
        rows.pop()
    width = len(rows[0][1])
    for number, cells in rows:
        if len(cells) != width:
            value = f"{len(cells)} columns, {width} before"
            raise LogUnreadableError("columns-differ", number, min(len(cells), width), value, COLUMNS)
    if not LEAST_SAMPLES <= len(rows) <= MOST_SAMPLES:
        wanted = f"{LEAST_SAMPLES} to {MOST_SAMPLES} samples"
        raise LogUnreadableError("samples", rows[-1][0], 1, str(len(rows)), wanted)
    return rows


def _names(header: Sequence[tuple[int, Sequence[str]]], width: int) -> list[str]:
    """The words over each column; of several lines of words, those as wide as the samples."""
    wide = [cells for _, cells in header if len(cells) == width]
    return [" ".join(dict.fromkeys(cell for cell in cells if cell)) for cells in zip(*wide, strict=True)] or [
        ""
    ] * width


def _not_split(places: Sequence[int], table: Table, line: int) -> None:
    """Whole numbers alone between commas under no words, two columns or more beside the time: the commas may
    stand inside the numbers as well, and nothing here tells which."""
    if len(places) > 1 and all(cell.isdecimal() for n in places for cell in table[n]):
        value = ",".join(column[0] for column in table)
        raise LogUnreadableError("two-kinds-of-comma", line, 1, value, SIGNS)


def _time_column(names: Sequence[str], table: Table) -> tuple[int, Sequence[str]]:
    """The column that counts the time, and its cells, joined with the date before it. One that can be nothing
    else, else one that says so, else the first that is no mere count."""
    for n, column in enumerate(table):
        if log_cells.is_clock(column[0]):
            if n and log_cells.is_date(table[n - 1][0]):
                return n, [f"{day}T{at}" for day, at in zip(table[n - 1], column, strict=True)]
            return n, column
    numbers = [n for n, column in enumerate(table) if log_cells.is_number(column[0])]
    said = [n for n in numbers if _TIME.match(names[n]) and not _unit(names[n])]
    counts = [n for n in numbers if not _COUNTED.match(names[n])]
    found = (said or counts or numbers)[0]
    return found, table[found]


def _time_unit(name: str) -> str:
    said = _TIME_UNIT.search(name)
    word = said[1].lower() if said else "s"
    if word.startswith("s"):
        return "s"
    return word if word == "ms" else "min" if word.startswith("min") else "h"


def _columns(
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
        unit = _unit(names[n]) or _unit_in(table[n]) or of_all
        columns.append(Column(n + 1, names[n], unit, tuple(log_cells.temperatures(table[n], lines, n + 1))))
    return tuple(columns)


def _mostly_numbers(cells: Sequence[str]) -> bool:
    """A column of words with a digit here and there is no temperature."""
    told = [cell for cell in cells if log_cells.has_digit(cell)]
    return 2 * sum(map(log_cells.begins_as_number, told)) > len(told)


def _unit(words: str) -> str:
    said = {next(filter(None, found))[0] for found in _UNIT.findall(words)}
    return f"°{said.pop()}" if len(said) == 1 else ""


def _unit_in(cells: Sequence[str]) -> str:
    """The unit behind the numbers, where it stands behind one of the first."""
    return next((f"°{cell[-1]}" for cell in cells[:5] if len(cell) > 1 and cell[-1] in "CF"), "")


def _unit_of_all(header: Sequence[tuple[int, Sequence[str]]]) -> str:
    return _unit("\n".join(cell for _, cells in header for cell in cells))


def _one_decimal_sign(places: Sequence[int], table: Table, lines: Sequence[int]) -> None:
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
