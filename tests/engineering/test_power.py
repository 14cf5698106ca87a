"""Heating: energy, time, and the inner ring that runs ahead."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.cooling import equalised_c
from qrecords.engineering.power import (
    CLAMPED,
    FREE,
    LOOK,
    TwoRings,
    against_clearance,
    energy,
    equalised,
    heated_to,
    heating_time,
    inner_temperature,
    mean_rate,
    most_power,
    ring_difference,
    settled_difference,
    time_to_reach,
)
from qrecords.engineering.result import Result

RINGS = TwoRings(0.224, 0.522, 0.5, 1.0)
ANY_RINGS = st.builds(
    TwoRings, st.floats(0.01, 50), st.floats(0.01, 100), st.floats(0, 1), st.floats(0.05, 200)
)
POWERS, RISES = st.floats(20, 20_000), st.floats(1, 130)


def test_a_bearing_of_three_quarters_of_a_kilogram_takes_28_kilojoules_for_80_kelvin() -> None:
    assert energy(0.746, 80).value == pytest.approx(28_050, abs=1)


@given(st.floats(0.01, 100), RISES, POWERS, st.floats(0.05, 1))
def test_rate_times_time_is_the_rise(mass: float, rise: float, power: float, efficiency: float) -> None:
    taken = heating_time(mass, rise, power, efficiency).value
    assert mean_rate(mass, power, efficiency).value * taken == pytest.approx(rise)
    assert taken * power * efficiency == pytest.approx(energy(mass, rise).value)


@given(ANY_RINGS, POWERS, st.floats(0, 5000), st.floats(0.001, 1000))
def test_the_inner_ring_warms_all_the_time(rings: TwoRings, net: float, at: float, later: float) -> None:
    first, second = (inner_temperature(rings, net, 20, t).value for t in (at, at + later))
    assert second >= first


@given(ANY_RINGS, POWERS, st.floats(0, 5000), st.floats(0.001, 1000))
def test_the_difference_grows_towards_the_settled_one_and_never_past_it(
    rings: TwoRings, net: float, at: float, later: float
) -> None:
    settled = settled_difference(rings, net).value
    first, second = (ring_difference(rings, net, t).value for t in (at, at + later))
    assert abs(first) <= abs(second) <= abs(settled) * (1 + 1e-12)


@given(ANY_RINGS, POWERS, RISES)
def test_the_time_found_brings_the_inner_ring_to_its_temperature(
    rings: TwoRings, net: float, rise: float
) -> None:
    seconds = time_to_reach(rings, net, 20, 20 + rise).value
    assert inner_temperature(rings, net, 20, seconds).value == pytest.approx(20 + rise, abs=1e-6)


@given(ANY_RINGS, POWERS, RISES)
def test_the_energy_put_in_is_the_energy_of_both_rings(rings: TwoRings, net: float, rise: float) -> None:
    found = heated_to(rings, net, 20, 20 + rise)
    inner_k, outer_k = rise, rise - found.difference.value
    held = rings.inner_j_k * inner_k + rings.outer_j_k * outer_k
    assert held == pytest.approx(net * found.time.value, rel=1e-6)
    share = rings.inner_kg / (rings.inner_kg + rings.outer_kg)
    met = equalised_c(20 + inner_k, 20 + outer_k, share).value
    assert found.equalised.value == pytest.approx(met, rel=1e-6)
    assert found.drop.value == pytest.approx(20 + rise - met, abs=1e-5)


@given(ANY_RINGS, POWERS, st.floats(0.1, 2000), st.floats(1.1, 5))
def test_more_power_a_larger_difference(rings: TwoRings, net: float, at: float, times: float) -> None:
    little, more = (ring_difference(rings, p, at).value for p in (net, net * times))
    assert more == pytest.approx(times * little)


@given(ANY_RINGS, POWERS, RISES, st.floats(-30, 60))
def test_where_it_starts_plays_no_part_in_how_long_a_rise_takes(
    rings: TwoRings, net: float, rise: float, start: float
) -> None:
    from_20, from_there = (time_to_reach(rings, net, s, s + rise).value for s in (20, start))
    assert from_there == pytest.approx(from_20, rel=1e-6, abs=1e-6)


@given(st.floats(0.01, 50), st.floats(0.01, 100), st.floats(0, 1), st.floats(0.05, 200), POWERS)
def test_rings_that_change_places_change_the_sign(
    inner: float, outer: float, share: float, link: float, net: float
) -> None:
    one = settled_difference(TwoRings(inner, outer, share, link), net).value
    other = settled_difference(TwoRings(outer, inner, 1 - share, link), net).value
    assert one == pytest.approx(-other, abs=1e-6 * (1 + abs(one)))


def test_heat_in_proportion_to_mass_leaves_no_difference() -> None:
    even = TwoRings(0.3, 0.7, 0.3, 1.0)
    assert ring_difference(even, 420, 60).value == pytest.approx(0, abs=1e-9)
    found = heated_to(even, 420, 20, 100)
    assert found.time.value == pytest.approx(heating_time(1.0, 80, 420, 1.0).value)
    assert found.drop.value == pytest.approx(0, abs=1e-9)


@given(POWERS, st.floats(1, 40), st.floats(0, 5000))
def test_under_the_most_power_the_difference_stays_within_what_is_allowed(
    net: float, allowed: float, at: float
) -> None:
    most = most_power(RINGS, allowed).value
    assert settled_difference(RINGS, most).value == pytest.approx(allowed)
    assert ring_difference(RINGS, min(net, most), at).value <= allowed * (1 + 1e-12)


@pytest.mark.parametrize(
    ("difference_k", "clearance_um", "standing"),
    [(6.6, 8, FREE), (8, 8, LOOK), (41.8, 8, CLAMPED), (41.8, 23, CLAMPED), (0, 8, FREE), (-20, 8, FREE)],
)
def test_a_difference_against_the_clearance_of_a_60_bore(
    difference_k: float, clearance_um: float, standing: str
) -> None:
    found = against_clearance(
        Result(difference_k, "K", None, "measured", (), (), ""), clearance_um, 72.5, 100
    )
    assert found.standing == standing
    assert found.free_to.value < found.clamped_from.value


@pytest.mark.parametrize(("clearance_um", "clamps_k"), [(8, 9), (18, 21), (23, 26)])
def test_the_difference_that_clamps_a_60_bore(clearance_um: float, clamps_k: float) -> None:
    none = Result(0.0, "K", None, "measured", (), (), "")
    found = against_clearance(none, clearance_um, 72.5, 100)
    assert found.clamped_from.value == pytest.approx(clamps_k, abs=0.5)


def test_what_is_fitted_is_said_to_be_fitted() -> None:
    for result in (equalised(RINGS, 420, 20, 50), time_to_reach(RINGS, 420, 20, 110)):
        assert "fitted" in result.unconfirmed[0]
        assert any("no loss" in assumption for assumption in result.assumptions)
        assert dict(result.put_in)["G_b"] == "1 W/K"
