"""Grease to add, grease to fill in, and the two factors that are wrong in print."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.cooling import Ring
from qrecords.engineering.errors import MisprintedFactorError
from qrecords.engineering.grease import (
    MISPRINTS,
    first_fill,
    printed_slips,
    relubrication,
    relubrication_oz,
    sound_factor,
)

SIZES = st.floats(5, 1000)


@given(SIZES, SIZES)
def test_inches_and_ounces_give_the_same_within_two_parts_in_a_thousand(outside: float, width: float) -> None:
    grams = relubrication(outside, width).value
    ounces = relubrication_oz(outside / 25.4, width / 25.4).value
    assert ounces * 28.349523125 == pytest.approx(grams, rel=0.003)


@given(SIZES, SIZES, st.floats(1.01, 3))
def test_a_larger_or_wider_bearing_takes_more(outside: float, width: float, times: float) -> None:
    least = relubrication(outside, width).value
    assert relubrication(outside * times, width).value == pytest.approx(least * times)
    assert relubrication(outside, width * times).value == pytest.approx(least * times)


@pytest.mark.parametrize(
    ("factor", "unit", "right", "times"),
    [(0.0005, "g/mm²", 0.005, 0.1), (0.1, "oz/in²", 0.114, 0.88)],
)
def test_a_misprinted_factor_is_refused_and_the_right_one_named(
    factor: float, unit: str, right: float, times: float
) -> None:
    with pytest.raises(MisprintedFactorError) as refused:
        sound_factor(factor, unit)
    assert (refused.value.right, refused.value.code) == (right, "misprinted_factor")
    assert refused.value.times == pytest.approx(times, abs=0.005)
    assert str(right) in str(refused.value)


@pytest.mark.parametrize(
    ("factor", "unit"), [(0.005, "g/mm²"), (0.114, "oz/in²"), (0.1, "g/mm²"), (0.0005, "oz/in²")]
)
def test_a_sound_factor_or_one_of_the_other_unit_passes(factor: float, unit: str) -> None:
    assert sound_factor(factor, unit) == factor


@pytest.mark.parametrize(
    ("stated_g", "kind"),
    [(1.21, "a_nought_too_many_in_print"), (1.2, "a_nought_too_many_in_print"),
     (10.6, "rounded_to_a_tenth_in_print")],
)  # fmt: skip
def test_a_quantity_from_a_misprint_is_told_with_the_one_that_was_meant(stated_g: float, kind: str) -> None:
    (slip,) = printed_slips(stated_g, 110, 22)
    assert (slip.kind, slip.meant) == (kind, 12_100)


@pytest.mark.parametrize("stated_g", [12.1, 12, 15, 6, 1.5])
def test_a_quantity_no_misprint_gives_is_no_slip(stated_g: float) -> None:
    assert printed_slips(stated_g, 110, 22) == ()


@given(SIZES, SIZES)
def test_each_misprint_is_found_again_in_what_it_gives(outside: float, width: float) -> None:
    right = relubrication(outside, width).value
    for misprint in MISPRINTS:
        assert [slip.kind for slip in printed_slips(right * misprint.times, outside, width)] == [
            misprint.kind
        ]


def test_a_first_fill_is_30_to_50_percent_of_the_room_between_the_steel() -> None:
    fill = first_fill(Ring(60, 110, 22, 0.746))
    # By hand: envelope 146.87 cm³, steel 0.746 kg / 7.81 g/cm³ = 95.52 cm³.
    assert fill.free_cm3.value == pytest.approx(51.35, abs=0.05)
    assert fill.least_g.value == pytest.approx(0.30 * 51.35 * 0.9, abs=0.05)
    assert fill.most_g.value == pytest.approx(0.50 * 51.35 * 0.9, abs=0.05)


def test_a_first_fill_is_more_than_is_added_later_and_says_that_its_mass_is_an_estimate() -> None:
    fill = first_fill(Ring(60, 110, 22))
    assert fill.least_g.value > relubrication(110, 22).value
    assert any("estimate" in doubt for doubt in fill.least_g.unconfirmed)


@given(st.floats(10, 300), st.floats(1.2, 3), st.floats(5, 100), st.floats(0.7, 1.2))
def test_the_estimated_steel_leaves_35_percent_of_the_envelope(
    bore: float, ratio: float, width: float, density: float
) -> None:
    outside = bore * ratio
    fill = first_fill(Ring(bore, outside, width), density)
    envelope = 3.141592653589793 / 4 * (outside**2 - bore**2) * width / 1000
    assert fill.free_cm3.value == pytest.approx(0.35 * envelope)
    assert fill.least_g.value < fill.most_g.value < fill.free_cm3.value * density
