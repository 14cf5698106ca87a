"""Edges that no other test stood on: each was found because a changed sign, factor or limit passed unseen."""

import math
from decimal import Decimal

import pytest

from qrecords.engineering.curve import CONFORMING, SHORT_RUN, Limits, judge
from qrecords.engineering.curve_cleaning import Sample, clean
from qrecords.engineering.curve_measures import longest_within, rate
from qrecords.engineering.errors import OutOfRangeError
from qrecords.engineering.limits import limits_of_size
from qrecords.engineering.measurement import (
    at_20,
    gauge_uncertainty,
    guard,
    reading_uncertainty,
    two_point_roundness,
)
from tests.engineering.heating_logs import CLEAN, LIMITS, course, without


def test_the_steepest_window_is_found_where_samples_come_at_different_steps() -> None:
    """Many samples of a slow rise do not outweigh few of a fast one."""
    slow: list[Sample] = [(n / 2, 20 + n / 2) for n in range(41)]
    fast: list[Sample] = [(20 + 2 * n, 40 + 6 * n) for n in range(1, 11)]
    found = rate(clean([*slow, *fast]))
    assert found is not None
    assert found.value == pytest.approx(3.0)


def test_the_working_of_a_rate_names_first_and_last_sample_of_its_window() -> None:
    found = rate(clean(course(((0, 20.0), (60, 50.0), (80, 90.0), (120, 110.0)))))
    assert found is not None
    put_in = dict(found.put_in)
    first, last = (float(text) for text in put_in["t"].removesuffix(" s").split(" to "))
    assert (last - first, put_in["n"]) == (10, "11")
    from_c, to_c = (float(text) for text in put_in["T"].removesuffix(" °C").split(" to "))
    assert to_c - from_c == pytest.approx(found.value * 10, abs=0.01)


def spoilt(*values: float) -> list[Sample]:
    """A sound log with a short run of these values between two gaps."""
    far: list[Sample] = [(500.0 + n, value) for n, value in enumerate(values)]
    return [*course(), *far]


def test_two_samples_near_the_ceiling_are_too_few_for_a_peak_and_prove_nothing() -> None:
    assert SHORT_RUN in judge(spoilt(119.0, 119.0), LIMITS).unproven
    assert (
        SHORT_RUN not in judge(spoilt(119.0, 119.0, 119.0), LIMITS).unproven
    )  # three make a peak of their own


def test_a_short_run_at_the_acceptance_limit_itself_is_not_over_it() -> None:
    most = (LIMITS.ceiling_mdegc - LIMITS.guard_mk) / 1000
    assert SHORT_RUN not in judge(spoilt(most, most), LIMITS).unproven
    assert SHORT_RUN in judge(spoilt(most + 0.001, most), LIMITS).unproven


def test_the_overshoot_is_a_share_of_the_rise_from_the_first_sample_of_the_log() -> None:
    whole = judge(course(((0, 20.0), (105, 125.0), (115, 125.0), (165, 105.0))), LIMITS)
    parted = judge(without(course(((0, 20.0), (105, 125.0), (115, 125.0), (165, 105.0))), 30, 60), LIMITS)
    assert whole.overshoot_share is not None and parted.overshoot_share is not None
    assert len(parted.curve.runs) > 1
    assert parted.overshoot_share.value == pytest.approx(whole.overshoot_share.value)


def test_a_band_touched_at_its_edge_is_held_and_one_passed_by_is_not() -> None:
    assert longest_within(((0.0, 90_000), (10.0, 100_000), (20.0, 90_000)), 100_000, 110_000) == 0
    assert longest_within(((0.0, 100_000), (10.0, 100_000)), 100_000, 110_000) == 10


def test_a_guard_factor_of_ten_is_the_largest_and_of_nought_the_least() -> None:
    for factor in (0, 10):
        assert judge(course(CLEAN), Limits(110_000, 150_000, 1000, factor)).verdict == CONFORMING
    with pytest.raises(OutOfRangeError) as told:
        Limits(110_000, 120_000, 1000, Decimal("10.01"))
    assert (told.value.low, told.value.high) == (0, 10)


def test_k_ends_at_nominal_from_grade_8_on() -> None:
    """ISO 286-1: k of grades 4 to 7 has a deviation of its own, of all others none."""
    assert [limits_of_size(60, f"k{grade}").lower_um for grade in (3, 4, 7, 8)] == [0, 2, 2, 0]


def test_the_largest_size_and_the_coarsest_grade_of_the_tables_are_in_them() -> None:
    assert limits_of_size(3150, "h6").lower_um == -135
    assert limits_of_size(60, "h18").it_um == 4600
    with pytest.raises(OutOfRangeError):
        limits_of_size("3150.001", "h6")


def test_limits_whose_rows_are_confirmed_doubt_nothing_and_name_what_is_not() -> None:
    found = limits_of_size(60, "m6")
    assert (found.confirmed, found.unconfirmed) == (True, ())
    assert all(row.confirmed for row in found.rows)


def test_a_size_of_48_signs_is_read_and_one_of_49_is_none() -> None:
    sixty = "60." + "0" * 45
    assert limits_of_size(sixty, "m6").lower_um == 11
    with pytest.raises(OutOfRangeError):
        limits_of_size(sixty + "0", "m6")


def test_one_reading_has_all_of_its_repeatability() -> None:
    assert gauge_uncertainty(0, 0, 0.8).value == pytest.approx(0.8)


def test_the_temperature_of_shaft_and_gauge_each_add_their_own_growth() -> None:
    shaft = reading_uncertainty(0, 60, 0.5, 0, 11.5e-6, 10e-6)
    gauge = reading_uncertainty(0, 60, 0, 0.5, 11.5e-6, 10e-6)
    assert (shaft.value, gauge.value) == pytest.approx((0.345, 0.3))
    assert reading_uncertainty(0, 60, 0.5, 0.5, 11.5e-6, 10e-6).value == pytest.approx(math.hypot(0.345, 0.3))
    put_in = dict(shaft.put_in)
    assert (put_in["α"], put_in["α_g"]) == ("11.5 10⁻⁶/K", "10 10⁻⁶/K")


def test_the_working_of_a_reading_at_20_shows_both_expansions() -> None:
    put_in = dict(at_20(60.018, 45, 25, 11.5e-6, 10e-6).put_in)
    assert (put_in["α_s"], put_in["α_g"]) == ("11.5 10⁻⁶/K", "10 10⁻⁶/K")


def test_a_guard_below_nought_is_refused_however_small() -> None:
    with pytest.raises(OutOfRangeError) as told:
        guard(1, "-0.5")
    assert (told.value.field, told.value.low) == ("guard", 0)


def test_one_direction_has_no_roundness_and_says_how_many_are_wanted() -> None:
    with pytest.raises(OutOfRangeError) as told:
        two_point_roundness([[60_000_000]])
    assert told.value.low == 2


def test_four_samples_of_one_moment_are_the_mean_of_the_middle_two() -> None:
    found = clean([(0, 20.0), (1, 20.0), (1, 21.0), (1, 23.0), (1, 24.0), (2, 22.0)])
    assert found.runs[0][1] == (1.0, 22_000)


def test_three_wild_samples_in_a_row_are_no_spike_because_the_window_has_five() -> None:
    log: list[Sample] = [(5 * n, 108.0 if 10 <= n <= 12 else 100.0) for n in range(30)]
    assert [each for each in clean(log).events if type(each).__name__ == "Spike"] == []
    assert len(clean(log).runs[0]) == 30


def test_a_sample_five_kelvin_off_is_kept_and_one_further_off_is_a_spike() -> None:
    kept, left_out = (
        clean([(n, 100.0 + off if n == 10 else 100.0) for n in range(20)]) for off in (5.0, 5.001)
    )
    assert (len(kept.runs[0]), kept.events) == (20, ())
    assert [type(each).__name__ for each in left_out.events] == ["Spike"]


def test_a_temperature_that_is_no_number_names_the_range_of_probes() -> None:
    with pytest.raises(OutOfRangeError) as told:
        clean([(0, "warm"), (1, 20.0)])  # type: ignore[list-item]
    assert (told.value.low, told.value.high) == (-40, 400)
