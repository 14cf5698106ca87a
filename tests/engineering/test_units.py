"""The one door from text to a quantity."""

import time
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.errors import NotAQuantityError, OutOfRangeError
from qrecords.engineering.units import known_unit, parse_number, read, show, units_of

QUANTITIES = {
    "length": ("mm", "um", "in", "thou", "um from 80 mm", "um from 3.1496 in"),
    "temperature": ("°C", "°F"),
    "temperature_difference": ("K", "°F"),
    "time": ("s", "min", "h"),
    "mass": ("kg", "g", "lb"),
    "field": ("A/cm", "mT", "G"),
    "force": ("N", "kN", "lbf"),
    "torque": ("N·m", "lbf·ft"),
    "ratio": ("%", "ppm"),
}


@pytest.mark.parametrize(
    ("text", "quantity", "unit", "base"),
    [
        ("80,009", "length", "mm", 80_009_000),
        ("80.009", "length", "mm", 80_009_000),
        ("2.3628", "length", "in", 60_015_120),
        ("2.3628 in", "length", "mm", 60_015_120),
        ("60.018mm", "length", "in", 60_018_000),
        ("−5", "length", "µm", -5000),
        ("+.5", "length", "um", 500),
        ("14", "temperature", "°C", 14_000),
        ("228 °F", "temperature", "°C", 108_889),
        ("18", "temperature_difference", "°F", 10_000),
        ("2", "field", "A/cm", 251_327),
        ("0.25", "field", "mT", 250_000),
        ("2,5", "field", "G", 250_000),
        ("1.5", "time", "min", 90_000),
        ("2", "time", "h", 7_200_000),
        ("29", "mass", "kg", 29_000_000),
        ("45", "torque", "Nm", 45_000),
        ("60", "ratio", "%", 600_000),
    ],
)
def test_typed_text_becomes_the_integer_of_its_base_unit(
    text: str, quantity: str, unit: str, base: int
) -> None:
    measure = read(text, quantity, unit)
    assert (measure.typed, measure.base) == (text, base)


@pytest.mark.parametrize(
    ("text", "base", "kept_unit"),
    [
        ("9", 80_009_000, "um from 80 mm"),
        ("−5 µm", 79_995_000, "um from 80 mm"),
        ("80,009 mm", 80_009_000, "mm"),
        ("3.15 in", 80_010_000, "in"),
    ],
)
def test_a_deviation_from_nominal_is_kept_as_the_whole_diameter(text: str, base: int, kept_unit: str) -> None:
    measure = read(text, "length", "µm from 80 mm")
    assert (measure.base, measure.unit) == (base, kept_unit)


@pytest.mark.parametrize(
    "text",
    ["", "  ", "abc", "8o.009", "NaN", "nan", "inf", "-inf", "1e9", "1E-3", "0x10", "1_000", "60.012,5",
     "1,234.5", "60 012", "--5", "5-", "+", "-", ".", ",", "٨٠", "８０", "2 3/8", "10**10", "½", "8\n0",
     "9" * 60],
)  # fmt: skip
def test_what_is_no_plain_number_is_refused_by_name(text: str) -> None:
    with pytest.raises(NotAQuantityError) as refused:
        read(text, "length", "mm")
    assert refused.value.code == "not_a_quantity"
    assert refused.value.quantity == "length" and "mm" in refused.value.units
    assert len(str(refused.value)) < 200


def test_a_hundred_million_digits_cost_nothing() -> None:
    text = "9" * 10**8
    began = time.perf_counter()
    for refuse in (parse_number, lambda t: read(t, "length", "mm")):
        with pytest.raises(NotAQuantityError):
            refuse(text)
    assert time.perf_counter() - began < 0.05


@pytest.mark.parametrize(
    ("text", "quantity"), [("80 °C", "length"), ("80 bananas", "length"), ("5 mm", "field"), ("3 A", "field")]
)
def test_a_unit_of_another_quantity_is_refused_with_the_units_there_are(text: str, quantity: str) -> None:
    with pytest.raises(NotAQuantityError) as refused:
        read(text, quantity, units_of(quantity)[0])
    assert refused.value.units == units_of(quantity)


def test_below_absolute_zero_and_beyond_the_record_are_out_of_range() -> None:
    with pytest.raises(OutOfRangeError) as refused:
        read("-300", "temperature", "°C")
    assert (refused.value.low, refused.value.unit) == ("-273.15", "°C")
    with pytest.raises(OutOfRangeError):
        read("99999999999999999999", "length", "m")


def test_rounding_happens_once_and_half_to_even() -> None:
    assert read("0.0005", "length", "um").base == 0
    assert read("0.0015", "length", "um").base == 2


def test_micro_sign_and_greek_mu_are_one_unit() -> None:
    assert known_unit("length", "µm") == known_unit("length", "μm") == "um"


@pytest.mark.parametrize(
    ("base", "quantity", "unit", "decimals", "shown"),
    [
        (80_009_000, "length", "mm", None, "80.009"),
        (80_009_000, "length", "mm", 4, "80.0090"),
        (80_009_000, "length", "um from 80 mm", None, "9"),
        (79_995_500, "length", "um from 80 mm", None, "-4.5"),
        (80_000_000, "length", "mm", None, "80"),
        (251_327, "field", "A/cm", None, "2"),
        (108_889, "temperature", "°F", None, "228"),
        (-400, "length", "um", 0, "0"),
        (2500, "length", "um", 0, "2"),
        (-3500, "length", "um", 0, "-4"),
    ],
)
def test_shown_with_a_plain_point(
    base: int, quantity: str, unit: str, decimals: int | None, shown: str
) -> None:
    assert show(base, quantity, unit, decimals) == shown


@given(st.sampled_from([(q, u) for q, units in QUANTITIES.items() for u in units]), st.integers(0, 10**12))
def test_what_is_shown_reads_back_as_the_same_integer(pair: tuple[str, str], base: int) -> None:
    quantity, unit = pair
    assert read(show(base, quantity, unit), quantity, unit).base == base


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused_by_name(text: str) -> None:
    with suppress(NotAQuantityError, OutOfRangeError):
        assert isinstance(read(text, "length", "mm").base, int)
