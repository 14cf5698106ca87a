"""How a heating log tells time: seconds, a clock, or date and time by ISO 8601."""

import re
from collections.abc import Callable, Sequence
from datetime import datetime

from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.log_cells import Cells, all_plain, is_number, plain

TIMES = (
    "a time is seconds (12 or 12.5), minutes and seconds (mm:ss), hh:mm:ss, or date and time by ISO 8601 "
    "(2026-03-02T08:15:30)"
)
_ISO = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}[T ][0-9]{2}:[0-9]{2}")
_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_CLOCK = re.compile(r"([0-9]{1,4}):([0-5][0-9])(?::([0-5][0-9]))?(?:[.,]([0-9]{1,9}))?")
PER_UNIT_S = {"s": 1.0, "ms": 0.001, "min": 60.0, "h": 3600.0}
HALF_A_DAY_S, DAY_S = 43_200, 86_400


def seconds(cells: Cells, lines: Sequence[int], column: int, unit: str) -> tuple[list[float], str]:
    """Seconds since the first cell, and its moment as ISO 8601 writes it; '' where no cell tells the day.

    Plain numbers count in `unit`. A clock that passes midnight goes on.
    """
    first = cells[0]
    if _ISO.match(first):
        return _dated(cells, lines, column)
    if _CLOCK.fullmatch(first):
        return _past_midnight(_each(cells, lines, column, _clock)), ""
    told, factor = all_plain(cells) or _each(cells, lines, column, plain), PER_UNIT_S[unit]
    return [(at - told[0]) * factor for at in told], ""


def _each(
    cells: Cells, lines: Sequence[int], column: int, read: Callable[[str], float | None]
) -> list[float]:
    told = []
    for cell, line in zip(cells, lines, strict=True):
        at = read(cell)
        if at is None:
            raise LogUnreadableError("time", line, column, cell, TIMES)
        told.append(at)
    return told


def _dated(cells: Cells, lines: Sequence[int], column: int) -> tuple[list[float], str]:
    told: list[float] = []
    start: datetime | None = None
    for cell, line in zip(cells, lines, strict=True):
        try:
            at = datetime.fromisoformat(cell)
            start = start or at
            told.append((at - start).total_seconds())
        except (ValueError, TypeError) as error:  # TypeError: a zone here and none there
            raise LogUnreadableError("time", line, column, cell, TIMES) from error
    return told, start.isoformat() if start else ""


def _clock(cell: str) -> float | None:
    parts = _CLOCK.fullmatch(cell)
    if parts is None:
        return None
    first, second, third, fraction = parts.groups()
    whole = int(first) * 60 + int(second) if third is None else _of_day(int(first), int(second), int(third))
    return whole + (float(f"0.{fraction}") if fraction else 0.0)


def _of_day(hours: int, minutes: int, seconds: int) -> int:
    return (hours * 60 + minutes) * 60 + seconds


def _past_midnight(told: list[float]) -> list[float]:
    days, before, on = 0, told[0], []
    for at in told:
        if at < before - HALF_A_DAY_S:
            days += 1
        before = at
        on.append(at + days * DAY_S - told[0])
    return on


def is_time(cell: str) -> bool:
    return bool(_ISO.match(cell) or _CLOCK.fullmatch(cell) or is_number(cell))


def is_date(cell: str) -> bool:
    return bool(_DATE.fullmatch(cell))


def is_clock(cell: str) -> bool:
    """Minutes and seconds, hours, minutes and seconds, or date and time: a time and nothing else."""
    return bool(_ISO.match(cell) or _CLOCK.fullmatch(cell))
