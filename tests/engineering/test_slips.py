"""Slips of the keyboard are recognised and the likely value is named."""

import pytest

from qrecords.engineering.slips import lost_noughts, other_units, slips
from qrecords.engineering.units import read

NEAR_80 = (79_500_000, 80_500_000)


@pytest.mark.parametrize(
    ("text", "unit", "kind", "meant_mm"),
    [
        ("800.09", "mm", "ten_times_too_big", 80.009),
        ("8.0009", "mm", "ten_times_too_small", 80.009),
        ("80009", "mm", "thousand_times_too_big", 80.009),
        ("80,009", "um", "thousand_times_too_small", 80.009),
        ("3.15", "mm", "inch_typed_as_mm", 80.01),
        ("80.009", "in", "mm_typed_as_inch", 80.009),
    ],
)
def test_a_diameter_10_or_25_4_or_1000_times_off(text: str, unit: str, kind: str, meant_mm: float) -> None:
    (slip,) = slips(read(text, "length", unit).base, *NEAR_80)
    assert (slip.kind, slip.meant) == (kind, round(meant_mm * 1e6))


def test_fahrenheit_typed_as_celsius() -> None:
    (slip,) = slips(read("228", "temperature", "°C").base, 40_000, 150_000, "temperature")
    assert (slip.kind, slip.meant) == ("fahrenheit_typed_as_celsius", 108_889)


def test_celsius_typed_as_fahrenheit() -> None:
    (slip,) = slips(read("110", "temperature", "°F").base, 60_000, 150_000, "temperature")
    assert slip.kind == "celsius_typed_as_fahrenheit"
    assert abs(slip.meant - 110_000) <= 1  # the value read was itself rounded to 1 m°C


def test_a_deviation_ten_times_off_is_seen_against_the_range_of_the_deviation() -> None:
    likely = slips(90_000, -20_000, 20_000)[0]
    assert (likely.kind, likely.meant) == ("ten_times_too_big", 9_000)


@pytest.mark.parametrize("base", [79_500_000, 80_009_000, 80_500_000, 79_000_000, 81_000_000, 0])
def test_a_true_value_however_bad_is_no_slip(base: int) -> None:
    assert slips(base, *NEAR_80) == ()


def test_a_turned_sign_is_a_slip() -> None:
    assert [slip.kind for slip in slips(-80_009_000, *NEAR_80)] == ["sign_turned"]


def test_noughts_lost_behind_the_decimal_sign() -> None:
    near = (79_975_000, 80_038_000)
    assert lost_noughts(80_900_000, 80_000_000, *near)[0].meant == 80_009_000
    assert lost_noughts(80_080_000, 80_000_000, *near)[0].meant == 80_008_000


def test_the_same_figures_in_another_unit() -> None:
    near = (79_975_000, 80_038_000)
    assert other_units("80,009", "length", "um", ("mm", "um", "in"), *near) == ["mm"]
    assert other_units("68", "temperature", "°C", ("°C", "°F"), 0, 45_000) == ["°F"]
    assert other_units("warm", "temperature", "°C", ("°C", "°F"), 0, 45_000) == []


def test_no_fahrenheit_in_a_length_and_no_inch_in_a_field() -> None:
    assert slips(228_000, 100_000, 120_000) == ()
    assert slips(25_400, 900, 1100, "field") == ()
