"""JCGM 100:2008 (GUM), example H.1: calibration of an end gauge of 50 mm.

Source: the example's own table of contributions (in nm: 25, 9.7, 2.9, 16.6 and the second-order 11.7) and
its results u_c = 32 nm and U99 = 93 nm, as public copies of it print them. The temperature
contributions are recomputed here from its stated inputs.
"""

import math

import pytest

from qrecords.engineering.measurement import at_20, budget

L_MM = 50.0
ALPHA = 11.5e-6


def test_combined_uncertainty_of_the_example() -> None:
    # u(l_S) 25, u(d) 9.7 as repeatability; l·θ·u(δα) and l·α·u(δθ) from half-widths 1e-6/K and 0.05 K,
    # θ = −0.1 K.
    first_order = budget(
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
    )
    parts = {name: float(text.split()[0]) * 1000 for name, text in first_order.put_in}
    assert parts["offset from 20 °C"] == pytest.approx(-2.9, abs=0.05)
    assert parts["gauge − part"] == pytest.approx(16.6, abs=0.05)
    assert first_order.value * 1000 == pytest.approx(32, abs=0.5)
    # H.1.6: U99 = 2.92·u_c with 16 degrees of freedom.
    assert 2.92 * first_order.value * 1000 == pytest.approx(93, abs=0.6)
    # H.1.7: the second-order term of the average temperature's spread (0.41 K) raises it to 34.
    second_order_nm = L_MM * 1e6 * (1e-6 / math.sqrt(3)) * 0.41
    assert math.hypot(first_order.value * 1000, second_order_nm) == pytest.approx(34, abs=0.5)


def test_the_measurand_of_the_example() -> None:
    # H.1.1: l = [l_S·(1 + α_S·θ_S) + d]/(1 + α·θ); equal α and θ leave l_S + d, to first order.
    d_mm, warm_c = 215e-6, 19.9
    gauge_part = at_20(50.000623 + d_mm, warm_c, warm_c, ALPHA, ALPHA).value
    assert gauge_part == pytest.approx(50.000838, abs=1e-9)
