"""A log with nothing wrong is read and searched in whole columns: that says what the long way says."""

from fractions import Fraction
from itertools import pairwise
from statistics import median

from hypothesis import example, given
from hypothesis import strategies as st

from qrecords.engineering.curve_cleaning import Run, Sample, clean
from qrecords.engineering.curve_measures import (
    _steepest_even,
    _steepest_uneven,
    highest_median,
    longest_within,
)
from tests.engineering.heating_logs import CLEAN, OVERSHOOT, course

MDEGC = st.lists(st.integers(90_000, 130_000) | st.sampled_from((100_000, 110_000)), min_size=2, max_size=40)
STEPS_S = st.sampled_from((1, 2, 3, 4, 5))
WAVES = st.lists(st.sampled_from((90_000, 100_000, 105_000, 110_000, 120_000)), min_size=2, max_size=12)


@given(MDEGC, STEPS_S, st.sampled_from((0.0, 1_772_438_400.0)), st.sampled_from(("°C", "°F")))
@example([90_000, 130_000, 90_000], 1, 0.0, "°C")
def test_a_flawless_log_is_read_as_one_whose_samples_are_read_one_by_one(
    mdegc: list[int], step_s: int, origin_s: float, unit: str
) -> None:
    log: list[Sample] = [(origin_s + n * step_s, value / 1000) for n, value in enumerate(mdegc)]
    one_by_one: list[Sample] = [(Fraction(time), value) for time, value in log]  # type: ignore[misc]
    assert clean(log, unit) == clean(one_by_one, unit)


@given(MDEGC, STEPS_S)
@example([value for _, value in clean(course(CLEAN)).runs[0]], 1)
@example([value for _, value in clean(course(OVERSHOOT)).runs[0]], 2)
def test_the_steepest_of_even_windows_is_that_of_any(mdegc: list[int], step_s: int) -> None:
    times = [float(n * step_s) for n in range(len(mdegc))]
    assert _steepest_even(mdegc, step_s) == _steepest_uneven(times, mdegc)


@given(MDEGC.filter(lambda values: len(values) > 2))
def test_the_highest_median_is_the_first_of_the_highest_of_all_threes(mdegc: list[int]) -> None:
    run: Run = tuple((float(n), value) for n, value in enumerate(mdegc))
    medians = [median(mdegc[n : n + 3]) for n in range(len(mdegc) - 2)]
    assert highest_median([run]) == (max(medians), medians.index(max(medians)) + 1)


@given(WAVES)
def test_the_time_within_is_that_of_intervals_put_end_to_end(mdegc: list[int]) -> None:
    """Every interval by itself, and those that touch together."""
    run: Run = tuple((float(n), value) for n, value in enumerate(mdegc))
    low, high = 100_000, 110_000
    on_end = longest = 0.0
    for a, b in pairwise(run):
        on_end = (on_end if low <= a[1] <= high else 0.0) + longest_within((a, b), low, high)
        longest = max(longest, on_end)
    assert abs(longest_within(run, low, high) - longest) < 1e-9
