"""What a heating log proves: conforming, nonconforming, or not proven and why."""

from typing import Any

import pytest

from qrecords.engineering.curve import (
    HIDDEN,
    NEAR,
    NO_PEAK,
    PROBE_OFF,
    SHORT_RUN,
    Limits,
    judge,
)
from qrecords.engineering.curve_cleaning import Sample
from qrecords.engineering.errors import OutOfRangeError
from qrecords.engineering.measurement import CONFORMING, NONCONFORMING, NOT_PROVEN
from qrecords.engineering.units import read
from tests.engineering.heating_logs import CLEAN, LIMITS, OVERSHOOT, course, in_fahrenheit, put, without


def held_at(peak_c: float) -> list[Sample]:
    """Heated at 1 K/s, held for 30 s, cooled."""
    top = 100 + (peak_c - 20)
    return course(((0, 20.0), (100, 20.0), (top, peak_c), (top + 30, peak_c), (top + 130, peak_c - 10)))


@pytest.mark.parametrize(
    ("peak_c", "verdict"),
    [
        (118, CONFORMING), (118.35, CONFORMING), (118.351, NOT_PROVEN), (120, NOT_PROVEN), (121, NOT_PROVEN),
        (121.65, NOT_PROVEN), (121.651, NONCONFORMING), (125, NONCONFORMING),
    ],
)  # fmt: skip
def test_the_guard_stands_on_both_sides_of_the_ceiling(peak_c: float, verdict: str) -> None:
    """u 1 K: guard 1.65 K about 120 °C."""
    found = judge(course(((0, 20.0), (100, peak_c), (130, peak_c), (200, 100.0))), LIMITS)
    assert found.verdict == verdict
    assert found.unproven == ((NEAR,) if verdict == NOT_PROVEN else ())


def test_without_a_guard_the_ceiling_itself_conforms_and_nothing_lies_between() -> None:
    simple = Limits(110_000, 120_000, 1000, guard_factor=0)
    at, over = ((((0, 20.0), (100, peak), (130, peak), (200, 100.0))) for peak in (120.0, 120.001))
    assert judge(course(at), simple).verdict == CONFORMING
    assert judge(course(over), simple).verdict == NONCONFORMING


def test_a_ring_that_was_too_hot_for_two_samples_only_was_too_hot() -> None:
    """The median of three clips them; the time above the ceiling does not."""
    hot = put(course(((0, 20.0), (96, 116.0), (160, 116.0), (260, 106.0))), 120, 119.0, 120.9, 120.9, 119.0)
    found = judge(hot, Limits(110_000, 120_000, 500))
    assert found.peak is not None and found.peak.value == 120.9
    one = put(course(((0, 20.0), (118, 118.0), (160, 118.0), (260, 108.0))), 130, 122.5)
    found = judge(one, Limits(110_000, 120_000, 1000))
    assert found.peak is not None and found.peak.value < 119
    assert (found.verdict, found.above.seen) == (NONCONFORMING, True)


def test_a_little_over_the_ceiling_and_within_the_guard_is_not_proven() -> None:
    one = put(course(((0, 20.0), (118, 118.0), (160, 118.0), (260, 108.0))), 130, 121.0)
    assert judge(one, LIMITS).verdict == NOT_PROVEN


def test_a_spike_does_not_make_a_ring_too_hot() -> None:
    assert judge(put(course(), 100, 180.0), LIMITS).verdict == CONFORMING


def test_a_lost_probe_leaves_the_peak_not_proven() -> None:
    found = judge(put(course(), 110, 95.0, 80.0, 60.0, 45.0), LIMITS)
    assert (found.verdict, found.unproven, found.peak_proven) == (NOT_PROVEN, (PROBE_OFF,), False)
    assert found.peak is not None and found.peak.value == 110


def test_what_was_too_hot_before_the_probe_came_off_was_too_hot() -> None:
    found = judge(put(course(OVERSHOOT), 130, 90.0, 60.0, 40.0, 35.0), LIMITS)
    assert (found.verdict, found.peak_proven) == (NONCONFORMING, False)


def test_nothing_after_the_probe_came_off_counts() -> None:
    spoilt = put(course(), 110, 95.0, 80.0, 60.0, 45.0)
    later = [(time, 180.0 if time > 200 else value) for time, value in spoilt]
    assert judge(later, LIMITS).verdict == NOT_PROVEN
    assert judge(later, LIMITS).highest_c == 110


def test_a_gap_in_which_the_ring_could_have_got_too_hot_is_not_proven() -> None:
    """110 °C at its start, 1 K/s: over the ceiling less guard after 8.35 s."""
    assert judge(without(course(), 100, 108), LIMITS).verdict == CONFORMING
    found = judge(without(course(), 100, 109), LIMITS)
    assert (found.verdict, found.unproven) == (NOT_PROVEN, (HIDDEN,))
    assert found.above.high.value == 0


def test_a_gap_far_below_the_ceiling_hides_nothing() -> None:
    assert judge(without(course(), 20, 50), LIMITS).verdict == CONFORMING


def test_where_the_rate_is_not_known_any_gap_could_hide_more() -> None:
    slow = course(CLEAN, step_s=10)
    assert judge(slow, LIMITS).rate is None
    assert judge(slow, LIMITS).verdict == CONFORMING
    assert judge(without(slow, 300, 340), LIMITS).unproven == (HIDDEN,)


def test_a_gap_with_an_end_above_is_never_conforming() -> None:
    found = judge(without(course(OVERSHOOT), 97, 114), Limits(110_000, 120_000, 3000))
    assert found.above.high.value > found.above.low.value
    assert found.verdict == NONCONFORMING
    within = ((0, 20.0), (101, 121.0), (111, 121.0), (161, 105.0))
    assert judge(without(course(within), 95, 112), LIMITS).verdict == NOT_PROVEN


def test_a_sample_alone_between_gaps_and_near_the_ceiling_proves_nothing() -> None:
    lone = [*course(((0, 20.0), (90, 110.0), (100, 109.0))), (106, 119.0)]
    found = judge(lone, Limits(110_000, 120_000, 1000))
    assert SHORT_RUN in found.unproven


def test_a_sample_over_ceiling_and_guard_alone_between_gaps_lasted_no_time_that_was_seen() -> None:
    held = put(course(((0, 20.0), (98, 118.0), (300, 118.0))), 200, 122.0)
    found = judge(without(without(held, 190, 200), 200, 210), LIMITS)
    assert (found.above.low.value, found.above.high.value) == (0, 20)
    assert (found.verdict, found.highest_c) == (NOT_PROVEN, 122)
    assert judge(held, LIMITS).verdict == NONCONFORMING


def test_two_samples_are_judged_and_prove_nothing() -> None:
    found = judge([(0, 20), (1, 21)], LIMITS)
    assert (found.verdict, found.unproven) == (NOT_PROVEN, (NO_PEAK,))


def test_two_samples_over_ceiling_and_guard_are_too_hot_all_the_same() -> None:
    assert judge([(0, 130), (1, 131)], LIMITS).verdict == NONCONFORMING


def test_a_log_in_fahrenheit_says_the_same_as_one_in_celsius() -> None:
    for corners in (CLEAN, OVERSHOOT):
        assert judge(in_fahrenheit(course(corners)), LIMITS, "°F") == judge(course(corners), LIMITS)


def test_a_target_and_an_uncertainty_in_fahrenheit_are_the_same_at_the_door() -> None:
    limits = Limits(
        read("230", "temperature", "°F").base,
        read("248", "temperature", "°F").base,
        read("1.8", "temperature_difference", "°F").base,
    )
    assert limits == LIMITS


def test_every_number_explains_itself() -> None:
    found = judge(course(OVERSHOOT), LIMITS)
    results = (found.peak, found.rate, found.above.low, found.above.high, found.overshoot,
               found.overshoot_share, found.soak)  # fmt: skip
    for result in results:
        assert result is not None
        assert result.formula and result.put_in and result.assumptions and result.source


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"target_mdegc": -40_001}, "target"), ({"ceiling_mdegc": 400_001}, "ceiling"),
        ({"ceiling_mdegc": 120.0}, "ceiling"), ({"u_mk": -1}, "temperature uncertainty"),
        ({"u_mk": True}, "temperature uncertainty"), ({"target_mdegc": 10**400}, "target"),
        ({"guard_factor": -0.1}, "guard factor"), ({"guard_factor": "much"}, "guard factor"),
        ({"guard_factor": float("nan")}, "guard factor"), ({"guard_factor": None}, "guard factor"),
    ],
)  # fmt: skip
def test_limits_out_of_range_are_refused_by_name(changed: dict[str, Any], field: str) -> None:
    given: dict[str, Any] = {"target_mdegc": 110_000, "ceiling_mdegc": 120_000, "u_mk": 1000}
    with pytest.raises(OutOfRangeError) as refused:
        Limits(**given | changed)
    assert refused.value.field == field
