"""A heating log as delimited text: from the bytes somebody sent to times and columns of temperature.

Comma, semicolon or tab between columns; point or comma in numbers; any lines of words before the first
sample; UTF-8 with or without mark, or ISO 8859-1. What the text does not say (which ring a column is, °C or
°F) is left open here: a person says it. House rules; the bounds are far above any heating.
"""

from math import isfinite

from qrecords.steps import log_columns, log_lines, log_rows, log_times, log_units
from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.log_table import LogTable


def read_log(content: bytes) -> LogTable:
    """The samples of one file. LogUnreadableError names line, column, value and what would be read."""
    lines = log_lines.lines(log_lines.text(content))
    delimiter = log_lines.delimiter([line for _, line in lines])
    rows = [(number, log_lines.cells(line, delimiter)) for number, line in lines]
    start = log_rows.first_sample(rows)
    header, body = rows[:start], log_rows.samples(rows[start:])
    numbers = [number for number, _ in body]
    table = list(zip(*(cells for _, cells in body), strict=True))
    names = log_rows.names(header, len(table))
    at, cells = log_columns.time_column(names, table)
    places = [n for n, _ in enumerate(table) if n != at and not log_times.is_date(table[n][0])]
    if delimiter == "," and not any(names):
        log_columns.not_split(places, table, numbers[0])
    log_columns.one_decimal_sign(places, table, numbers)
    times, started = log_times.seconds(cells, numbers, at + 1, log_units.time_unit(names[at]))
    if not isfinite(sum(times)):
        raise LogUnreadableError("time", numbers[0], at + 1, table[at][0], log_times.TIMES)
    if max(times) == min(times):
        raise LogUnreadableError("one-moment", numbers[0], at + 1, table[at][0], log_times.TIMES)
    columns = log_columns.columns(names, table, numbers, places, log_units.unit_of_all(header))
    return LogTable(tuple(times), columns, started)


def read_or_why(content: bytes) -> LogTable | LogUnreadableError:
    """The samples, or why there are none: what `Case.logs` holds."""
    try:
        return read_log(content)
    except LogUnreadableError as why:
        return why
