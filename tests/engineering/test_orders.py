"""What must rise rises, what must mirror mirrors, no unit changes a verdict: over all sizes and classes."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from qrecords.engineering import fits, growth
from qrecords.engineering.bearings import bore_limits
from qrecords.engineering.clearance import Spread, forecast, loss_factor
from qrecords.engineering.errors import UnknownClassError
from qrecords.engineering.limits import Limits, limits_of_size
from qrecords.engineering.measurement import CONFORMING, NONCONFORMING, NOT_PROVEN, decide, p_conform
from qrecords.engineering.units import read, show

SIZES, GRADES = st.integers(1, 500), st.integers(4, 8)
SEATS = "kmnprs"
"""Letters of seats in the order of the alphabet: each further one sits tighter."""


def found(size: float, tolerance_class: str) -> Limits:
    try:
        return limits_of_size(size, tolerance_class)
    except UnknownClassError:
        assume(False)
        raise


@given(SIZES, SIZES, st.sampled_from(["h", "js", "k", "m", "n", "p", "H", "JS"]), GRADES)
def test_a_larger_size_is_never_held_closer(one: int, other: int, letter: str, grade: int) -> None:
    small, large = (found(size, f"{letter}{grade}") for size in sorted((one, other)))
    assert small.it_um <= large.it_um


@given(SIZES, GRADES, GRADES, st.sampled_from(["h", "js", "m", "n", "p", "H"]))
def test_a_coarser_grade_is_wider(size: int, one: int, other: int, letter: str) -> None:
    fine, coarse = (found(size, f"{letter}{grade}") for grade in sorted((one, other)))
    assert fine.it_um <= coarse.it_um


@given(SIZES, GRADES, st.sampled_from(SEATS), st.sampled_from(SEATS))
def test_a_letter_further_on_never_sits_looser(size: int, grade: int, one: str, other: str) -> None:
    loose, tight = (found(size, f"{letter}{grade}") for letter in sorted((one, other)))
    bore = bore_limits(size, "Normal") if 3 <= size <= 500 else None
    assert loose.lower_um <= tight.lower_um
    if bore is not None:
        assert fits.from_classes(loose, bore).mean.value <= fits.from_classes(tight, bore).mean.value


@given(SIZES, GRADES)
def test_js_lies_evenly_about_nominal_and_its_hole_is_the_same(size: int, grade: int) -> None:
    shaft, hole = found(size, f"js{grade}"), found(size, f"JS{grade}")
    assert shaft.lower_nm == -shaft.upper_nm
    assert (hole.lower_nm, hole.upper_nm) == (shaft.lower_nm, shaft.upper_nm)


@given(SIZES, GRADES)
def test_h_is_the_mirror_of_its_hole_and_both_end_at_nominal(size: int, grade: int) -> None:
    shaft, hole = found(size, f"h{grade}"), found(size, f"H{grade}")
    assert (shaft.upper_nm, hole.lower_nm) == (0, 0)
    assert shaft.lower_nm == -hole.upper_nm


@given(SIZES, st.sampled_from(["js4", "js6", "js8", "j5", "j6", "j7", "h6", "H7", "J7", "JS7"]))
def test_limits_that_must_contain_the_nominal_size_do(size: int, tolerance_class: str) -> None:
    limits = found(size, tolerance_class)
    assert limits.lower_nm <= 0 <= limits.upper_nm


@given(st.integers(3, 500), st.sampled_from(["Normal", "6"]))
def test_a_bearings_bore_never_reaches_above_nominal(size: int, bore_class: str) -> None:
    limits = bore_limits(size, bore_class)
    assert limits.lower_nm < limits.upper_nm == 0


WHOLE, U = st.integers(-50_000, 50_000), st.integers(0, 4_000)
FACTORS = st.sampled_from(["0", "1.65", "2"])


@given(WHOLE, WHOLE, WHOLE, U, FACTORS)
def test_a_verdict_mirrors(value: int, one: int, other: int, u: int, factor: str) -> None:
    low, high = sorted((one, other))
    assert decide(value, low, high, u, factor) == decide(-value, -high, -low, u, factor)
    assert decide(value, low, None, u, factor) == decide(-value, None, -low, u, factor)


@given(WHOLE, WHOLE, WHOLE, U, FACTORS, st.integers(2, 30))
def test_a_verdict_does_not_know_the_unit(
    value: int, one: int, other: int, u: int, factor: str, times: int
) -> None:
    """µm or nm: the guard of 1.65 u is rounded up to the base unit, so u comes in hundreds of it."""
    low, high = sorted((one, other))
    fine = decide(value * 100 * times, low * 100 * times, high * 100 * times, u * 100 * times, factor)
    assert decide(value * 100, low * 100, high * 100, u * 100, factor) == fine


@given(WHOLE, st.integers(0, 50_000), U, FACTORS)
def test_the_zones_of_a_verdict_tile_the_line(low: int, width: int, u: int, factor: str) -> None:
    """From far below to far above each word stands once in a row, in order, with no gap and no overlap."""
    high = low + width
    guard = math.ceil(float(factor) * u)
    edges = sorted({e + s for e in (low, high) for g in (-guard, 0, guard) for s in (g - 1, g, g + 1)})
    words = [decide(value, low, high, u, factor) for value in (low - 10**6, *edges, high + 10**6)]
    in_a_row = [word for n, word in enumerate(words) if n == 0 or word != words[n - 1]]
    out, close = NONCONFORMING, NOT_PROVEN
    assert in_a_row in (
        [out, CONFORMING, out],
        [out, close, CONFORMING, close, out],
        [out, close, out],
    )


@given(st.floats(-100, 100), st.floats(-100, 100), st.floats(-100, 100), st.floats(0, 20))
def test_the_chance_to_conform_mirrors_and_lies_between_nought_and_one(
    value: float, one: float, other: float, u: float
) -> None:
    low, high = sorted((one, other))
    chance = p_conform(value, low, high, u).value
    assert -1e-12 <= chance <= 1 + 1e-12
    assert chance == pytest.approx(p_conform(-value, -high, -low, u).value, abs=1e-12)


HEAT = (st.floats(10, 500), st.floats(1, 150), st.floats(-20, 60), st.floats(0.1, 60))


@given(*HEAT)
def test_a_warmer_shaft_needs_a_hotter_ring(d: float, delta: float, shaft_c: float, by: float) -> None:
    cool, warm = (growth.required_temperature(d, delta, 10, shaft).value for shaft in (shaft_c, shaft_c + by))
    assert warm > cool


@given(*HEAT)
def test_a_hotter_ring_leaves_more_clearance(d: float, delta: float, ring_c: float, by: float) -> None:
    hot, hotter = (growth.seat_clearance(d, delta, ring, 20).value for ring in (ring_c, ring_c + by))
    assert hotter > hot


@given(*HEAT)
def test_a_larger_bore_grows_the_more(d: float, more: float, _c: float, rise_k: float) -> None:
    assert growth.growth(d + more, rise_k).value > growth.growth(d, rise_k).value


@given(st.floats(0, 80), st.floats(0.1, 40), st.floats(1, 60), st.floats(20, 300))
def test_more_clearance_before_never_leaves_the_less_and_the_likelier_none(
    g0: float, more: float, delta: float, d: float
) -> None:
    factor, fit = loss_factor(d, d * 1.8), Spread.of_reading(delta, 1.5)
    less, better = (forecast(Spread.of_reading(g, 3.0), fit, d, factor) for g in (g0, g0 + more))
    assert better.mean.value > less.mean.value
    assert better.p_below <= less.p_below


@given(st.integers(-60_000, 200_000), st.sampled_from(["temperature", "length"]))
def test_text_in_the_other_unit_is_the_same_quantity(base: int, quantity: str) -> None:
    here, there = {"temperature": ("°C", "°F"), "length": ("mm", "in")}[quantity]
    assert read(show(base, quantity, there), quantity, there).base == base
    assert read(show(base, quantity, here), quantity, here).base == base
