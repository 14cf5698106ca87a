"""What counts as a sample of a heating log, and what is told of the rest."""

from decimal import Decimal
from typing import Any

import pytest

from qrecords.engineering.curve_cleaning import clean
from qrecords.engineering.curve_events import BackwardClock, Dropout, Gap, ProbeOff, Spike
from qrecords.engineering.errors import NotAQuantityError, OutOfRangeError
from tests.engineering.heating_logs import CLEAN, course, in_fahrenheit, put, without


def test_a_clean_log_is_one_run_without_events() -> None:
    found = clean(course())
    assert [len(run) for run in found.runs] == [421]
    assert found.events == found.after == ()


def test_fahrenheit_becomes_celsius_less_its_32() -> None:
    assert clean([(0, 212), (60, 32)], "°F").runs == (((0, 100_000), (60, 0)),)
    assert clean([(0, -40), (1, 752)], "F").runs == (((0, -40_000), (1, 400_000)),)
    assert clean(in_fahrenheit(course()), "°F") == clean(course(), "°C")


def test_a_clock_set_back_is_told_and_the_samples_are_sorted() -> None:
    found = clean([(5, 20), (10, 24), (7, 22), (8, 23), (11, 25)])
    assert found.events == (BackwardClock(7, 3),)
    assert [at for at, _ in found.runs[0]] == [5, 7, 8, 10, 11]


def test_of_samples_at_one_time_the_median_counts() -> None:
    assert clean([(0, 20), (1, 30), (1, 22), (1, 21), (2, 23), (2, 24)]).runs == (
        ((0, 20_000), (1, 22_000), (2, 23_500)),
    )


def test_a_bad_sample_does_not_move_the_median_of_its_time() -> None:
    found = clean([(0, 20), (1, 21), (1, 9999), (2, 22)])
    assert found.runs == (((0, 20_000), (1, 21_000), (2, 22_000)),)
    assert found.events == (Dropout(1, 1, 1),)


@pytest.mark.parametrize(
    "bad",
    [None, float("nan"), float("inf"), -float("inf"), 1372, 9999, -200, -40.001, 400.001, 10**400, 1e308,
     Decimal("sNaN")],
)  # fmt: skip
def test_what_no_ring_can_have_is_a_dropout(bad: Any) -> None:
    found = clean(put(course(), 60, bad, bad))
    assert found.events == (Dropout(60, 61, 2),)
    assert [len(run) for run in found.runs] == [419]


@pytest.mark.parametrize("edge", [-40.0, 400.0])
def test_the_ends_of_the_range_are_inside(edge: float) -> None:
    assert clean([(0, edge), (1, edge)]).events == ()


def test_two_dropouts_apart_are_told_apart() -> None:
    found = clean(put(put(course(), 30, None), 60, None, 9999, None))
    assert found.events == (Dropout(30, 30, 1), Dropout(60, 62, 3))


def test_a_dropout_of_5_seconds_and_more_is_a_gap_too() -> None:
    kinds = [type(event) for event in clean(put(course(), 60, *[None] * 5)).events]
    assert kinds == [Gap, Dropout]
    assert clean(put(course(), 60, *[None] * 4)).events == (Dropout(60, 63, 4),)


def test_a_lone_sample_far_off_is_a_spike_and_left_out() -> None:
    found = clean(put(course(), 100, 160.0))
    assert found.events == (Spike(100, 160_000, 110_000),)
    assert all(value <= 110_000 for _, value in found.runs[0])


def test_a_spike_of_two_samples_is_left_out_too() -> None:
    found = clean(put(course(), 100, 160.0, 161.0))
    assert [type(event) for event in found.events] == [Spike, Spike]


def test_5_kelvin_off_is_noise_and_a_little_more_a_spike() -> None:
    assert clean(put(course(), 100, 115.0)).events == ()
    assert clean(put(course(), 100, 115.001)).events == (Spike(100, 115_001, 110_000),)


def test_in_a_steep_part_the_spread_of_the_five_widens_the_limit() -> None:
    # 4 K/s: 52, 56, x, 64, 68; median 64, deviations 12, 8, x − 64, 0, 4, so MAD 8, limit 47.4 K.
    steep = course(((0, 20.0), (25, 120.0), (60, 118.0)))
    assert not any(isinstance(event, Spike) for event in clean(put(steep, 10, 111.0)).events)
    assert [type(event) for event in clean(put(steep, 10, 112.0)).events] == [Spike]


def test_a_step_that_stays_is_no_spike() -> None:
    assert clean([(n, 20 if n < 10 else 40) for n in range(20)]).events == ()


def test_the_first_and_the_last_sample_have_no_neighbours_on_both_sides_and_stay() -> None:
    found = clean([(0, 60), (1, 20), (2, 20), (3, 20), (4, 20), (5, 60)])
    assert not any(isinstance(event, Spike) for event in found.events)
    second = clean([(0, 20), (1, 60), (2, 20), (3, 20), (4, 60), (5, 20)])
    assert [event.at_s for event in second.events] == [1, 4]


def test_more_than_5_seconds_is_a_gap_and_5_is_none() -> None:
    assert clean(without(course(), 50, 55)).events == ()
    found = clean(without(course(), 50, 56))
    assert found.events == found.gaps == (Gap(50, 56, 70_000, 76_000),)
    assert [run[0][0] for run in found.runs] == [0, 56]
    assert found.gaps[0].length_s == 6
    assert clean(without(without(course(), 50, 56), 70, 75)).gaps == found.gaps


def test_of_a_slow_logger_more_than_three_steps_are_a_gap() -> None:
    slow = course(CLEAN, step_s=10)
    assert clean(without(slow, 200, 230)).events == ()
    assert clean(without(slow, 200, 240)).gaps == (Gap(200, 240, 102_000, 98_000),)


FALLEN = (108.0, 95.0, 80.0, 60.0, 45.0, 40.0, 38.0)


def test_a_fall_no_ring_can_make_is_a_lost_probe_and_nothing_after_it_counts() -> None:
    found = clean(put(course(), 110, *FALLEN))
    assert found.probe_off == ProbeOff(110, 108_000, 68_000)
    assert found.runs[-1][-1] == (110, 108_000)
    assert found.after[0][0] == (111, 95_000)
    assert sum(len(run) for run in (*found.runs, *found.after)) == 421


def test_a_fall_of_2_kelvin_a_second_or_of_less_than_10_together_is_none() -> None:
    assert clean(course(((0, 110.0), (20, 70.0)))).probe_off is None
    assert clean([(n, value) for n, value in enumerate((110, 107, 104, 100.001, 100, 100))]).probe_off is None
    assert clean([(n, value) for n, value in enumerate((110, 107, 104, 100, 100, 100))]).probe_off is not None


def test_a_short_fall_before_does_not_hide_the_lost_probe() -> None:
    found = clean([(n, value) for n, value in enumerate((110, 107, 107, 107, 104, 101, 96, 96, 96))])
    assert found.probe_off == ProbeOff(3, 107_000, 11_000)


def test_a_fall_across_a_gap_counts_by_its_mean() -> None:
    cold = put(without(course(), 120, 140), 140, *[30.0] * 281)
    assert clean(cold).probe_off == ProbeOff(120, 110_000, 80_000)
    assert clean(cold).gaps == ()


def test_a_probe_put_on_again_does_not_count() -> None:
    found = clean(put(course(), 110, *FALLEN))
    assert max(value for run in found.after for _, value in run) > 100_000


def test_a_gap_after_the_probe_came_off_is_told_and_not_counted() -> None:
    found = clean(without(put(course(), 110, *FALLEN), 200, 220))
    assert found.gaps == ()
    assert any(isinstance(event, Gap) for event in found.events)
    assert len(found.after) == 2


@pytest.mark.parametrize("samples", [[], [(0, 20.0)]])
def test_no_log_and_one_sample_are_refused_by_name(samples: list[tuple[float, float]]) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        clean(samples)
    assert (refused.value.field, refused.value.value) == ("number of samples", str(len(samples)))
    assert (refused.value.low, refused.value.high) == (2, 100_000)


@pytest.mark.parametrize("samples", [[(0, None)] * 9, [(0, 20), (1, 9999)], [(0, 20), (0, 21), (0, 22)]])
def test_a_log_without_two_good_times_is_refused_by_name(samples: list[tuple[float, float | None]]) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        clean(samples)
    assert refused.value.field == "number of samples with a temperature"


def test_a_log_longer_than_a_day_of_seconds_is_refused_by_name() -> None:
    with pytest.raises(OutOfRangeError) as refused:
        clean([(0, 20.0)] * 100_001)
    assert refused.value.value == "100001"


@pytest.mark.parametrize(
    "time",
    [
        "12:04:03",
        None,
        True,
        float("nan"),
        float("inf"),
        1e11,
        pytest.param(10**5000, id="long"),
        Decimal("NaN"),
    ],
)
def test_a_time_that_is_no_number_is_refused_by_name(time: Any) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        clean([(0, 20.0), (time, 21.0)])
    assert (refused.value.field, refused.value.unit) == ("time", "s")
    assert (refused.value.low, refused.value.high) == (-1e10, 1e10)


@pytest.mark.parametrize("temperature", ["95,4", True, b"95", object()])
def test_a_temperature_that_is_neither_a_number_nor_none_is_refused_by_name(temperature: Any) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        clean([(0, 20.0), (1, temperature)])
    assert (refused.value.field, refused.value.unit) == ("temperature", "°C")
    assert (refused.value.low, refused.value.high) == (-40, 400)


def test_a_unit_of_something_else_is_refused_by_name() -> None:
    with pytest.raises(NotAQuantityError):
        clean(course(), "mm")
