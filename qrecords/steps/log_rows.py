"""Which lines of a heating log are samples, and which are the words above them."""

from collections.abc import Sequence

from qrecords.steps import log_cells, log_times
from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.log_table import LEAST_SAMPLES, MOST_SAMPLES

COLUMNS = "every sample has the same columns as the first"
Row = tuple[int, Sequence[str]]
"""The number of a line, counted from 1, and its cells."""


def first_sample(rows: Sequence[tuple[int, Sequence[str]]]) -> int:
    """Where the samples begin: a time first (behind a count or a day), and a number beside it."""
    worded: tuple[int, str] | None = None
    for place, (number, cells) in enumerate(rows):
        if len(cells) > 1 and any(map(log_cells.begins_as_number, cells[1:])):
            if log_times.is_time(cells[0]) or log_times.is_date(cells[0]):
                return place
            if log_cells.has_digit(cells[0]):
                worded = worded or (number, cells[0])
    number, value = worded or (rows[0][0], rows[0][1][0])
    raise LogUnreadableError("time", number, 1, value, log_times.TIMES)


def samples(rows: list[tuple[int, list[str]]]) -> list[tuple[int, list[str]]]:
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


def names(header: Sequence[tuple[int, Sequence[str]]], width: int) -> list[str]:
    """The words over each column; of several lines of words, those as wide as the samples."""
    wide = [cells for _, cells in header if len(cells) == width]
    return [" ".join(dict.fromkeys(cell for cell in cells if cell)) for cells in zip(*wide, strict=True)] or [
        ""
    ] * width
