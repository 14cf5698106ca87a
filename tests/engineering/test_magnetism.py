"""Residual magnetism: one field in five units, and the limits for it."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.errors import NotAQuantityError, OutOfRangeError, UnknownClassError
from qrecords.engineering.magnetism import (
    BY_OUTSIDE_DIAMETER,
    HOUSE,
    MAGNETIC_TEST,
    in_air,
    limit,
    own_limit,
    worst_of,
)
from qrecords.engineering.units import per_unit, read, show

UNITS = st.sampled_from(["A/cm", "A/m", "mT", "G", "Oe"])
FIELDS = st.floats(-1e4, 1e4)


@pytest.mark.parametrize(
    ("unit", "value"), [("A/m", 100), ("mT", 0.12566), ("G", 1.2566), ("Oe", 1.2566), ("uT", 125.66)]
)
def test_one_ampere_per_centimetre_in_air(unit: str, value: float) -> None:
    assert in_air(1, "A/cm", unit).value == pytest.approx(value, rel=5e-5)


@given(FIELDS, UNITS, UNITS)
def test_there_and_back_is_the_same_field(value: float, one: str, other: str) -> None:
    assert in_air(in_air(value, one, other).value, other, one).value == pytest.approx(value)


@given(FIELDS, UNITS, UNITS, UNITS)
def test_by_way_of_a_third_unit_is_the_same_field(value: float, one: str, two: str, three: str) -> None:
    by_way = in_air(in_air(value, one, two).value, two, three).value
    assert by_way == pytest.approx(in_air(value, one, three).value)


@given(st.integers(-10_000, 10_000), UNITS)
def test_it_is_the_conversion_of_the_typed_text(number: int, unit: str) -> None:
    assert in_air(number, unit, "nT").value == pytest.approx(read(str(number), "field", unit).base, abs=0.51)


def test_an_oersted_typed_is_read() -> None:
    assert read("2.5 Oe", "field", "mT").base == 250_000
    assert show(250_000, "field", "Oe") == "2.5"
    assert per_unit("field", "oersted") == Fraction(100_000)


@pytest.mark.parametrize("unit", ["mm", "V", ""])
def test_a_unit_of_something_else_is_no_field(unit: str) -> None:
    with pytest.raises(NotAQuantityError):
        in_air(1, unit, "mT")


def test_the_house_limit_and_that_of_a_magnetic_test_say_where_they_are_from() -> None:
    house, tested = limit(HOUSE), limit(MAGNETIC_TEST)
    assert house.value == pytest.approx(0.2513, abs=5e-5)
    assert in_air(tested.value, "mT", "A/cm").value == pytest.approx(2.39, abs=0.005)
    assert house.value < tested.value
    assert "no source" in house.source and house.unconfirmed
    assert "memory" in tested.unconfirmed[0]


@pytest.mark.parametrize(
    ("outside_mm", "most_mt"),
    [(10, 0.4), (30, 0.4), (30.1, 0.5), (50, 0.5), (120, 0.6), (121, 0.8), (250, 0.8), (251, 1.0)],
)
def test_the_published_limit_by_outside_diameter_keeps_a_boundary_in_the_smaller_step(
    outside_mm: float, most_mt: float
) -> None:
    found = limit(BY_OUTSIDE_DIAMETER, outside_mm)
    assert (found.value, found.unconfirmed) == (most_mt, ())
    assert "withdrawn" in found.source


@given(st.floats(0.1, 430), st.floats(0.1, 430))
def test_a_larger_bearing_never_has_the_lower_limit(one: float, other: float) -> None:
    small, large = sorted((one, other))
    assert limit(BY_OUTSIDE_DIAMETER, small).value <= limit(BY_OUTSIDE_DIAMETER, large).value


def test_a_limit_of_ones_own_keeps_the_source_it_came_with() -> None:
    found = own_limit(3, "A/cm", "drawing 4711 rev. B")
    assert (found.source, found.unconfirmed) == ("drawing 4711 rev. B", ())
    assert found.value == pytest.approx(0.37699, abs=1e-5)


@pytest.mark.parametrize("setting", ["none", BY_OUTSIDE_DIAMETER])
def test_a_setting_there_is_not_and_one_without_its_diameter_are_refused(setting: str) -> None:
    with pytest.raises(UnknownClassError):
        limit(setting)


@given(st.lists(FIELDS, min_size=1, max_size=8), UNITS)
def test_the_worst_place_counts_whichever_way_it_points(readings: list[float], unit: str) -> None:
    found = worst_of(readings, unit, 0.1)
    turned = worst_of([-reading for reading in reversed(readings)], unit, 0.1)
    assert (
        found.value
        == turned.value
        == pytest.approx(max(abs(in_air(reading, unit, "mT").value) for reading in readings))
    )
    assert found.u == in_air(0.1, unit, "mT").value


def test_no_place_at_all_is_no_reading() -> None:
    with pytest.raises(OutOfRangeError):
        worst_of([], "mT")


@pytest.mark.parametrize("result", [limit(), worst_of([0.2], "mT"), own_limit(1, "mT", "drawing")])
def test_the_earths_field_is_said_to_be_in_it(result: object) -> None:
    assert any("earth" in assumption for assumption in result.assumptions)  # type: ignore[attr-defined]
