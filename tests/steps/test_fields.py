"""The keyboard: what yields no quantity is asked back, a slip is asked once, a true but bad fact is taken."""

import pytest

from qrecords.steps.errors import FieldError, SlipError, UnknownFieldError
from qrecords.steps.measurement import expected_for
from qrecords.steps.standard import STEPS
from tests.steps.casebook import Book

UM = "um from 60 mm"
JOURNAL = STEPS["measurement"].field("journal.A.0")
PEAK = STEPS["heating"].field("peak")
NEAR = expected_for(Book().case(), "measurement", "journal")


@pytest.mark.parametrize("typed", ["18", "+18", " 18 ", "18,0", "18.0"])
def test_comma_point_plus_and_blanks_are_all_understood(typed: str) -> None:
    assert JOURNAL.parse(typed, UM, NEAR).value == 60_018_000


@pytest.mark.parametrize("typed", ["−6", "-6"])
def test_the_true_minus_is_a_minus(typed: str) -> None:
    assert JOURNAL.parse(typed, UM, NEAR).value == 59_994_000


@pytest.mark.parametrize(
    "typed", ["", "abc", "1.2.3", "1,2,3", "NaN", "inf", "-inf", "1e5", "--3", "0x10", "١٢", "9" * 1_000_000]
)
def test_what_yields_no_quantity_is_asked_back_with_field_value_unit_and_range(typed: str) -> None:
    with pytest.raises(FieldError) as caught:
        JOURNAL.parse(typed, UM, NEAR)
    error = caught.value
    assert (error.field, error.unit) == ("journal", UM)
    assert error.typed == typed.strip()[:60]
    assert "-250" in error.allowed.replace("−", "-")
    assert len(str(error)) < 2_000_000


@pytest.mark.parametrize(
    ("typed", "unit", "meant"),
    [("600.18", "mm", "60.018"), ("6.0018", "mm", "60.018"), ("60018", "mm", "60.018"),
     ("60.018", "in", None), ("2.3629", "mm", "60.017")],
)  # fmt: skip
def test_a_slip_of_10_254_or_1000_is_asked_once(typed: str, unit: str, meant: str | None) -> None:
    with pytest.raises(SlipError) as caught:
        JOURNAL.parse(typed, unit, NEAR)
    assert meant is None or caught.value.meant.startswith(meant)


def test_fahrenheit_typed_as_celsius_is_asked_once() -> None:
    with pytest.raises(SlipError) as caught:
        PEAK.parse("228", "°C")
    assert caught.value.meant.startswith("108.")


def test_a_confirmed_value_is_taken_as_typed() -> None:
    value = PEAK.parse("228", "°C", sure=True)
    assert (value.typed, value.unit, value.value) == ("228", "°C", 228_000)


def test_a_true_but_bad_fact_is_not_asked_about() -> None:
    assert PEAK.parse("131", "°C").value == 131_000


def test_a_unit_that_the_field_does_not_take_is_refused() -> None:
    with pytest.raises(FieldError):
        PEAK.parse("95", "mm")


def test_a_word_that_is_no_choice_is_refused_with_the_choices() -> None:
    with pytest.raises(FieldError) as caught:
        STEPS["running"].field("turns").parse("fine", "")
    assert "smooth" in caught.value.allowed


def test_a_field_that_does_not_exist_is_named_with_those_that_do() -> None:
    with pytest.raises(UnknownFieldError) as caught:
        STEPS["running"].field("colour")
    assert caught.value.known == ("turns",)


@pytest.mark.parametrize("text", ["", "   ", "a" * 81, "two\nlines", "null\x00byte"])
def test_words_are_one_line_of_bounded_length(text: str) -> None:
    with pytest.raises(FieldError):
        STEPS["identification"].field("marking").parse(text, "")
