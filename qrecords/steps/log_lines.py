"""From the bytes of a heating log to its lines and their cells, whatever stands between the columns."""

import csv
import re
from collections.abc import Sequence

from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.log_table import MOST_BYTES

LONGEST_LINE = 2000
DELIMITERS = ("\t", ";", ",")
TEXT = "a log is text: a line a sample, columns between commas, semicolons or tabs"
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")


def text(content: bytes) -> str:
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


def lines(text: str) -> list[tuple[int, str]]:
    """The lines that hold anything, with their numbers."""
    whole = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if max(map(len, whole)) > LONGEST_LINE:
        number = next(n for n, line in enumerate(whole, start=1) if len(line) > LONGEST_LINE)
        wanted = f"{LONGEST_LINE} characters a line at most"
        raise LogUnreadableError("line-too-long", number, 1, whole[number - 1], wanted)
    return [(number, line) for number, line in enumerate(whole, start=1) if line.strip()]


def delimiter(lines: Sequence[str]) -> str:
    """The first of tab, semicolon and comma that stands in most lines."""
    for delimiter in DELIMITERS:
        if 2 * sum(delimiter in line for line in lines) > len(lines):
            return delimiter
    first = lines[0] if lines else ""
    raise LogUnreadableError("no-columns", 1, 1, first, TEXT)


def cells(line: str, delimiter: str) -> list[str]:
    cells = next(csv.reader([line], delimiter=delimiter)) if '"' in line else line.split(delimiter)
    cells = [cell.strip() for cell in cells]
    return cells[:-1] if len(cells) > 2 and not cells[-1] else cells  # a delimiter at the end of the line
