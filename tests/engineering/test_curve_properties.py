"""What holds for every heating log, whatever happened to it."""

import math
import random
from dataclasses import replace
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.curve import JudgedCurve, Limits, judge
from qrecords.engineering.curve_cleaning import Sample, clean
from qrecords.engineering.curve_events import BackwardClock
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.measurement import CONFORMING, NONCONFORMING, NOT_PROVEN
from tests.engineering.heating_logs import CLEAN, LIMITS, course, in_fahrenheit

TIMES = st.one_of(st.integers(0, 60), st.floats(0, 300), st.floats(-1e10, 1e10))
TEMPERATURES = st.one_of(
    st.integers(-60_000, 450_000).map(lambda mdegc: mdegc / 1000),
    st.integers(100, 130).map(float),
    st.sampled_from((None, math.nan, math.inf, 1372.0, 9999.0, -200.0)),
)
LOGS = st.lists(st.tuples(TIMES, TEMPERATURES), min_size=2, max_size=60)
LIMITED = st.builds(
    Limits, st.integers(-40_000, 400_000), st.integers(-40_000, 400_000), st.integers(0, 50_000),
    st.sampled_from((0, "1.65", 2)),
)  # fmt: skip


def without_the_clock(found: JudgedCurve) -> JudgedCurve:
    kept = tuple(event for event in found.curve.events if not isinstance(event, BackwardClock))
    return found._replace(curve=replace(found.curve, events=kept))


def answer(samples: list[Sample], limits: Limits = LIMITS, unit: str = "°C") -> Any:
    """The judgement without its report of the clock, or the name of what was refused."""
    try:
        return without_the_clock(judge(samples, limits, unit))
    except EngineeringError as refused:
        return refused.facts


@given(LOGS, st.randoms(use_true_random=False))
def test_shuffling_the_samples_changes_nothing_but_the_report_of_the_clock(
    log: list[Sample], shuffler: random.Random
) -> None:
    shuffled = list(log)
    shuffler.shuffle(shuffled)
    assert answer(shuffled) == answer(log)


@given(st.integers(0, 2**32))
def test_a_shuffled_log_that_says_something_says_the_same(seed: int) -> None:
    shuffled = course()
    random.Random(seed).shuffle(shuffled)
    found = judge(shuffled, LIMITS)
    assert found.verdict == CONFORMING
    assert any(isinstance(event, BackwardClock) for event in found.curve.events)
    assert without_the_clock(found) == judge(course(), LIMITS)


@given(LOGS, LIMITED)
def test_fahrenheit_and_celsius_give_the_same_verdict_and_the_same_numbers(
    log: list[Sample], limits: Limits
) -> None:
    assert answer(in_fahrenheit(log), limits, "°F") == answer(log, limits)


@given(st.lists(st.tuples(st.floats(), st.one_of(st.none(), st.floats())), max_size=60), LIMITED)
def test_no_log_of_numbers_raises_anything_but_a_named_error(log: list[Sample], limits: Limits) -> None:
    for unit in ("°C", "°F"):
        try:
            found = judge(log, limits, unit)
        except EngineeringError as refused:
            assert refused.facts
        else:
            assert found.verdict in (CONFORMING, NOT_PROVEN, NONCONFORMING)


@given(LOGS, LIMITED)
def test_not_proven_has_a_reason_and_the_others_have_none(log: list[Sample], limits: Limits) -> None:
    try:
        found = judge(log, limits)
    except EngineeringError:
        return
    assert (found.verdict == NOT_PROVEN) is bool(found.unproven)


@given(st.integers(20_000, 200_000), st.integers(0, 10_000), st.sampled_from(("0", "1.65", "2")))
def test_the_zones_of_the_verdict_tile_with_no_gap(peak_mdegc: int, u_mk: int, factor: str) -> None:
    """A held peak: conforming up to ceiling − guard, nonconforming over ceiling + guard."""
    limits = Limits(110_000, 120_000, u_mk, factor)
    peak_c = peak_mdegc / 1000
    found = judge(course(((0, 20.0), (200, peak_c), (230, peak_c), (240, peak_c))), limits)
    low, high = 120_000 - limits.guard_mk, 120_000 + limits.guard_mk
    zones = {
        CONFORMING: peak_mdegc <= low, NONCONFORMING: peak_mdegc > high, NOT_PROVEN: low < peak_mdegc <= high,
    }  # fmt: skip
    assert sum(zones.values()) == 1
    assert zones[found.verdict]


@given(LOGS, LIMITED, st.integers(0, 20_000))
def test_a_lower_ceiling_never_makes_a_curve_better(log: list[Sample], limits: Limits, less_mk: int) -> None:
    order = (CONFORMING, NOT_PROVEN, NONCONFORMING)
    lower = replace(limits, ceiling_mdegc=max(-40_000, limits.ceiling_mdegc - less_mk))
    try:
        verdicts = judge(log, limits).verdict, judge(log, lower).verdict
    except EngineeringError:
        return
    assert order.index(verdicts[1]) >= order.index(verdicts[0])


@given(LOGS, LIMITED)
def test_the_bracket_is_one_and_lies_within_the_log(log: list[Sample], limits: Limits) -> None:
    try:
        found = judge(log, limits)
    except EngineeringError:
        return
    runs = found.curve.runs
    length_s = runs[-1][-1][0] - runs[0][0][0]
    low, high = found.above.low.value, found.above.high.value
    assert 0 <= low <= high <= length_s * (1 + 1e-9) + 1e-6
    assert found.highest_c * 1000 >= limits.ceiling_mdegc or high == 0


@given(st.lists(st.integers(1, 419), max_size=60, unique=True))
def test_a_sound_log_with_dropouts_is_never_nonconforming(lost: list[int]) -> None:
    log = [(time, None if time in lost else value) for time, value in course(CLEAN)]
    found = judge(log, LIMITS)
    assert found.verdict in (CONFORMING, NOT_PROVEN)
    assert found.highest_c == 110


@given(LOGS)
def test_every_good_sample_is_in_a_run_or_after_the_probe_or_a_spike(log: list[Sample]) -> None:
    try:
        found = clean(log)
    except EngineeringError:
        return
    times = [at for run in (*found.runs, *found.after) for at, _ in run]
    assert times == sorted(set(times))
    spikes = {event.at_s for event in found.events if type(event).__name__ == "Spike"}
    good = {time for time, value in log if value is not None and -40 <= value <= 400}
    assert spikes.isdisjoint(times) and spikes | set(times) == good
