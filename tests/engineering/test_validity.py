"""What the models refuse: numbers that are none, sizes that are swapped, and cases they do not describe."""

import math
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from qrecords.engineering import (
    clearance,
    cooling,
    fits,
    gap,
    grease,
    growth,
    habits,
    magnetism,
    power,
    service,
)
from qrecords.engineering.bearings import bore_limits_of
from qrecords.engineering.designation import parse_designation
from qrecords.engineering.errors import EngineeringError, OutOfRangeError, OutsideValidityError
from qrecords.engineering.ranges import above, inside
from qrecords.engineering.result import Result
from qrecords.engineering.validity import straight_bore

RINGS = power.TwoRings(0.224, 0.522, 0.5, 1.0)
RING = cooling.Ring(60, 110, 22, 0.746)
GAPS = [gap.GapReading(angle, 0, 30) for angle in (0, 90, 180, 270)]
ONE_NUMBER: dict[str, Callable[[float], object]] = {
    "bore of a press fit": lambda bad: fits.press_fit(bad, 72.5, 30),
    "raceway of a press fit": lambda bad: fits.press_fit(60, bad, 30),
    "interference of a press fit": lambda bad: fits.press_fit(60, 72.5, bad),
    "width of a press fit": lambda bad: fits.press_fit(60, 72.5, 30, width_mm=bad),
    "E of a press fit": lambda bad: fits.press_fit(60, 72.5, 30, ring=(bad, 0.3)),
    "outside diameter of a loss factor": lambda bad: clearance.loss_factor(60, bad),
    "mass that is heated": lambda bad: power.energy(bad, 80),
    "rise that is heated": lambda bad: power.energy(0.7, bad),
    "power of a heater": lambda bad: power.heating_time(0.7, 80, bad, 0.7),
    "efficiency of a heater": lambda bad: power.mean_rate(0.7, 600, bad),
    "inner ring's mass": lambda bad: power.TwoRings(bad, 0.522, 0.5, 1.0),
    "link between the rings": lambda bad: power.TwoRings(0.224, 0.522, 0.5, bad),
    "net power": lambda bad: power.settled_difference(RINGS, bad),
    "difference allowed": lambda bad: power.most_power(RINGS, bad),
    "bore that runs warm": lambda bad: service.loss_by_warmth(bad, 10),
    "interference at work": lambda bad: service.left_in_service(bad),
    "limit of a field": lambda bad: magnetism.own_limit(bad, "mT", "drawing"),
    "outside diameter of a limit": lambda bad: magnetism.limit(magnetism.BY_OUTSIDE_DIAMETER, bad),
    "outside diameter to grease": lambda bad: grease.relubrication(bad, 22),
    "width to grease": lambda bad: grease.relubrication(110, bad),
    "factor for grease": lambda bad: grease.sound_factor(bad, "g/mm²"),
    "stated grease": lambda bad: grease.printed_slips(bad, 110, 22),
    "bore of a pressing time": lambda bad: cooling.pressing_time(bad, 72.5, 30, 110, 20),
    "outside diameter of a ring": lambda bad: cooling.time_constant(cooling.Ring(60, bad, 22)),
    "mass of a ring": lambda bad: cooling.time_constant(cooling.Ring(60, 110, 22, bad)),
    "radius of a gap": lambda bad: gap.plane(GAPS, bad),
    "limit of a gap": lambda bad: gap.told(GAPS, 31, bad),
    "bore of a habit": habits.thousandth_of_the_bore,
    "u of a habit": habits.guard_is_all_of_u,
}
NO_SIZE = (math.nan, math.inf, -math.inf, -1.0, 0.0)


@pytest.mark.parametrize("asked", ONE_NUMBER.values(), ids=ONE_NUMBER)
def test_what_is_no_size_is_refused_with_its_field_value_unit_and_range(
    asked: Callable[[float], object],
) -> None:
    for bad in NO_SIZE:
        with pytest.raises(OutOfRangeError) as refused:
            asked(bad)
        facts = refused.value.facts
        assert facts["field"] and facts["value"] == str(bad)
        assert isinstance(facts["low"], int | float) and isinstance(facts["high"], int | float)
        assert str(facts["unit"]) in str(refused.value)


def results_in(answer: object) -> Iterator[Result]:
    """Every result that an answer holds, however deep."""
    if isinstance(answer, Result):
        yield answer
    elif isinstance(answer, tuple | list):
        for part in answer:
            yield from results_in(part)
    elif is_dataclass(answer) and not isinstance(answer, type):
        for part in fields(answer):
            yield from results_in(getattr(answer, part.name))


@settings(max_examples=1000)
@given(st.sampled_from(sorted(ONE_NUMBER)), st.one_of(st.floats(), st.floats(1e-12, 1e12)))
def test_whatever_number_is_asked_the_answer_is_finite_or_a_named_refusal(
    asked_of: str, number: float
) -> None:
    try:
        answer = ONE_NUMBER[asked_of](number)
    except EngineeringError as refused:
        assert refused.code and str(refused)
        return
    for result in results_in(answer):
        assert math.isfinite(result.value) and result.formula and result.source
        assert result.u is None or math.isfinite(result.u)


MAY_BE_NEGATIVE: dict[str, Callable[[float], object]] = {
    "ring above shaft": lambda bad: service.loss_by_warmth(60, bad),
    "start of a carry": lambda bad: cooling.carry_time(RING, bad, 90, 20),
    "air of a drop": lambda bad: cooling.carry_drop(RING, 110, bad, 10),
    "start of heating": lambda bad: power.time_to_reach(RINGS, 420, bad, 110),
    "ring that is pressed": lambda bad: cooling.pressing_time(60, 72.5, 30, bad, 20),
    "field": lambda bad: magnetism.in_air(bad, "A/cm", "mT"),
    "angle of a gap": lambda bad: gap.GapReading(bad, 0, 30),
    "shaft of a habit": lambda bad: habits.always_110(60, 30, bad),
}


@pytest.mark.parametrize("asked", MAY_BE_NEGATIVE.values(), ids=MAY_BE_NEGATIVE)
def test_what_is_not_finite_is_refused_everywhere(asked: Callable[[float], object]) -> None:
    for bad in (math.nan, math.inf, -math.inf):
        with pytest.raises(OutOfRangeError):
            asked(bad)


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        (lambda: fits.press_fit(72.5, 60, 30), "raceway F"),
        (lambda: clearance.loss_factor(110, 60), "outside diameter D"),
        (lambda: service.loss_by_speed(72.5, 60, 6000), "raceway F"),
        (lambda: cooling.carry_time(cooling.Ring(110, 60, 22, 0.7), 110, 90, 20), "outside diameter D"),
        (lambda: grease.first_fill(cooling.Ring(110, 60, 22, 0.7)), "outside diameter D"),
        (lambda: power.time_to_reach(RINGS, 420, 110, 20), "inner ring's temperature"),
        (
            lambda: power.against_clearance(power.ring_difference(RINGS, 420, 50), 18, 100, 70),
            "outer raceway F_o",
        ),
        (lambda: gap.GapReading(0, 50, 40), "gap"),
        (lambda: habits.held_10_s(110, 60, 30, 110, 20), "outside diameter D"),
        (lambda: habits.carry_by_air_alone((60, 110, 22), 0.7, 70, 110, 60, 20), "outer ring"),
    ],
)
def test_sizes_that_were_swapped_are_told_by_the_field_that_is_too_small(
    asked: Callable[[], object], field: str
) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        asked()
    assert refused.value.field == field


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        (lambda: fits.press_fit(60, 65.9, 30), "thin ring"),
        (lambda: service.loss_by_speed(60, 65.9, 6000), "thin ring"),
        (lambda: fits.press_fit(60, 72.5, 30, shaft_bore_mm=60), "shaft's bore"),
        (lambda: clearance.loss_factor(60, 110, 61), "shaft's bore"),
        (lambda: service.loss_by_speed(60, 72.5, 6000, 60), "shaft's bore"),
        (lambda: cooling.carry_time(RING, 110, 90, 20, air_m_s=1.6), "draught"),
        (lambda: cooling.carry_drop(RING, 110, 20, 30, air_m_s=4), "draught"),
        (lambda: bore_limits_of(parse_designation("22212 K")), "taper"),
        (lambda: straight_bore("press fit", parse_designation("22212 K")), "taper"),
        (lambda: magnetism.limit(magnetism.BY_OUTSIDE_DIAMETER, 431), "430"),
        (lambda: grease.first_fill(cooling.Ring(60, 110, 22, 1.2)), "no room"),
        (lambda: power.most_power(power.TwoRings(0.2, 0.5, 0.1, 1.0), 9), "run ahead"),
    ],
)
def test_what_a_model_does_not_describe_is_refused_in_words(asked: Callable[[], object], why: str) -> None:
    with pytest.raises(OutsideValidityError) as refused:
        asked()
    assert why in refused.value.reason and refused.value.model


def test_the_ends_of_validity_are_inside() -> None:
    assert fits.press_fit(60, 66, 30).pressure.value > 0
    assert cooling.carry_time(RING, 110, 90, 20, air_m_s=1.5) == cooling.carry_time(RING, 110, 90, 20)
    assert magnetism.limit(magnetism.BY_OUTSIDE_DIAMETER, 430).value == 1.0
    straight_bore("press fit", parse_designation("6212"))


@given(st.floats(), st.floats(-1e6, 1e6), st.floats(0, 1e6))
def test_inside_lets_pass_what_lies_in_the_range_and_nothing_else(
    value: float, low: float, width: float
) -> None:
    high = low + width
    if low <= value <= high:
        assert inside("x", value, "mm", low, high) == value
    else:
        with pytest.raises(OutOfRangeError):
            inside("x", value, "mm", low, high)


@given(st.floats(-1e6, 1e6))
def test_above_refuses_the_end_itself(low: float) -> None:
    with pytest.raises(OutOfRangeError):
        above("x", low, "mm", low)


@pytest.mark.parametrize(
    ("result", "says"),
    [
        (growth.growth(60, 90), "no taper, no sleeve, no split ring"),
        (growth.required_temperature(60, 30, 10, 20), "no taper, no sleeve, no split ring"),
        (growth.ring_difference_allowed(8, 70, 100)[0], "α as one number"),
        (fits.from_readings([[60.02]], [[59.99]], 1, 1).mean, "no taper"),
        (fits.press_fit(60, 72.5, 30).pressure, "F/d 1.1 and more"),
        (clearance.loss_factor(60, 110), "F/d 1.1 and more"),
        (cooling.carry_time(cooling.Ring(60, 110, 22), 110, 90, 20), "air at up to 1.5 m/s"),
        (cooling.pressing_time(60, 72.5, 30, 110, 20).hold, "F/d 1.1 and more"),
        (service.loss_by_speed(60, 72.5, 6000), "F/d 1.1 and more"),
    ],
)
def test_a_result_says_how_far_its_model_reaches(result: Result, says: str) -> None:
    assert any(says in each for each in result.validity), result.validity
