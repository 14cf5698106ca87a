"""Worked engineering examples, computed outside this project by the routes each one names.

Source: `engineering_examples.json`: closed forms, finite elements, finite volumes, ODE integration and
Monte Carlo, each with its tolerance. E18 and E19 (heating curves) stand in `test_heating_curves.py`, E23 in
`test_public_gauge_study.py`.
"""

import math
from typing import Any

import pytest

from qrecords.engineering import budgets, cooling, fits, gap, grease, growth, heating, measurement, power
from qrecords.engineering.bearings import bore_limits
from qrecords.engineering.clearance import Spread, forecast, loss_factor
from qrecords.engineering.limits import limits_of_size
from qrecords.engineering.result import Result
from qrecords.engineering.units import read, show
from tests.published import example


def meets(case: dict[str, Any], name: str, found: float) -> None:
    wanted = case["expected"][name]
    allowed = max(wanted.get("tol_abs", 0), wanted.get("tol_rel", 0) * abs(wanted["value"]))
    assert abs(found - wanted["value"]) <= allowed, (case["id"], name, found, wanted)


def test_e01_growth() -> None:
    case = example("E01")
    given = case["inputs"]
    meets(case, "growth_diametral", growth.growth(given["d_mm"], given["dT_K"], given["alpha_per_K"]).value)


def test_e02_required_temperature_on_a_warm_shaft() -> None:
    case = example("E02")
    given = case["inputs"]
    found = growth.required_temperature(
        given["d_mm"], given["interference_um"], given["mounting_clearance_um"], given["T_shaft_C"],
        ring_alpha_per_k=given["alpha_bearing_per_K"], shaft_alpha_per_k=given["alpha_shaft_per_K"],
    )  # fmt: skip
    meets(case, "T_required", found.value)
    assert (found.value <= given["ceiling_C"]) is case["expected"]["within_ceiling"]["value"]


def test_e03_uncertainty_of_the_required_temperature() -> None:
    case = example("E03")
    given = case["inputs"]
    alpha = given["alpha_per_K"]
    found = growth.required_temperature(
        given["d_mm"], given["interference_um"], given["mounting_clearance_um"], given["T_shaft_C"],
        given["u_interference_um"], ring_alpha_per_k=alpha, shaft_alpha_per_k=alpha,
    )  # fmt: skip
    assert found.u is not None
    meets(case, "T_required", found.value)
    meets(case, "u_T", found.u)
    meets(case, "T_95pct_one_sided", found.value + 1.6449 * found.u)
    assert found.u == pytest.approx(case["cross_check"]["mc_sd"], rel=0.01)


def test_e04_fit_of_two_classes() -> None:
    case = example("E04")
    given = case["inputs"]
    journal = limits_of_size(given["d_mm"], given["shaft_class"])
    bore = bore_limits(given["d_mm"], given["bearing_class"])
    fit = fits.from_classes(journal, bore)
    meets(case, "es", journal.upper_um)
    meets(case, "ei", journal.lower_um)
    meets(case, "bore_low", bore.lower_um)
    for name, result in (
        ("interference_max", fit.maximum),
        ("interference_min", fit.minimum),
        ("interference_mean", fit.mean),
        ("probable_low", fit.probable_low),
        ("probable_high", fit.probable_high),
    ):
        meets(case, name, result.value)


def test_e05_reading_brought_to_20_degrees() -> None:
    case = example("E05")
    given = case["inputs"]
    found = measurement.at_20(
        given["reading_mm"], given["T_shaft_C"], given["T_gauge_C"],
        given["alpha_shaft_per_K"], given["alpha_gauge_per_K"],
    )  # fmt: skip
    meets(case, "d20", found.value)
    meets(case, "correction", (found.value - given["reading_mm"]) * 1000)


def test_e06_effective_interference() -> None:
    case = example("E06")
    given = case["inputs"]
    delta, d = given["interference_um"], given["d_mm"]
    meets(case, "ground", fits.smoothed(delta, d, "ground").value)
    meets(case, "turned", fits.smoothed(delta, d, "turned").value)
    meets(case, "din7190", fits.smoothed_by_roughness(delta, given["Rz_shaft_um"], given["Rz_bore_um"]).value)


def test_e07_measured_journal() -> None:
    case = example("E07")
    given = case["inputs"]
    at_20 = [
        [measurement.at_20(r, given["T_shaft_C"], given["T_gauge_C"]).value for r in plane]
        for plane in given["readings_mm"]
    ]
    fit = fits.from_bore_class(at_20, bore_limits(given["d_mm"], "Normal"), given["U_k2_um"] / 2)
    planes_nm = [[read(repr(reading), "length", "mm").base for reading in plane] for plane in at_20]
    meets(case, "mean_deviation_20C", fit.mean.value - 7.5)
    meets(case, "ovality_max", float(measurement.roundness(planes_nm).difference_nm) / 1000)
    meets(case, "roundness_two_point_max", measurement.roundness(planes_nm).radial_nm / 1000)
    meets(case, "roundness_two_point_max", measurement.two_point_roundness(planes_nm).value)
    meets(case, "taper", float(measurement.taper(planes_nm).difference_nm) / 1000)
    meets(case, "interference_max", fit.local_max.value)
    meets(case, "interference_min", fit.local_min.value)
    meets(case, "interference_mean", fit.mean.value)
    meets(case, "u_interference", fit.mean.u or 0.0)
    for plane, wanted in zip(at_20, case["expected"]["plane_means"]["value"], strict=True):
        assert sum(plane) / len(plane) == pytest.approx(wanted, abs=6e-5)


@pytest.mark.parametrize("identity", ["E08", "E09"])
def test_e08_e09_press_fit_on_a_solid_and_a_hollow_shaft(identity: str) -> None:
    case = example(identity)
    given = case["inputs"]
    fit = fits.press_fit(
        given["d_mm"], given["F_equiv_raceway_mm"], given["interference_um"], given["shaft_bore_mm"],
        given["B_mm"], given["mu"], (given["E_ring_GPa"], given["nu_ring"]),
        (given["E_shaft_GPa"], given["nu_shaft"]),
    )  # fmt: skip
    assert fit.axial_force is not None
    for name, result in (
        ("pressure", fit.pressure),
        ("hoop_bore", fit.hoop_bore),
        ("hoop_raceway", fit.hoop_raceway),
        ("raceway_growth", fit.raceway_growth),
        ("axial_force", fit.axial_force),
    ):
        meets(case, name, result.value)
    assert fit.pressure.value == pytest.approx(case["cross_check"]["fem_p"], rel=1e-4)


def test_e10_grooved_ring_against_finite_elements() -> None:
    case = example("E10")
    d, outside, delta = 60, 110, case["inputs"]["interference_um"]
    fit = fits.press_fit(d, fits.stress_raceway_mm(d, outside), delta)
    meets(case, "pressure", fit.pressure.value)
    meets(case, "hoop_bore", fit.hoop_bore.value)
    meets(case, "clearance_reduction_factor", loss_factor(d, outside).value)


@pytest.mark.parametrize("identity", ["E11", "E12"])
def test_e11_e12_residual_clearance_by_group_and_class(identity: str) -> None:
    case = example(identity)
    given = case["inputs"]
    factor = Result(given["clearance_factor"], "1", None, "", (), (), "")
    found = forecast(
        Spread.of_limits(given["G0_min_um"], given["G0_max_um"]),
        Spread.of_class_fit((given["ei_um"], given["es_um"]), (given["bore_low_um"], 0)),
        given["d_mm"], factor, outer_raceway_mm=given["outer_raceway_mm"],
    )  # fmt: skip
    meets(case, "min", found.worst_low_um)
    meets(case, "max", found.worst_high_um)
    meets(case, "mean", found.mean.value)
    meets(case, "probable_low", found.probable_low_um)
    meets(case, "probable_high", found.probable_high_um)
    meets(case, "p_negative", found.p_below)


@pytest.mark.parametrize("identity", ["E13", "E14"])
def test_e13_e14_carry_time_is_below_the_integrated_ones(identity: str) -> None:
    case = example(identity)
    given = case["inputs"]
    ring = cooling.Ring(given["d_mm"], given["D_mm"], given["B_mm"], given["mass_kg"])
    assert ring.film_w_m2k == given["h_design"]
    found = cooling.carry_time(ring, given["T_start_C"], given["T_min_C"], given["T_ambient_C"])
    meets(case, "area", ring.area_m2)
    meets(case, "carry_time_conservative", found.value)
    assert found.value < case["expected"]["ode_1_m_per_s"]["value"]
    assert found.value < case["expected"]["ode_still_air"]["value"]
    assert cooling.mass_estimate(ring).value == pytest.approx(given["mass_kg"], rel=0.15)


@pytest.mark.parametrize("identity", ["E15", "E16"])
def test_e15_e16_pressing_time_is_above_the_finite_volumes(identity: str) -> None:
    case = example(identity)
    given = case["inputs"]
    found = cooling.pressing_time(
        given["d_mm"], given["F_mm"], given["interference_um"], given["T_ring_C"], given["T_shaft_C"]
    )
    put_in = dict(found.hold.put_in)
    meets(case, "c0", float(put_in["c0"].split()[0]))
    meets(case, "tau", float(put_in["τ"].split()[0]))
    meets(case, "grip_time_simple", found.grip.value)
    meets(case, "hold_time", found.hold.value)
    assert found.grip.value > case["expected"]["numerical_grip_must_be_below"]["value"]
    assert found.hold.value > case["expected"]["numerical_half_interference_must_be_below"]["value"]
    assert given["F_mm"] == fits.stress_raceway_mm(given["d_mm"], given["D_mm"])


def test_e17_inner_and_outer_ring_equalise_once_they_are_off_the_heater() -> None:
    case = example("E17")
    given, wanted = case["inputs"], case["expected"]
    inner_c = given["T_inner_stop_C"]
    outer_c = inner_c - wanted["ring_difference_at_stop"]["value"]
    weighed = given["m_inner_kg"] / (given["m_inner_kg"] + given["m_outer_plus_balls_kg"])
    for found in (cooling.equalised_c(inner_c, outer_c, weighed), cooling.equalised_c(inner_c, outer_c)):
        meets(case, "equalised_temperature", found.value)
        meets(case, "inner_ring_drop_on_equalising", inner_c - found.value)


def test_e17_the_plan_starts_the_carry_from_there_and_not_from_what_the_probe_read() -> None:
    case = example("E17")
    given, wanted = case["inputs"], case["expected"]
    mass = given["m_inner_kg"] + given["m_outer_plus_balls_kg"]
    planned = heating.plan(
        heating.ColdFit(60, 15, 12, 1.0), heating.ceiling_for([]), 20, 20, 1.0,
        cooling.Ring(60, 110, 22, mass), outer_below_inner_k=wanted["ring_difference_at_stop"]["value"],
    )  # fmt: skip
    assert planned.start is not None and planned.carry is not None
    drop = wanted["inner_ring_drop_on_equalising"]["value"]
    assert planned.set_c - planned.start.value == pytest.approx(drop, abs=0.1)
    assert dict(planned.carry.put_in)["T0"] == f"{planned.start.value:.6g} °C"


def test_e17_time_and_ring_difference_at_the_stop_of_the_inner_ring() -> None:
    case = example("E17")
    given = case["inputs"]
    rings = power.TwoRings(
        given["m_inner_kg"], given["m_outer_plus_balls_kg"], given["fraction_to_inner"],
        given["G_balls_W_per_K"],
    )  # fmt: skip
    net_w = power.net_power(given["power_W"], given["efficiency"]).value
    found = power.heated_to(rings, net_w, given["T_start_C"], given["T_inner_stop_C"])
    meets(case, "time", found.time.value)
    meets(case, "ring_difference_at_stop", found.difference.value)
    meets(case, "equalised_temperature", found.equalised.value)
    meets(case, "inner_ring_drop_on_equalising", found.drop.value)
    assert found.difference.value == pytest.approx(case["cross_check"]["analytic_dT"], abs=1e-4)


def test_e20_three_gauss_in_air() -> None:
    case = example("E20")
    meets(case, "H", float(show(read("3", "field", "G").base, "field", "A/cm", 6)))


def test_e21_uncertainty_budget() -> None:
    case = example("E21")
    given = case["inputs"]
    found = budgets.of_diameter(
        given["d_mm"], given["resolution_um"], given["U_cal_k2_um"],
        given["gauge_part_difference_half_width_K"], given["offset_from_20_K"],
        given["delta_alpha_half_width_per_K"], given["repeatability_s_um"],
        given["n"], given["u_operator_um"],
    )  # fmt: skip
    meets(case, "u_c", found.combined.value)
    meets(case, "U_k2", found.expanded.value)


def test_e22_verdict_near_the_limit() -> None:
    case = example("E22")
    given = case["inputs"]
    value, low, high, u = (
        read(repr(given[name]), "length", "um").base for name in ("value_um", "LSL_um", "USL_um", "u_um")
    )
    assert measurement.decide(value, low, high, u, "1.65") == case["expected"]["zone"]["value"]
    meets(case, "guard_band", measurement.guard(u, "1.65") / 1000)
    meets(case, "p_conform", measurement.p_conform(value, low, high, u).value)


def test_e24_tilt_from_gaps() -> None:
    case = example("E24")
    given = case["inputs"]
    readings = [
        gap.GapReading(angle, g * 1000)
        for angle, g in zip(given["angles_deg"], given["gaps_mm"], strict=True)
    ]
    found = gap.plane(readings, given["radius_mm"], given["u_gap_mm"] * 1000)
    meets(case, "mean_gap", found.mean_um / 1000)
    meets(case, "tilt", found.tilt.value)
    meets(case, "tilt_arcmin", math.degrees(found.tilt.value / 1000) * 60)
    meets(case, "direction_of_largest_gap", found.widest_deg)
    meets(case, "u_tilt", found.tilt.u or 0.0)
    meets(case, "max_residual", (found.residual_um or 0.0) / 1000)


def test_e25_grease_to_add() -> None:
    case = example("E25")
    meets(case, "G", grease.relubrication(case["inputs"]["D_mm"], case["inputs"]["B_mm"]).value)
