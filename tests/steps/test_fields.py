"""The keyboard: what yields no quantity is asked back, a slip is asked once, a true but bad fact is taken."""

import pytest

from qrecords.steps.errors import FieldError, SlipError, UnknownFieldError
from qrecords.steps.expected import expected_for
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
    "typed",
    ["", "abc", "1.2.3", "1,2,3", "NaN", "inf", "-inf", "1e5", "--3", "0x10", "١٢",
              pytest.param("9" * 1_000_000, id="a million digits")],
)  # fmt: skip
def test_what_yields_no_quantity_is_asked_back_with_field_value_unit_and_range(typed: str) -> None:
    with pytest.raises(FieldError) as caught:
        JOURNAL.parse(typed, UM, NEAR)
    error = caught.value
    assert (error.field, error.unit) == ("journal", UM)
    assert error.typed == typed.strip()[:60]
    assert error.allowed == f"-27…68 {UM}"
    assert len(str(error)) < 2_000_000


@pytest.mark.parametrize(
    ("typed", "unit", "meant"),
    [
        pytest.param("600.18", "mm", ("60.018", "mm"), id="ten times"),
        pytest.param("6.0018", "mm", ("60.018", "mm"), id="a tenth"),
        pytest.param("60018", "mm", ("60018", "um"), id="µm typed as mm"),
        pytest.param("60.018", "in", ("60.018", "mm"), id="mm typed as inch"),
        pytest.param("2,3629", "mm", ("2,3629", "in"), id="inch typed as mm"),
        pytest.param("18", "mm", ("18", UM), id="deviation typed as a size"),
        pytest.param("60,018", UM, ("60,018", "mm"), id="size typed as deviation"),
        pytest.param("60.02", UM, ("60.02", "mm"), id="size typed as deviation inside the likely range"),
        pytest.param("-60.018", "mm", ("60.018", "mm"), id="minus before a size"),
        pytest.param("60.18", "mm", ("60.018", "mm"), id="a nought lost"),
        pytest.param("180", UM, ("18", UM), id="deviation ten times"),
        pytest.param("-30", UM, ("30", UM), id="minus before a deviation"),
        pytest.param("709", UM, ("7.09", UM), id="the same figures before an inch nobody typed"),
    ],
)
def test_a_likely_slip_is_asked_once_and_what_was_meant_keeps_the_figures_where_it_can(
    typed: str, unit: str, meant: tuple[str, str]
) -> None:
    with pytest.raises(SlipError) as caught:
        JOURNAL.parse(typed, unit, NEAR)
    assert (caught.value.meant, caught.value.meant_unit) == meant
    taken = JOURNAL.parse(*meant, NEAR)
    assert (taken.typed, taken.unit) == meant


@pytest.mark.parametrize(
    ("step", "key", "usual", "unit"),
    [
        ("measurement", "master_before", "2.5", "um"),
        ("measurement", "shaft", "21", "°C"),
        ("measurement", "air", "18.5", "°C"),
        ("bore", "bore.A.0", "59.994", "mm"),
        ("clearance_before", "g0", "30", "um"),
        ("clearance_after", "g1", "16", "um"),
        ("heating", "peak", "95", "°C"),
        ("heating", "peak_outer", "85", "°C"),
        ("heating", "set_to", "90", "°C"),
        ("heating", "own_ceiling", "150", "°C"),
        ("shoulder_gap", "ring_temp", "22", "°C"),
        ("shoulder_gap", "gap.0", "0.05", "mm"),
        ("demagnetisation", "field", "0.9", "A/cm"),
    ],
)
def test_every_number_is_asked_about_when_it_is_a_thousand_times_off_or_no_number(
    step: str, key: str, usual: str, unit: str
) -> None:
    field = STEPS[step].field(key)
    near = expected_for(Book().case(), step, field.id)
    assert field.parse(usual, unit, near).typed == usual
    with pytest.raises(SlipError) as slip:
        field.parse(f"{float(usual) * 1000:f}"[:10], unit, near)
    assert slip.value.meant and field.parse(slip.value.meant, slip.value.meant_unit, near)
    assert field.parse(f"{float(usual) * 1000:f}"[:10], unit, near, sure=True), "a true fact is recorded"
    for nothing in ("", "twenty", "NaN", "inf", "1e3", "1,2,3", "9" * 100_000):
        with pytest.raises(FieldError) as caught:
            field.parse(nothing, unit, near)
        assert not isinstance(caught.value, SlipError)
        assert caught.value.allowed.endswith(f" {unit}") and "…" in caught.value.allowed


def test_fahrenheit_typed_as_celsius_is_asked_once_and_keeps_its_figures() -> None:
    for field, typed in ((PEAK, "228"), (PEAK, "185"), (STEPS["measurement"].field("shaft"), "68")):
        with pytest.raises(SlipError) as caught:
            field.parse(typed, "°C")
        assert (caught.value.meant, caught.value.meant_unit) == (typed, "°F")


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
    assert caught.value.known == ("turns", "spot_at", "turned", "sound", "aligns")


@pytest.mark.parametrize("text", ["", "   ", "a" * 81, "two\nlines", "null\x00byte"])
def test_words_are_one_line_of_bounded_length(text: str) -> None:
    with pytest.raises(FieldError):
        STEPS["identification"].field("marking").parse(text, "")
