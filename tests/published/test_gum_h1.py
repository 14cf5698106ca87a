"""JCGM 100:2008 (GUM), example H.1: calibration of an end gauge of 50 mm.

Source: the example's own inputs, its table of contributions (in nm: 25, 9.7, 2.9, 16.6 with 18, 25.6, 50 and
2 degrees of freedom, and the second-order 11.7) and its results u_c = 32 nm, 34 nm with the second order, and
U99 = 93 nm, as public copies of it print them.
"""

import math

import pytest
from scipy.stats import t as student

from qrecords.engineering.budgets import Budget, Component, Distribution, combine, of_diameter
from qrecords.engineering.distributions import t_quantile
from qrecords.engineering.measurement import at_20

L_MM = 50.0
ALPHA = 11.5e-6
# JCGM 100:2008, table G.2, t of 99 % (from memory; compared with the t distribution).
T_99 = {1: 63.66, 2: 9.92, 3: 5.84, 4: 4.60, 5: 4.03, 10: 3.17, 16: 2.92, 18: 2.88, 20: 2.85, 50: 2.68}


def end_gauge(offset_u_k: float = 0.0) -> Budget:
    """u(l_S) 25 nm, u(d) 9.7 nm; δα within 1e-6/K, δθ within 0.05 K, θ = −0.1 K."""
    return of_diameter(
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


def as_the_example_has_it() -> Budget:
    """In nm, each part as the example states it: U 75 nm of k 3, s, half widths in 1/K and K."""
    l_nm = L_MM * 1e6
    return combine(
        (
            Component("end standard", 75, divisor=3, degrees=18, unit="nm"),
            Component("differences", 9.7, degrees=25.6, unit="nm"),
            Component(
                "expansion", 1e-6, Distribution.RECTANGULAR, sensitivity=l_nm * -0.1, degrees=50, unit="1/K"
            ),
            Component(
                "temperature", 0.05, Distribution.RECTANGULAR, sensitivity=l_nm * ALPHA, degrees=2, unit="K"
            ),
        ),
        "nm",
        probability=0.99,
    )


def parts_nm(found: Budget) -> dict[str, float]:
    return {part.name: part.u * 1000 for part in found.components}


def test_the_temperature_contributions_and_the_combined_uncertainty() -> None:
    found = end_gauge()
    assert parts_nm(found)["offset from 20 °C"] == pytest.approx(2.9, abs=0.05)
    assert parts_nm(found)["gauge − part"] == pytest.approx(16.6, abs=0.05)
    assert found.combined.value * 1000 == pytest.approx(32, abs=0.5)


def test_h_1_7_the_spread_of_the_temperature_raises_it_in_second_order() -> None:
    found = end_gauge(offset_u_k=0.41)
    assert parts_nm(found)["offset and expansion, second order"] == pytest.approx(11.7, abs=0.15)
    assert found.combined.value * 1000 == pytest.approx(34, abs=0.5)


def test_table_h_1_the_contributions_in_nm() -> None:
    found = as_the_example_has_it()
    assert [part.u for part in found.components] == pytest.approx([25, 9.7, 2.9, 16.6], abs=0.05)
    assert found.combined.value == pytest.approx(31.7, abs=0.05)


def test_h_1_6_the_expanded_uncertainty_of_99_percent_on_16_degrees_of_freedom() -> None:
    found = as_the_example_has_it()
    assert found.degrees is not None
    assert math.floor(found.degrees.value) == 16
    assert dict(found.expanded.put_in)["ν"] == "16"
    assert float(dict(found.expanded.put_in)["k"]) == pytest.approx(2.92, abs=0.005)
    assert found.expanded.value == pytest.approx(93, abs=0.6)


@pytest.mark.parametrize(("nu", "printed"), T_99.items())
def test_table_g_2_is_the_t_distribution(nu: int, printed: float) -> None:
    assert t_quantile(0.995, nu) == pytest.approx(printed, abs=0.0051)
    assert t_quantile(0.995, nu) == pytest.approx(student.ppf(0.995, nu), rel=1e-9)


def test_the_measurand_of_the_example() -> None:
    # H.1.1: l = [l_S·(1 + α_S·θ_S) + d]/(1 + α·θ); equal α and θ leave l_S + d, to first order.
    d_mm, warm_c = 215e-6, 19.9
    gauge_part = at_20(50.000623 + d_mm, warm_c, warm_c, ALPHA, ALPHA).value
    assert gauge_part == pytest.approx(50.000838, abs=1e-9)
