"""Lettering of numbers on pages."""

from decimal import Decimal

import pytest

from qrecords.wording.figures import Figures, own_unit, with_unit

COMMA = Figures(",")


def test_a_negative_number_has_a_true_minus_and_the_readers_decimal_sign() -> None:
    assert COMMA.plain(Decimal("-8.1")) == "−8,1"


@pytest.mark.parametrize(("value", "shown"), [(11, "+11"), (-6, "−6"), (0, "0"), (Decimal("-0.04"), "0,0")])
def test_a_deviation_has_its_sign_and_nought_has_none(value: Decimal | int, shown: str) -> None:
    assert COMMA.signed(value, 1 if isinstance(value, Decimal) else None) == shown


def test_what_is_worked_out_stands_in_brackets() -> None:
    assert COMMA.worked_out(Decimal("8.14"), 1) == "(8,1)"


def test_a_range_has_dots_and_signs_only_where_it_is_of_deviations() -> None:
    assert Figures().span(13, 48) == "13…48"
    assert Figures().signed_span_um(0, -20_000) == "0…−20"


@pytest.mark.parametrize(
    ("nm", "shown"), [(11_000, "11"), (8_100, "8,1"), (-600, "−0,6"), (0, "0"), (120_000, "120")]
)
def test_nanometres_are_shown_as_micrometres_without_idle_noughts(nm: int, shown: str) -> None:
    assert COMMA.um(nm) == shown


def test_a_wanted_number_of_places_is_rounded_half_to_even() -> None:
    assert [Figures().um(nm, 0) for nm in (2_500, 3_500)] == ["2", "4"]


def test_a_diameter_keeps_the_digits_of_its_nanometres() -> None:
    assert COMMA.mm(80_009_000) == "80,009"


def test_a_temperature_comes_from_thousandths_of_a_degree() -> None:
    assert COMMA.celsius(68_200) == "68,2"


def test_the_decimal_sign_is_the_readers_languages() -> None:
    assert Figures.for_language("de").decimal_sign == ","
    assert Figures.for_language("en").decimal_sign == "."


def test_a_unit_follows_after_a_gap_that_never_breaks_but_an_angle_has_none() -> None:
    assert with_unit("13", "µm") == "13\u202fµm"
    assert with_unit("60", "°") == "60°"


@pytest.mark.parametrize(("mdegc", "shown"), [(21_667, "21,7"), (21_000, "21"), (-500, "−0,5")])
def test_a_temperature_is_told_as_finely_as_a_thermometer_is_read(mdegc: int, shown: str) -> None:
    assert COMMA.tenths_of_celsius(mdegc) == shown


def test_a_unit_typed_with_its_figure_is_not_written_again() -> None:
    assert [own_unit(typed, "°F") for typed in ("71", "71 °F", "71F ", "warm")] == ["°F", "", "", "°F"]


@pytest.mark.parametrize(
    ("share", "said"),
    [
        ("0", "0"),
        ("0.000999", "< 0,1"),
        ("0.01926", "1,9"),
        ("0.02", "2"),
        ("0.9995", "> 99,9"),
        ("1", "100"),
    ],
)
def test_a_chance_is_never_quite_none_or_all_unless_it_is(share: str, said: str) -> None:
    assert Figures(",").share(Decimal(share)) == f"{said}\u202f%"
