"""Press fit and speed by another route: radial finite elements, plane stress.

One-dimensional linear elements along the radius with two Gauss points each, written out below in NumPy. Equal
widths, as Lamé has them; a shaft longer than its ring stands in `test_scikit_fem_press_fit.py`, a groove in
neither.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import pytest

from qrecords.engineering.clearance import loss_factor
from qrecords.engineering.fits import press_fit
from qrecords.engineering.service import loss_by_speed

STEEL, ALUMINIUM, IRON = (208.0, 0.30), (70.0, 0.33), (110.0, 0.26)
DENSITY, CELLS = 7810.0, 120
GAUSS = (0.5 - 0.5 / 3**0.5, 0.5 + 0.5 / 3**0.5)


def assembled(radii: np.ndarray, steel: tuple[float, float], omega: float) -> tuple[np.ndarray, np.ndarray]:
    """Stiffness and centrifugal load of a disc per mm of width and radian, in N and mm."""
    young, poisson = steel[0] * 1000, steel[1]
    elastic = young / (1 - poisson**2) * np.array([[1, poisson], [poisson, 1]])
    stiffness, load = np.zeros((len(radii), len(radii))), np.zeros(len(radii))
    for i, (inner, outer) in enumerate(pairwise(radii)):
        length = outer - inner
        for share in GAUSS:
            r, shapes = inner + share * length, np.array([1 - share, share])
            strains = np.array([[-1 / length, 1 / length], shapes / r])
            stiffness[i : i + 2, i : i + 2] += strains.T @ elastic @ strains * r * length / 2
            load[i : i + 2] += shapes * DENSITY * 1e-12 * omega**2 * r * r * length / 2
    return stiffness, load


@dataclass(frozen=True)
class Solved:
    pressure: float
    hoop_bore: float
    hoop_raceway: float
    raceway_growth_um: float


def solved(
    d: float, raceway: float, delta_um: float, d0: float = 0.0,
    ring: tuple[float, float] = STEEL, shaft: tuple[float, float] = STEEL, omega: float = 0.0,
) -> Solved:  # fmt: skip
    """Shaft and ring share the seat; the ring's own node there stands δ/2 further out."""
    inside, outside = np.linspace(d0 / 2, d / 2, CELLS + 1), np.linspace(d / 2, raceway / 2, CELLS + 1)
    of_shaft, load_shaft = assembled(inside, shaft, omega)
    of_ring, load_ring = assembled(outside, ring, omega)
    jump = delta_um / 2000
    whole, load = np.zeros((2 * CELLS + 1,) * 2), np.zeros(2 * CELLS + 1)
    whole[: CELLS + 1, : CELLS + 1] += of_shaft
    whole[CELLS:, CELLS:] += of_ring
    load[: CELLS + 1] += load_shaft
    load[CELLS:] += load_ring - of_ring[:, 0] * jump
    kept = slice(0 if d0 else 1, None)  # the middle of a solid shaft stays where it is
    moved = np.zeros(len(load))
    moved[kept] = np.linalg.solve(whole[kept, kept], load[kept])
    pressure = -(of_shaft[-1] @ moved[: CELLS + 1] - load_shaft[-1]) / (d / 2)
    bore, edge = moved[CELLS] + jump, moved[-1]
    young, poisson = ring[0] * 1000, ring[1]
    return Solved(
        pressure=float(pressure),
        hoop_bore=float(young * bore / (d / 2) - poisson * pressure),
        hoop_raceway=float(young * edge / (raceway / 2)),
        raceway_growth_um=float(2000 * edge),
    )


@pytest.mark.parametrize(
    ("d", "raceway", "delta_um", "d0"),
    [(60, 72.5, 30, 0), (60, 72.5, 30, 30), (20, 26.75, 12, 0), (200, 240, 45, 120), (100, 110, 30, 70)],
)
@pytest.mark.parametrize(("ring", "shaft"), [(STEEL, STEEL), (STEEL, ALUMINIUM), (STEEL, IRON)])
def test_lames_press_fit(
    d: float, raceway: float, delta_um: float, d0: float,
    ring: tuple[float, float], shaft: tuple[float, float],
) -> None:  # fmt: skip
    wanted = solved(d, raceway, delta_um, d0, ring, shaft)
    found = press_fit(d, raceway, delta_um, d0, ring=ring, shaft=shaft)
    assert found.pressure.value == pytest.approx(wanted.pressure, rel=1e-3)
    assert found.hoop_bore.value == pytest.approx(wanted.hoop_bore, rel=1e-3)
    assert found.hoop_raceway.value == pytest.approx(wanted.hoop_raceway, rel=1e-3)
    assert found.raceway_growth.value == pytest.approx(wanted.raceway_growth_um, rel=1e-3)


@pytest.mark.parametrize("d0", [0, 30, 42])
def test_what_the_raceway_grows_of_the_interference_is_the_loss_factor(d0: float) -> None:
    wanted = solved(60, 70, 30, d0).raceway_growth_um / 30
    assert loss_factor(60, 110, d0).value == pytest.approx(wanted, rel=1e-3)


@pytest.mark.parametrize(("d", "raceway", "d0"), [(60, 72.5, 0), (60, 72.5, 30), (200, 240, 120)])
def test_speed_loosens_as_told(d: float, raceway: float, d0: float) -> None:
    turns_per_min = 6000
    still = solved(d, raceway, 30, d0).pressure
    turning = solved(d, raceway, 30, d0, omega=turns_per_min * 2 * np.pi / 60).pressure
    lost_um = 30 * (1 - turning / still)
    assert loss_by_speed(d, raceway, turns_per_min, d0).value == pytest.approx(lost_um, rel=2e-3)
