"""Readings typed in lines, without a record: by the one door, asked back by line, worked out by the core."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.anova import Study
from qrecords.engineering.capability import Limits, capability
from qrecords.engineering.gauge_study import Terms, by_anova
from qrecords.steps.errors import FieldError, LineError
from qrecords.steps.planner import lines, study
from qrecords.steps.planner.form import NOT_UNDERSTOOD, OUTSIDE
from qrecords.steps.planner.series import Series, read_series
from qrecords.steps.planner.study import Studied, read_study

TWO_BY_TWO = "A 1 2 3\nA 2 5 7\nB 1 2 4\nB 2 6 6"


def series(readings: str, **more: str) -> Series:
    found, asks = read_series({"readings": readings, **more})
    assert found is not None, asks
    return found


def studied(readings: str, **more: str) -> Studied:
    found, asks = read_study({"readings": readings, **more})
    assert found is not None, asks
    return found


def asked_of_series(readings: str, **more: str) -> dict[str, FieldError]:
    found, asks = read_series({"readings": readings, **more})
    assert found is None
    return asks


@pytest.mark.parametrize(
    "text", ["1 3\n2 4", "1;3\r\n2;4\r\n", "\t1\t3\n\n  2, 4,", "1 um 3\n2 4um".replace(" um", "um")]
)
def test_blanks_tabs_semicolons_and_commas_behind_a_number_part_readings(text: str) -> None:
    assert series(text).chart.means == (2.0, 3.0)


def test_comma_and_point_are_the_same_decimal_mark() -> None:
    assert series("1,5 2.5\n1.5 3,5").chart.means == (2.0, 2.5)


def test_thou_stays_thou_and_a_reading_may_bring_its_own_unit() -> None:
    found = series("1 2\n1 3", lengths="in", upper="5")
    assert (found.unit, found.limits) == ("thou", Limits(None, 5.0, "thou"))
    assert series("25.4um 2\n1 3", lengths="in").chart.means[0] == pytest.approx(1.5)


def test_limits_bring_the_indices_and_without_limits_there_are_none() -> None:
    groups = ((1.0, 2.0), (2.0, 4.0))
    assert series("1 2\n2 4").indices is None
    assert series("1 2\n2 4", lower="-1", upper="9").indices == capability(groups, Limits(-1.0, 9.0))


@pytest.mark.parametrize(
    ("text", "line", "typed", "allowed", "why"),
    [
        ("1 2\n1 2 3", 2, "3", "2", lines.UNEVEN),
        ("1\n2", 1, "1", "2…10", lines.COUNT),
        ("1 2\n\n1 2x", 3, "2x", "-2000…2000 um", NOT_UNDERSTOOD),
        ("1 2\n75.014 75.015", 2, "75.014", "um", lines.WHOLE),
        ("1 nan\n1 2", 1, "nan", "-2000…2000 um", NOT_UNDERSTOOD),
        ("1 2\n1 50.012mm", 2, "50.012mm", "-2000…2000 um", OUTSIDE),
    ],
)
def test_a_line_that_gives_no_answer_is_asked_back_by_its_number(
    text: str, line: int, typed: str, allowed: str, why: str
) -> None:
    asked = asked_of_series(text)["readings"]
    assert isinstance(asked, LineError)
    assert (asked.line, asked.typed, asked.allowed, asked.why) == (line, typed, allowed, why)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("1 2", lines.LINES),
        ("1 2\n" * 201, lines.LINES),
        ("1 1\n2 2", lines.NO_SPREAD),
        ("1 2\n" * 700, lines.TOO_LONG),
    ],
)
def test_the_whole_is_asked_back_where_it_is_too_short_too_long_or_without_spread(
    text: str, why: str
) -> None:
    assert asked_of_series(text)["readings"].why == why


def test_swapped_limits_are_asked_back_beside_what_is_wrong_with_the_readings() -> None:
    assert set(asked_of_series("1\n2", lower="5", upper="5")) == {"readings", "upper"}


def test_a_study_is_what_the_core_makes_of_the_same_table_in_whatever_order_it_is_typed() -> None:
    table: Study = [[(2.0, 3.0), (5.0, 7.0)], [(2.0, 4.0), (6.0, 6.0)]]
    found = studied(TWO_BY_TWO, tolerance="20", width="5.15")
    assert (found.operators, found.parts, found.trials) == (("A", "B"), ("1", "2"), 2)
    assert found.by_anova == by_anova(table, Terms("um", 5.15, 20.0))
    mixed = studied("A 1 2 3\nB 2 6 6\nA 2 5 7\nB 1 2 4", tolerance="20", width="5.15")
    assert mixed.by_anova == found.by_anova


@pytest.mark.parametrize(
    ("text", "why", "allowed"),
    [
        (TWO_BY_TWO + "\nA 1 2 4", study.TWICE, "2…10"),
        ("A\nB", study.NO_LINE, "2…10"),
        (f"{'A' * 21} 1 2 3\n{TWO_BY_TWO}", study.NO_LINE, "2…10"),
        (TWO_BY_TWO + "\nB 3 2 4", study.LACKING, "A 3"),
        ("A 1 2 3\nB 1 2 4", study.PARTS, "2…10"),
        ("A 1 2 3\nA 2 2 4", study.PEOPLE, "2…10"),
        ("A 1 2\nA 2 3", lines.COUNT, "2…10"),
        (TWO_BY_TWO.replace("6 6", "6"), lines.UNEVEN, "2"),
        ("A 1 2 2\nA 2 3 3\nB 1 4 4\nB 2 5 5", lines.NO_SPREAD, ""),
    ],
)
def test_a_study_that_is_not_crossed_evenly_is_asked_back(text: str, why: str, allowed: str) -> None:
    found, asks = read_study({"readings": text})
    assert found is None
    assert (asks["readings"].why, asks["readings"].allowed) == (why, allowed)


@pytest.mark.parametrize("tolerance", ["0", "-3", "x", "2001"])
def test_a_tolerance_that_is_none_is_asked_back(tolerance: str) -> None:
    _, asks = read_study({"readings": TWO_BY_TWO, "tolerance": tolerance})
    assert asks["tolerance"].typed == tolerance


@given(st.text("0123456789.,-; \t\nABµumthoin", max_size=80))
def test_no_text_does_more_than_be_asked_back(text: str) -> None:
    for read in (read_series, read_study):
        found, asks = read({"readings": text})
        assert (found is None) == bool(asks)
