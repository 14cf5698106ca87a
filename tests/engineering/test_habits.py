"""Rules of thumb beside what is computed."""

import ast
import inspect
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering import habits
from qrecords.engineering.power import TwoRings

SIZES = (60, 110, 22)
E17 = TwoRings(0.224, 0.522, 0.5, 1.0)
EVERY = {
    "always_110": lambda: habits.always_110(60, 30, 20),
    "rise_from_air": lambda: habits.rise_from_air(60, 30, 20, 35, 20),
    "thousandth_of_the_bore": lambda: habits.thousandth_of_the_bore(60),
    "eighty_percent": lambda: habits.eighty_percent(60, 110, 30),
    "one_raceway": lambda: habits.one_raceway(60, 110, 30),
    "narrow_ring": lambda: habits.narrow_ring(60, 110, 30),
    "any_surface": lambda: habits.any_surface(30, 60, 3.2, 1.6),
    "warm_shaft_as_read": lambda: habits.warm_shaft_as_read(60.018, 45, 25),
    "three_equal_diameters": lambda: habits.three_equal_diameters(3, 4),
    "carry_by_air_alone": lambda: habits.carry_by_air_alone(SIZES, 0.7456, 110, 90, 90, 20),
    "held_10_s": lambda: habits.held_10_s(60, 110, 30, 110, 20),
    "time_of_the_whole": lambda: habits.time_of_the_whole(E17, 420, 20, 110),
    "feeler_while_hot": lambda: habits.feeler_while_hot(22, 60, 30),
    "a_per_cm_is_gauss": lambda: habits.a_per_cm_is_gauss(2),
    "guard_is_all_of_u": lambda: habits.guard_is_all_of_u(1.1),
    "volume_coefficient": lambda: habits.volume_coefficient(70, 75),
}


@pytest.mark.parametrize(
    ("name", "habit", "computed", "tolerance"),
    [
        ("always_110", 110, 103.3, 0.1),  # (30 + 30)/(12e-6·60 000) over 20
        ("rise_from_air", 89.4, 103.8, 0.1),
        ("thousandth_of_the_bore", 83.3, 41.7, 0.1),
        ("eighty_percent", 24.0, 25.7, 0.05),
        ("one_raceway", 24.8, 25.7, 0.05),
        ("narrow_ring", 87.6, 92.0, 0.05),
        ("any_surface", 29.03, 26.16, 0.005),
        ("warm_shaft_as_read", 60.018, 60.0042, 5e-5),
        ("three_equal_diameters", 0, 8, 1e-9),
        ("held_10_s", 10, 30.7, 0.1),
        ("time_of_the_whole", 75.1, 50.7, 0.1),
        ("a_per_cm_is_gauss", 2, 2.513, 0.001),
        ("guard_is_all_of_u", 2.2, 1.815, 1e-9),
        ("volume_coefficient", 189, 63, 1e-9),
    ],
)
def test_the_habits_number_stands_beside_the_computed_one(
    name: str, habit: float, computed: float, tolerance: float
) -> None:
    found = EVERY[name]()
    assert found.habit.value == pytest.approx(habit, abs=tolerance)
    assert found.computed.value == pytest.approx(computed, abs=tolerance)
    assert found.difference == found.habit.value - found.computed.value


def test_every_habit_is_asked_here_and_has_a_sentence_of_its_own() -> None:
    defined = {
        node.name for node in ast.parse(inspect.getsource(habits)).body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
    }  # fmt: skip
    assert defined == set(EVERY)
    keys = [ask().key for ask in EVERY.values()]
    assert len(set(keys)) == len(keys) and all(key.startswith("habit-") for key in keys)


@pytest.mark.parametrize("name", EVERY)
def test_both_numbers_are_of_one_unit_and_say_what_they_are(name: str) -> None:
    found = EVERY[name]()
    assert found.habit.unit == found.computed.unit
    assert "no source" in found.habit.source and "no source" not in found.computed.source
    assert found.habit.formula and found.computed.formula and found.computed.put_in


def test_what_the_carry_loses_to_the_outer_ring_cuts_its_time_to_nothing() -> None:
    near = habits.carry_by_air_alone(SIZES, 0.7456, 110, 105, 90, 20)
    apart = habits.carry_by_air_alone(SIZES, 0.7456, 110, 68, 90, 20)
    assert 0 < near.computed.value < near.habit.value
    assert apart.habit.value > 100 and apart.computed.value == 0


def test_10_seconds_are_enough_for_a_bore_of_20_and_far_from_it_for_one_of_200() -> None:
    small = habits.held_10_s(20, 47, 12, 110, 20)
    large = habits.held_10_s(200, 360, 45, 110, 20)
    assert small.difference > 0
    assert large.difference < -600


def test_110_degrees_are_too_few_for_a_small_bore_and_too_many_for_a_large_one() -> None:
    assert habits.always_110(20, 20, 20).difference < 0
    assert habits.always_110(200, 45, 20).difference > 30


def test_a_hollow_shaft_turns_the_80_percent_round() -> None:
    assert habits.eighty_percent(60, 110, 30).difference < 0
    assert habits.eighty_percent(60, 110, 30, 42).difference > 0


@given(st.integers(2, 40), st.floats(0.1, 50))
def test_three_diameters_never_see_more_than_there_is_and_nothing_of_odd_lobes(lobes: int, a: float) -> None:
    found = habits.three_equal_diameters(lobes, a)
    assert found.habit.value <= found.computed.value
    if lobes % 2:
        assert found.habit.value == pytest.approx(0, abs=1e-9 * a * lobes)


def test_two_lobes_are_seen() -> None:
    assert habits.three_equal_diameters(2, 4).habit.value == pytest.approx(6)


@given(st.floats(20, 200), st.floats(-10, 60), st.floats(-10, 40))
def test_each_degree_of_the_shaft_over_the_air_is_missing_from_the_rise(
    bore: float, shaft: float, air: float
) -> None:
    found = habits.rise_from_air(bore, 30, 20, shaft, air)
    assert found.difference == pytest.approx(air - shaft, abs=0.045 * abs(shaft - 20) + 1e-9)


@given(st.floats(3, 500))
def test_a_thousandth_of_any_bore_alone_asks_for_83_kelvin(bore: float) -> None:
    assert habits.thousandth_of_the_bore(bore).habit.value == pytest.approx(1 / (1000 * 12e-6))


@given(st.floats(60, 300), st.floats(-20, 60))
def test_a_shaft_as_warm_as_the_gauge_needs_no_correction(reading: float, both: float) -> None:
    found = habits.warm_shaft_as_read(reading, both, both)
    assert math.isclose(found.habit.value, found.computed.value, rel_tol=1e-12)


def test_the_gap_that_is_still_to_come_grows_with_the_width() -> None:
    narrow, wide = habits.feeler_while_hot(22, 60, 30), habits.feeler_while_hot(58, 200, 45)
    assert narrow.computed.value == pytest.approx(11)  # B·δ/d
    assert wide.computed.value == pytest.approx(13.05)
