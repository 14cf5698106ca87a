"""From the bytes of a sheet to its rows: UTF-8 with or without mark, columns by comma, semicolon or tab.

Nothing in a cell is worked out: what looks like a formula is text. The bounds are house rules.
"""

import csv
import hashlib
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from qrecords.workshop.errors import WorkshopError
from qrecords.workshop.importing.fates import Row

MOST_BYTES, MOST_ROWS, LONGEST_CELL = 400_000, 1_000, 2_000
DELIMITERS = (";", ",", "\t")
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


class SheetUnreadableError(WorkshopError):
    """A file that is no sheet of this kind: `why` is a stable word, `line` 0 where it is the whole file."""

    code = "sheet-unreadable"

    def __init__(self, why: str, allowed: str, line: int = 0, value: str = "") -> None:
        self.why, self.allowed, self.line, self.value = why, allowed, line, value[:60]
        at = f" in line {line}" if line else ""
        super().__init__(f"{why}{at}: {value[:60]!r}; wanted: {allowed}")


class FileChangedError(WorkshopError):
    """The file is another one than the one whose rows were told."""

    code = "file-changed"

    def __init__(self, told: str, sent: str) -> None:
        self.told, self.sent = told[:64], sent
        super().__init__("the file is not the one that was looked at: look at its rows again")


@dataclass(frozen=True)
class Sheet:
    """The rows of one file, by the SHA-256 of its bytes. `overlong`: lines with more cells than columns."""

    sha256: str
    size: int
    rows: tuple[Row, ...]
    overlong: frozenset[int] = frozenset()


def read_sheet(raw: bytes, columns: Sequence[str], required: Iterable[str]) -> Sheet:
    """SheetUnreadableError names what is wrong with the file as a whole; a wrong row is a fate."""
    lines = _lines(_text(raw))
    head, body = _head(lines, columns, set(required)), lines[1:]
    if len(body) > MOST_ROWS:
        raise SheetUnreadableError("too many rows", f"{MOST_ROWS} rows at most", value=str(len(body)))
    rows = tuple(
        Row(line, {name: _plain(cell) for name, cell in zip(head, cells, strict=False)})
        for line, cells in body
    )
    overlong = frozenset(line for line, cells in body if any(cell.strip() for cell in cells[len(head) :]))
    return Sheet(hashlib.sha256(raw).hexdigest(), len(raw), rows, overlong)


def _text(raw: bytes) -> str:
    if len(raw) > MOST_BYTES:
        raise SheetUnreadableError("too long", f"{MOST_BYTES} bytes at most", value=f"{len(raw)} bytes")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise SheetUnreadableError("not UTF-8", "CSV in UTF-8, with or without mark", line) from None
    if "\0" in text:
        raise SheetUnreadableError("not text", "CSV in UTF-8, with or without mark")
    return text


def _lines(text: str) -> list[tuple[int, list[str]]]:
    """(line, cells) of every row that holds anything; the delimiter is that of the first line."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    delimiter = max(DELIMITERS, key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    found, line = [], 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                found.append((line, cells))
            line = reader.line_num + 1
    except csv.Error as error:
        raise SheetUnreadableError("not CSV", f"quoted cells that end ({error})", line) from None
    if not found:
        raise SheetUnreadableError("empty", "a first line with the names of the columns, then the rows")
    return found


def _head(lines: Sequence[tuple[int, list[str]]], columns: Sequence[str], required: set[str]) -> list[str]:
    line, cells = lines[0]
    head = [cell.strip().casefold().replace(" ", "_").replace("-", "_") for cell in cells]
    while head and not head[-1]:
        head.pop()
    allowed = ", ".join(columns)
    for name, cell in zip(head, cells, strict=False):
        if "password" in name:
            raise SheetUnreadableError(
                "a password", "no password: first passwords are given one by one", line
            )
        if name not in columns:
            raise SheetUnreadableError("unknown column", allowed, line, cell)
        if head.count(name) > 1:
            raise SheetUnreadableError("column twice", allowed, line, cell)
    lacking = sorted(required - set(head))
    if lacking:
        raise SheetUnreadableError("column lacking", ", ".join(lacking), line)
    return head


def _plain(cell: str) -> str:
    """A cell without its ends, and without the mark that our exports set before what looks like a formula."""
    text = cell.strip()
    return text[1:] if text[:1] == "'" and text[1:].startswith(FORMULA_STARTS) else text
