"""From the text of a heater's log to samples: what is read, and what is asked back with its place.

The forms are generic delimited text (RFC 4180 and its usual kin with semicolons and tabs) and ISO 8601.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.log_table import MOST_BYTES, MOST_COLUMNS, LogTable
from qrecords.steps.log_text import read_log

RISING = ((0, "20.5"), (1, "21.5"), (2, "22.5"))


def lines(*rows: str, end: str = "\n") -> bytes:
    return end.join(rows).encode()


def of(*rows: str) -> LogTable:
    return read_log(lines(*rows))


def refused(content: bytes) -> LogUnreadableError:
    with pytest.raises(LogUnreadableError) as caught:
        read_log(content)
    assert caught.value.wanted, "says what would be read"
    return caught.value


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("sign", [".", ","])
def test_the_sign_between_columns_and_the_sign_of_decimals_are_told_by_the_text(
    delimiter: str, sign: str
) -> None:
    quote = '"' if delimiter == sign else ""
    rows = [f"{at}{delimiter}{quote}{value.replace('.', sign)}{quote}" for at, value in RISING]
    table = of(*rows)
    assert table.times_s == (0, 1, 2)
    assert [column.values for column in table.columns] == [(20.5, 21.5, 22.5)]


@pytest.mark.parametrize(
    "encoded", ["utf-8", "utf-8-sig", "latin-1"], ids=["UTF-8", "UTF-8 with mark", "ISO 8859-1"]
)
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_each_encoding_and_each_end_of_line_reads_the_same(encoded: str, end: str) -> None:
    text = end.join(["Zeit [s];Innenring [°C];Außenring [°C]", "0;20,5;20,5", "1;21,5;20,6", ""])
    table = read_log(text.encode(encoded))
    assert [(c.place, c.name, c.unit) for c in table.columns] == [
        (2, "Innenring [°C]", "°C"),
        (3, "Außenring [°C]", "°C"),
    ]


@pytest.mark.parametrize(
    ("cells", "seconds"),
    [
        (("0", "12.5", "25"), (0, 12.5, 25)),
        (("00:00", "00:12.5", "01:05"), (0, 12.5, 65)),
        (("08:00:00", "08:00:12", "09:00:00"), (0, 12, 3600)),
        (("23:59:58", "23:59:59", "00:00:01"), (0, 1, 3)),
        (("2026-03-02T08:00:00", "2026-03-02T08:00:12", "2026-03-03T08:00:00"), (0, 12, 86400)),
        (("2026-03-02 08:00:00Z", "2026-03-02 08:00:12Z", "2026-03-02 08:01:00Z"), (0, 12, 60)),
    ],
)
def test_time_is_seconds_or_a_clock_or_date_and_time(
    cells: tuple[str, ...], seconds: tuple[float, ...]
) -> None:
    assert of(*(f"{cell};2{n}" for n, cell in enumerate(cells))).times_s == seconds


def test_a_date_in_a_column_of_its_own_belongs_to_the_clock_beside_it() -> None:
    table = of("day;clock;T", "2026-03-02;23:59:59;20,5", "2026-03-03;00:00:01;21,5")
    assert (table.times_s, table.started) == ((0, 2), "2026-03-02T23:59:59")
    assert [column.name for column in table.columns] == ["T"]


@pytest.mark.parametrize(("name", "factor"), [("t/min", 60), ("time [ms]", 0.001), ("Time (h)", 3600)])
def test_a_time_that_says_another_unit_than_seconds_counts_in_it(name: str, factor: float) -> None:
    assert of(f"{name};T", "0;20", "2;21").times_s == (0, 2 * factor)


@pytest.mark.parametrize(
    ("header", "units"),
    [
        (("t;T (C);T2 [F]",), ["°C", "°F"]),
        (("unit: °F", "t;inner;outer"), ["°F", "°F"]),
        (("t;inner;outer", "s;°C;°C"), ["°C", "°C"]),
        (("t;inner;outer",), ["", ""]),
        (("°C or °F", "t;inner;outer"), ["", ""]),
    ],
)
def test_the_unit_is_what_the_words_above_say_and_left_open_where_they_do_not(
    header: tuple[str, ...], units: list[str]
) -> None:
    table = of(*header, "0;20;20", "1;21;20")
    assert [column.unit for column in table.columns] == units


def test_a_cell_without_a_digit_is_a_sample_without_a_temperature() -> None:
    assert of("0;20", "1;open", "2;", "3;-", "4;22").columns[0].values == (20, None, None, None, 22)


def test_what_says_it_is_no_temperature_is_none() -> None:
    table = of("no;t [s];P [kW];state;T [°C]", "1;0;3,5;on;20", "2;1;3,5;on;21")
    assert (table.times_s, [column.place for column in table.columns]) == ((0, 1), [5])


@pytest.mark.parametrize(
    ("rows", "reason", "line", "column", "value"),
    [
        (("0;20", "1;2O,5"), "number", 2, 2, "2O,5"),
        (("0;20", "1x;21"), "time", 2, 1, "1x"),
        (("t;T", "30.11.2026 08:00;20", "30.11.2026 08:01;21"), "time", 2, 1, "30.11.2026 08:00"),
        (("0;20", "1;21;3"), "columns-differ", 2, 2, "3 columns, 2 before"),
        (("0;20.5", "1;21,5"), "two-decimal-signs", 2, 2, "21,5"),
        (("0,20,5", "1,21,0"), "two-kinds-of-comma", 1, 1, "0,20,5"),
        (("5;20", "5;21"), "one-moment", 1, 1, "5"),
        (("0;20",), "samples", 1, 1, "1"),
        (("0;on", "1;on"), "time", 1, 1, "0"),
        (("just words",), "no-columns", 1, 1, "just words"),
    ],
)
def test_what_cannot_be_read_is_told_with_line_column_and_value(
    rows: tuple[str, ...], reason: str, line: int, column: int, value: str
) -> None:
    why = refused(lines(*rows))
    assert (why.reason, why.line, why.column, why.value) == (reason, line, column, value)


def test_what_is_no_text_or_beyond_the_bounds_is_refused_as_a_whole() -> None:
    assert refused(b"%PDF-1.7\x00\x01").reason == "not-text"
    assert refused(b"").reason == "empty"
    assert refused(b"0;20\n" * (MOST_BYTES // 5 + 1)).reason == "too-large"
    assert refused(lines("0;" + "20;" * 700, "1;" + "21;" * 700)).reason == "line-too-long"
    wide = ";20" * (MOST_COLUMNS + 1)
    assert refused(lines(f"0{wide}", f"1{wide}")).reason == "too-many-columns"


CELLS = st.text(st.sampled_from("0123456789.,:;-T+ \t\"'°CFe\n\rx"), max_size=60)


@given(st.one_of(st.binary(max_size=80), CELLS.map(str.encode)))
def test_no_bytes_raise_anything_but_the_named_error(content: bytes) -> None:
    try:
        table = read_log(content)
    except LogUnreadableError:
        return
    assert len(table.times_s) == len(table.columns[0].values) >= 2
