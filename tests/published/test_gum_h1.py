"""JCGM 100:2008 (GUM), example H.1: calibration of an end gauge of 50 mm.

Source: the example's own inputs, its table of contributions (in nm: 25, 9.7, 2.9, 16.6 with 18, 25.6, 50 and
2 degrees of freedom, and the second-order 11.7) and its results u_c = 32 nm, 34 nm with the second order, and
U99 = 93 nm, as public copies of it print them.
"""

import pytest
from scipy.stats import t as student

from qrecords.engineering.coverage import T_99, expanded_99
from qrecords.engineering.measurement import at_20, budget
from qrecords.engineering.result import Result

L_MM = 50.0
ALPHA = 11.5e-6
DEGREES = {"calibration": 18, "repeatability": 25.6, "offset from 20 °C": 50, "gauge − part": 2}


def end_gauge(offset_u_k: float = 0.0) -> Result:
    """u(l_S) 25 nm, u(d) 9.7 nm; δα within 1e-6/K, δθ within 0.05 K, θ = −0.1 K."""
    return budget(
        diameter_mm=L_MM,
        resolution_um=0.0,
        expanded_um=0.050,
        difference_half_width_k=0.05,
        offset_from_20_k=-0.1,
        delta_alpha_half_width_per_k=1e-6,
        repeatability_um=0.0097,
        repeats=1,
        operator_um=0.0,
        alpha_per_k=ALPHA,
        offset_u_k=offset_u_k,
    )


def parts_nm(found: Result) -> dict[str, float]:
    return {name: float(text.split()[0]) * 1000 for name, text in found.put_in}


def test_the_temperature_contributions_and_the_combined_uncertainty() -> None:
    found = end_gauge()
    assert parts_nm(found)["offset from 20 °C"] == pytest.approx(-2.9, abs=0.05)
    assert parts_nm(found)["gauge − part"] == pytest.approx(16.6, abs=0.05)
    assert found.value * 1000 == pytest.approx(32, abs=0.5)


def test_h_1_7_the_spread_of_the_temperature_raises_it_in_second_order() -> None:
    found = end_gauge(offset_u_k=0.41)
    assert parts_nm(found)["offset and expansion, second order"] == pytest.approx(11.7, abs=0.15)
    assert found.value * 1000 == pytest.approx(34, abs=0.5)


def test_h_1_6_the_expanded_uncertainty_of_99_percent_on_16_degrees_of_freedom() -> None:
    found = parts_nm(end_gauge())
    whole = expanded_99([(found[name] / 1000, degrees) for name, degrees in DEGREES.items()])
    assert dict(whole.put_in)["ν"] == "16"
    assert dict(whole.put_in)["t99"] == "2.92"
    assert whole.value * 1000 == pytest.approx(93, abs=0.6)


def test_table_g_2_is_the_t_distribution() -> None:
    assert {nu: round(student.ppf(0.995, nu), 3 if nu == 100 else 2) for nu in T_99} == T_99


def test_the_measurand_of_the_example() -> None:
    # H.1.1: l = [l_S·(1 + α_S·θ_S) + d]/(1 + α·θ); equal α and θ leave l_S + d, to first order.
    d_mm, warm_c = 215e-6, 19.9
    gauge_part = at_20(50.000623 + d_mm, warm_c, warm_c, ALPHA, ALPHA).value
    assert gauge_part == pytest.approx(50.000838, abs=1e-9)
