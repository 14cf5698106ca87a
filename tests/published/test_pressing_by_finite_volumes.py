"""The pressing time by another route: heat conduction in shaft and ring, radial finite volumes, SciPy.

Ring and solid shaft are cells of steel, between them the air gap, which closes as their mean temperatures
meet (k_air/(c/2 + g0), after Yovanovich). Nothing flows along the shaft and no ball warms the ring. Compared
with the times of another person's one-dimensional volumes.
"""

from functools import lru_cache

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from qrecords.engineering.cooling import pressing_time

CONDUCTIVITY, HEAT, ALPHA, AIR, ROUGHNESS_M = 45.0, 7810 * 470.0, 12.0e-6, 0.028, 3e-6
RING_C, SHAFT_C = 110.0, 20.0
# d mm, δ µm, seconds to the first grip
CASES = [(20, 12, 1.2), (50, 18, 8.0), (60, 30, 7.1), (100, 30, 34), (200, 45, 162)]
RACEWAY = {20: 26.75, 50: 60.0, 60: 72.5, 100: 120.0, 200: 240.0}  # d + 0.25·(D − d)


class Body:
    """Concentric cells between two radii, in m."""

    def __init__(self, inside: float, outside: float, cells: int) -> None:
        self.faces = np.linspace(inside, outside, cells + 1)
        self.middles = (self.faces[1:] + self.faces[:-1]) / 2
        self.areas = np.pi * np.diff(self.faces**2)
        self.links = 2 * np.pi * CONDUCTIVITY * self.faces[1:-1] / np.diff(self.middles)

    def mean(self, at: np.ndarray) -> float:
        return float(self.areas @ at / self.areas.sum())

    def gains(self, at: np.ndarray) -> np.ndarray:
        outward = self.links * -np.diff(at)
        return np.concatenate(([0.0], outward)) - np.concatenate((outward, [0.0]))


@lru_cache
def shrunk_s(bore_mm: float, delta_um: float, gripped_share: float, cells: int = 60) -> float:
    """Seconds until the ring has shrunk so far that this share of the interference is there."""
    radius = bore_mm / 2000
    shaft, ring = Body(0, radius, cells), Body(radius, RACEWAY[int(bore_mm)] / 2000, cells // 2)
    half_shaft = (radius - shaft.middles[-1]) / CONDUCTIVITY
    half_ring = (ring.middles[0] - radius) / CONDUCTIVITY

    def free_um(at: np.ndarray) -> float:
        """How much larger than the shaft the bore would be if nothing were in its way, δ at 20 °C."""
        return ALPHA * bore_mm * 1000 * (ring.mean(at[cells:]) - shaft.mean(at[:cells])) - delta_um

    def rates(_t: float, at: np.ndarray) -> np.ndarray:
        gap = max(0.0, free_um(at)) / 2 * 1e-6 + ROUGHNESS_M
        crossing = 2 * np.pi * radius * (at[cells] - at[cells - 1]) / (gap / AIR + half_shaft + half_ring)
        into_shaft, into_ring = shaft.gains(at[:cells]), ring.gains(at[cells:])
        into_shaft[-1] += crossing
        into_ring[0] -= crossing
        return np.concatenate((into_shaft / shaft.areas, into_ring / ring.areas)) / HEAT

    def there(_t: float, at: np.ndarray) -> float:
        return free_um(at) + gripped_share * delta_um

    there.terminal = True  # type: ignore[attr-defined]
    begin = np.concatenate((np.full(cells, SHAFT_C), np.full(cells // 2, RING_C)))
    run = solve_ivp(rates, (0, 1e5), begin, method="LSODA", events=there, rtol=1e-6, atol=1e-6)
    return float(run.t_events[0][0])


@pytest.mark.parametrize(("bore", "delta", "other_s"), CASES)
def test_the_first_grip_is_where_other_volumes_find_it(bore: float, delta: float, other_s: float) -> None:
    assert shrunk_s(bore, delta, 0.0) == pytest.approx(other_s, rel=0.15)


@pytest.mark.parametrize(("bore", "delta", "other_s"), CASES)
def test_the_told_times_are_on_the_safe_side(bore: float, delta: float, other_s: float) -> None:
    told = pressing_time(bore, RACEWAY[int(bore)], delta, RING_C, SHAFT_C)
    grip, half = shrunk_s(bore, delta, 0.0), shrunk_s(bore, delta, 0.5)
    assert other_s < told.grip.value and grip < told.grip.value < 4 * grip
    assert grip < half < told.hold.value


def test_finer_cells_change_nothing_that_matters() -> None:
    assert shrunk_s(60, 30, 0.0, cells=90) == pytest.approx(shrunk_s(60, 30, 0.0), rel=0.02)
