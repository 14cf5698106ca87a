"""Cooling in air by another route: correlations of the textbooks, integrated by SciPy.

Free convection from a horizontal cylinder after Churchill and Chu, cross flow after Churchill and Bernstein,
both joined as a cubic mean, and radiation with ε 0.5 (Incropera, ch. 7, 9 and 12); properties of air after
Sutherland. The correlations hold to 15 or 20 %. Compared with the integrated values of the worked examples
and with the design values the carry time goes by.
"""

import math

import pytest
from scipy.integrate import solve_ivp

from qrecords.engineering.cooling import Ring, carry_time
from tests.published import example

STEFAN_BOLTZMANN, EMISSIVITY, GRAVITY, PRANDTL, KELVIN = 5.670374419e-8, 0.5, 9.81, 0.70, 273.15
CP = 470.0
BEARINGS = [(20, 47, 14, 0.101), (50, 90, 20, 0.46), (100, 180, 34, 3.1), (200, 360, 58, 22.0)]


def film_w_m2k(outside_mm: float, ring_c: float, air_c: float, air_m_s: float) -> float:
    """Heat transfer by convection and radiation at the outside of a ring."""
    size, ring_k, air_k = outside_mm / 1000, ring_c + KELVIN, air_c + KELVIN
    film_k = (ring_k + air_k) / 2
    viscosity = 1.458e-6 * film_k**1.5 / (film_k + 110.4)
    kinematic = viscosity * 287.05 * film_k / 101_325
    conductivity = 2.495e-3 * film_k**1.5 / (film_k + 194)
    rayleigh = GRAVITY * (ring_k - air_k) / film_k * size**3 / kinematic**2 * PRANDTL
    free = (0.60 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / PRANDTL) ** (9 / 16)) ** (8 / 27)) ** 2
    reynolds = air_m_s * size / kinematic
    forced = (
        0.3
        + 0.62
        * reynolds**0.5
        * PRANDTL ** (1 / 3)
        / (1 + (0.4 / PRANDTL) ** (2 / 3)) ** 0.25
        * (1 + (reynolds / 282_000) ** 0.625) ** 0.8
    )
    nusselt = (free**3 + (forced**3 if air_m_s else 0)) ** (1 / 3)
    radiated = EMISSIVITY * STEFAN_BOLTZMANN * (ring_k**4 - air_k**4) / (ring_k - air_k)
    return nusselt * conductivity / size + radiated


def integrated_s(ring: Ring, start_c: float, least_c: float, air_c: float, air_m_s: float) -> float:
    assert ring.mass_kg is not None
    heat = ring.mass_kg * CP

    def fall(_t: float, at: list[float]) -> list[float]:
        film = film_w_m2k(ring.outside_mm, at[0], air_c, air_m_s)
        return [-film * ring.area_m2 * (at[0] - air_c) / heat]

    def there(_t: float, at: list[float]) -> float:
        return at[0] - least_c

    there.terminal = True  # type: ignore[attr-defined]
    run = solve_ivp(fall, (0, 1e5), [start_c], events=there, rtol=1e-8, atol=1e-8)
    return float(run.t_events[0][0])


@pytest.mark.parametrize("identity", ["E13", "E14"])
def test_the_integrated_times_of_the_worked_examples_are_found_again(identity: str) -> None:
    case = example(identity)
    given, wanted = case["inputs"], case["expected"]
    ring = Ring(given["d_mm"], given["D_mm"], given["B_mm"], given["mass_kg"])
    for name, air_m_s in (("ode_still_air", 0.0), ("ode_1_m_per_s", 1.0)):
        found = integrated_s(ring, given["T_start_C"], given["T_min_C"], given["T_ambient_C"], air_m_s)
        assert found == pytest.approx(wanted[name]["value"], rel=wanted[name]["tol_rel"])
        assert carry_time(ring, given["T_start_C"], given["T_min_C"], given["T_ambient_C"]).value < found


@pytest.mark.parametrize("least_c", [105, 100, 90])
@pytest.mark.parametrize("bearing", BEARINGS, ids=lambda b: f"{b[0]}x{b[1]}x{b[2]}")
def test_the_carry_time_is_on_the_safe_side_up_to_walking_pace(
    bearing: tuple[float, float, float, float], least_c: float
) -> None:
    ring = Ring(*bearing)
    told = carry_time(ring, 110, least_c, 20).value
    walking = integrated_s(ring, 110, least_c, 20, 1.0)
    still = integrated_s(ring, 110, least_c, 20, 0.0)
    assert told < walking < still
    assert told > 0.25 * still  # careful, not useless


def test_a_fan_is_faster_than_the_model_and_rightly_refused() -> None:
    ring = Ring(*BEARINGS[0])
    assert integrated_s(ring, 110, 90, 20, 4.0) < carry_time(ring, 110, 90, 20).value


@pytest.mark.parametrize(
    ("bearing", "still", "walking"), [(BEARINGS[0], 11.8, 20.4), (BEARINGS[2], 10.6, 13.7)]
)
def test_the_heat_transfer_at_110_degrees(
    bearing: tuple[float, float, float, float], still: float, walking: float
) -> None:
    # The values beside are another person's, by the same correlations.
    assert film_w_m2k(bearing[1], 110, 20, 0.0) == pytest.approx(still, rel=0.05)
    assert film_w_m2k(bearing[1], 110, 20, 1.0) == pytest.approx(walking, rel=0.05)
    assert math.isclose(
        film_w_m2k(bearing[1], 110, 20, 1e-9), film_w_m2k(bearing[1], 110, 20, 0.0), rel_tol=1e-3
    )
