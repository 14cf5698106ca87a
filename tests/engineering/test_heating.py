"""Growth, what a fit needs, ceilings and the plan."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from qrecords.engineering.ceilings import KINDS, ceiling_for, own_data
from qrecords.engineering.cooling import Ring
from qrecords.engineering.errors import OutsideValidityError
from qrecords.engineering.growth import (
    growth,
    least_clearance,
    recommended_clearance,
    required_temperature,
    ring_difference_allowed,
    seat_clearance,
    warmest_shaft,
)
from qrecords.engineering.heating import ColdFit, Plan, UnreachableError, plan, slide_on

OPEN = ceiling_for([])
RING_60 = Ring(60, 110, 22)
FIT_60 = ColdFit(60, 30, 27, 2.0)


def planned(fit: ColdFit = FIT_60, shaft_c: float = 20, ring: Ring | None = RING_60, **more: object) -> Plan:
    options: dict[str, object] = {"ceiling": OPEN, "air_c": 20, "temperature_u_k": 2.0, **more}
    return plan(fit, shaft_c=shaft_c, ring=ring, **options)  # type: ignore[arg-type]  # options are the tests' own


def test_growth_is_diametral_and_linear() -> None:
    assert growth(70, 75).value == pytest.approx(63)
    assert growth(70, 150).value == pytest.approx(126)


@pytest.mark.parametrize(
    ("d", "g_um", "f_um"), [(25, 7, 20), (45, 9, 25), (60, 10, 30), (100, 12, 36), (200, 15, 50)]
)
def test_mounting_clearances_are_the_deviations_g_and_f(d: int, g_um: float, f_um: float) -> None:
    assert (least_clearance(d).value, recommended_clearance(d).value) == (g_um, f_um)


def test_the_rise_counts_from_the_shaft() -> None:
    cold, warm = (required_temperature(60, 30, 20, shaft_c).value for shaft_c in (20, 35))
    assert (round(cold, 1), round(warm, 1)) == (89.4, 103.8)


def test_the_uncertainty_holds_the_fits_and_the_expansion_over_the_rise_from_the_shaft() -> None:
    warm = required_temperature(60, 30, 20, 35, 2.0)
    from_fit, from_expansion = 2.0 / 0.72, (warm.value - 35) * 0.6 / 3**0.5 / 12
    assert warm.u == pytest.approx(math.hypot(from_fit, from_expansion))


@given(
    st.floats(15, 400), st.floats(1, 100), st.floats(0, 60), st.floats(-10, 60), st.floats(9e-6, 14e-6),
    st.floats(9e-6, 14e-6),
)  # fmt: skip
def test_at_the_required_temperature_the_clearance_is_the_one_asked_for(
    d: float, delta: float, c: float, shaft_c: float, ring_alpha: float, shaft_alpha: float
) -> None:
    needed = required_temperature(d, delta, c, shaft_c, 0, ring_alpha, shaft_alpha).value
    found = seat_clearance(d, delta, needed, shaft_c, ring_alpha, shaft_alpha).value
    assert math.isclose(found, c, abs_tol=1e-6)
    assert math.isclose(
        warmest_shaft(d, delta, c, needed, ring_alpha, shaft_alpha).value, shaft_c, abs_tol=1e-6
    )


@given(st.floats(20, 300), st.floats(1, 60), st.floats(1, 30))
def test_more_interference_never_needs_less_heat(d: float, delta: float, more: float) -> None:
    assert required_temperature(d, delta + more, 10, 20).value > required_temperature(d, delta, 10, 20).value


def test_every_result_explains_itself() -> None:
    result = required_temperature(60, 30, 20, 35, 2.0)
    assert result.u is not None and result.u > 0
    assert dict(result.put_in)["T_s"] == "35 °C"
    assert result.formula and result.source and result.unconfirmed


@pytest.mark.parametrize(
    ("kinds", "cap_c", "wins"),
    [
        ([], 120, "open"),
        (["sealed"], 80, "sealed"),
        (["polyamide_cage"], 120, "polyamide_cage"),
        (["polyamide_cage", "greased"], 80, "greased"),
        (["precision", "polyamide_cage"], 80, "precision"),
        (["separable_inner_ring"], 120, "open"),
    ],
)
def test_the_lowest_applicable_ceiling_wins_and_says_which(kinds: list[str], cap_c: float, wins: str) -> None:
    found = ceiling_for(kinds)
    assert (found.cap_c, found.kind) == (cap_c, wins)


@pytest.mark.parametrize("kind", KINDS)
def test_the_bearings_own_data_replace_the_house_cap_of_any_kind(kind: str) -> None:
    found = ceiling_for([kind], own_data(110, "data sheet in file 12"))
    assert (found.cap_c, found.kind, found.source) == (110, "own_data", "data sheet in file 12")


def test_an_unknown_kind_is_no_kind() -> None:
    with pytest.raises(KeyError):
        ceiling_for(["wooden"])


def test_the_plan_of_a_sealed_45_mm_bearing_in_one_line() -> None:
    found = planned(ColdFit(45, 11, 10, 1.0), ring=Ring(45, 100, 25), ceiling=ceiling_for(["sealed"]))
    assert (found.set_c, found.must_reach_c, found.never_above_c, found.pressing_s) == (75, 60, 80, 35)


def test_the_plan_uses_the_local_maximum_to_get_on_and_the_mean_to_hold() -> None:
    looser = planned(FIT_60._replace(interference_mean_um=20))
    tighter = planned(FIT_60._replace(interference_max_um=36))
    assert looser.contact == planned().contact and looser.pressing != planned().pressing
    assert tighter.contact.value > planned().contact.value


def test_a_polyamide_cage_is_aimed_at_100_though_the_cap_is_120() -> None:
    fit = ColdFit(55, 30, 25, 1.0)
    assert planned(fit, ring=Ring(55, 100, 21)).set_c == 110
    assert planned(fit, ring=Ring(55, 100, 21), ceiling=ceiling_for(["polyamide_cage"])).set_c == 100


def test_a_warm_shaft_that_makes_the_ceiling_unreachable_says_how_far_it_must_cool() -> None:
    with pytest.raises(UnreachableError) as refused:
        planned(shaft_c=70)
    cold_enough = refused.value.shaft_at_most_c
    assert cold_enough < 70
    assert planned(shaft_c=cold_enough - 0.5).must_reach_c <= 120
    with pytest.raises(UnreachableError):
        planned(shaft_c=cold_enough + 0.5)


def test_without_dimensions_neither_carrying_nor_pressing_is_promised() -> None:
    found = planned(ring=None)
    assert (found.carry_s, found.pressing_s, found.drop) == (None, None, None)


def test_a_cooler_outer_ring_shortens_the_carry() -> None:
    alone, known = planned(), planned(outer_below_inner_k=20)
    assert alone.start is None and known.start is not None
    assert known.start.value == pytest.approx(known.set_c - 14)
    assert alone.carry_s is not None and known.carry_s is not None
    assert known.carry_s < alone.carry_s


def test_a_ring_without_interference_has_no_plan() -> None:
    with pytest.raises(OutsideValidityError):
        planned(ColdFit(60, 1, -2, 1.0))


@given(
    st.floats(20, 240), st.floats(1, 80), st.floats(0, 10), st.floats(0, 45), st.floats(0.2, 4),
    st.sampled_from([OPEN, ceiling_for(["sealed"]), ceiling_for(["polyamide_cage"])]),
)  # fmt: skip
def test_no_plan_ever_promises_more_than_its_ceiling_or_less_than_the_fit_needs(
    d: float, worst: float, below: float, shaft_c: float, u_k: float, ceiling: object
) -> None:
    assume(worst - below > 0.5)
    fit = ColdFit(d, worst, worst - below, 1.0)
    try:
        found = planned(fit, shaft_c, Ring(d, 2 * d, 0.4 * d), ceiling=ceiling, temperature_u_k=u_k)
    except UnreachableError as refused:
        assert refused.needed_c > refused.most_c
        return
    assert found.set_c <= found.ceiling.cap_c - found.guard_k
    assert found.contact.value <= found.must_reach_c
    assert found.set_c <= found.never_above_c
    assert found.pressing is not None and found.pressing_s is not None
    assert found.pressing_s >= found.pressing.hold.value
    assert found.carry is None or (found.carry_s or 0) <= found.carry.value


def test_slide_on_takes_the_temperature_at_the_seat_where_it_was_read() -> None:
    assert slide_on(FIT_60, 20, None, 110).value == pytest.approx(0.72 * 90 - 30, abs=0.01)
    assert slide_on(FIT_60, 20, 60, 110).value < 0


def test_slide_on_takes_the_peak_less_the_computed_drop_otherwise() -> None:
    drop = planned().drop
    assert drop is not None
    difference = slide_on(FIT_60, 20, None, 110).value - slide_on(FIT_60, 20, None, 110, drop).value
    assert difference == pytest.approx(0.72 * drop.value, rel=1e-6)


def test_the_ring_difference_that_uses_up_the_clearance() -> None:
    safe, clamped = ring_difference_allowed(8, 70, 100)
    assert safe.value == pytest.approx(8 / 1.2)
    assert clamped.value == pytest.approx(8 / 0.84)


@pytest.mark.parametrize("clearance_um", [0, -3])
def test_without_clearance_no_ring_difference_is_allowed(clearance_um: float) -> None:
    with pytest.raises(OutsideValidityError):
        ring_difference_allowed(clearance_um, 70, 100)
