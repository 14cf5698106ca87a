"""Readings: what they are worth, and what they prove."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.errors import OutOfRangeError
from qrecords.engineering.measurement import (
    at_20,
    decide,
    form_uncertainty_um,
    gauge_uncertainty,
    guard,
    p_conform,
    reading_uncertainty,
    roundness,
    taper,
    two_point_roundness,
)


def test_the_guard_is_computed_exactly_before_it_is_rounded_up() -> None:
    assert guard(600, 1.65) == guard(600, "1.65") == 990
    assert guard(601, "1.65") == 992  # 991.65


@pytest.mark.parametrize(
    ("value", "verdict"),
    [
        (28_185, "conforming"),  # the acceptance limit itself
        (28_186, "not proven"),
        (30_000, "not proven"),
        (31_815, "not proven"),  # limit plus guard itself
        (31_816, "nonconforming"),
        (12_815, "conforming"),
        (12_814, "not proven"),
        (9_185, "not proven"),
        (9_184, "nonconforming"),
    ],
)
def test_the_three_zones_of_a_two_sided_limit(value: int, verdict: str) -> None:
    assert decide(value, 11_000, 30_000, 1_100, "1.65") == verdict


def test_one_sided_limits() -> None:
    assert decide(118_000, None, 120_000, 1_000, 1.65) == "conforming"
    assert decide(119_000, None, 120_000, 1_000, 1.65) == "not proven"
    assert decide(-(10**12), None, 120_000, 1_000, 1.65) == "conforming"
    assert decide(5, 5, None, 0, 1.65) == "conforming"
    assert decide(1, None, None, 5, 1.65) == "conforming"


def test_simple_acceptance_has_no_zone_in_between() -> None:
    assert decide(30_000, 11_000, 30_000, 1_100, 0) == "conforming"
    assert decide(30_001, 11_000, 30_000, 1_100, 0) == "nonconforming"


def test_a_zone_narrower_than_two_guards_proves_nothing() -> None:
    assert decide(500, 0, 1_000, 1_000, 2) == "not proven"


def test_the_older_edition_guards_with_two_u() -> None:
    assert decide(28_000, 11_000, 30_000, 1_100, "1.65") == "conforming"
    assert decide(28_000, 11_000, 30_000, 1_100, 2) == "not proven"


def test_verdicts_are_not_taken_on_floats() -> None:
    with pytest.raises(TypeError):
        decide(29.2, 11, 30, 1, 1.65)  # type: ignore[arg-type]  # the error is what is tested


@given(st.integers(-(10**9), 10**9), st.integers(0, 10**6), st.sampled_from(["0", "1.65", "2"]))
def test_shrinking_the_uncertainty_never_turns_conforming_around(value: int, u: int, factor: str) -> None:
    verdict = decide(value, -(10**6), 10**6, u, factor)
    sure = decide(value, -(10**6), 10**6, 0, factor)
    assert verdict in (sure, "not proven")


def test_probability_of_conforming_meets_the_verdict() -> None:
    assert p_conform(28_185, None, 30_000, 1_100).value == pytest.approx(0.9505, abs=1e-4)  # Φ(1.65)
    assert p_conform(12_815, 11_000, None, 1_100).value == pytest.approx(0.9505, abs=1e-4)
    assert p_conform(30, 11, 30, 1.1).value == pytest.approx(0.5, abs=1e-9)
    assert p_conform(20, 18.9, 21.1, 1.1).value == pytest.approx(0.6827, abs=1e-4)  # one u


def test_without_a_spread_a_reading_conforms_or_does_not_limits_included() -> None:
    found = [p_conform(value, 11, 30, 0).value for value in (10.9, 11, 20, 30, 30.1)]
    assert found == [0, 1, 1, 1, 0]
    assert p_conform(20, None, None, 0).value == 1


def test_a_probability_names_what_it_cannot_be_asked_with() -> None:
    for asked, field in (
        ((math.nan, 11, 30, 1.0), "value"),
        ((20, 11, 30, -1.0), "standard uncertainty"),
        ((20, 30, 11, 1.0), "upper limit"),
    ):
        with pytest.raises(OutOfRangeError) as told:
            p_conform(*asked)
        assert told.value.field == field


def test_repeats_shrink_the_repeatability_part_alone() -> None:
    one, three = (gauge_uncertainty(1.5, 1.0, 0.8, repeats=n).value for n in (1, 3))
    assert one**2 - three**2 == pytest.approx(0.8**2 * 2 / 3)


def test_resolution_inside_the_certificate_is_not_counted_twice() -> None:
    assert gauge_uncertainty(2.0, 1.0, resolution_inside=True).value == 1.0
    assert gauge_uncertainty(2.0, 1.0).value == pytest.approx(math.sqrt(1 + 1 / 12))


def test_temperature_adds_to_the_uncertainty_of_a_reading() -> None:
    u = reading_uncertainty(0.5, 100, 1.0, 0.5)
    assert u.value == pytest.approx(math.sqrt(0.5**2 + 1.15**2 + 0.575**2))


def test_equal_temperatures_need_no_correction_however_warm() -> None:
    assert at_20(60.018, 45, 45).value == pytest.approx(60.018, abs=1e-12)


def test_a_warm_shaft_reads_too_big() -> None:
    assert (at_20(60.018, 45, 25).value - 60.018) * 1000 == pytest.approx(-13.80, abs=0.01)


def test_roundness_and_taper_are_half_of_what_the_diameters_differ() -> None:
    planes = [[60_011_000, 60_010_000, 60_011_000], [60_006_000, 60_005_000, 60_006_000]]
    assert (roundness(planes).difference_nm, roundness(planes).radial_nm) == (1000, 500)
    assert (taper(planes).difference_nm, taper(planes).radial_nm) == (5000, 2500)


def test_the_uncertainty_of_a_half_difference_is_the_gauges_by_root_two() -> None:
    assert form_uncertainty_um(0.6) == pytest.approx(0.6 / math.sqrt(2))


def lobed(lobes: int, amplitude_nm: int, directions: int = 6) -> list[int]:
    """Diameters of a profile r = R + a·cos(lobes·θ), read across opposite points."""
    found = []
    for number in range(directions):
        angle = math.pi * number / directions
        across = math.cos(lobes * angle) + math.cos(lobes * (angle + math.pi))
        found.append(60_000_000 + round(amplitude_nm * across))
    return found


def test_two_points_see_an_oval_whole() -> None:
    assert two_point_roundness([lobed(2, 4_000)]).value == pytest.approx(8.0)


@pytest.mark.parametrize("lobes", [3, 5, 7])
def test_two_points_see_nothing_of_odd_lobes_and_say_so(lobes: int) -> None:
    found = two_point_roundness([lobed(lobes, 4_000)])
    assert found.value == 0
    assert any("cannot see odd lobes" in words for words in found.assumptions)


def test_one_direction_says_nothing_of_roundness() -> None:
    with pytest.raises(OutOfRangeError, match="directions in plane 2"):
        two_point_roundness([[1, 2], [1]])


@given(st.lists(st.integers(59_900_000, 60_100_000), min_size=2, max_size=8), st.integers(-50_000, 50_000))
def test_roundness_does_not_know_the_size(plane: list[int], shift: int) -> None:
    assert two_point_roundness([plane]).value == two_point_roundness([[d + shift for d in plane[::-1]]]).value
