"""Press fit by scikit-fem: axisymmetric finite elements, ring and shaft joined by a radial step of δ/2.

Source: scikit-fem (BSD), a general finite element library; ring and shaft are quadrilaterals of second order,
the seat slides without friction. With equal widths that is Lamé's case; with a shaft that reaches twice the
ring's width further on either side it is the case that the allowance on hoop stress stands for (1.05 solid,
1.13 hollow). The edge of a long shaft is singular: only the mean and the middle are compared, never the edge.
"""

from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
import pytest
from scipy.sparse import bmat, csr_matrix
from scipy.sparse.linalg import spsolve

from qrecords.engineering.fits import (
    HOOP_ALLOWANCE_HOLLOW,
    HOOP_ALLOWANCE_SOLID,
    press_fit,
    stress_raceway_mm,
)
from qrecords.engineering.materials import POISSON, YOUNG_GPA

ACROSS, ALONG = 6, 10
"""Elements over a wall, and over half the ring's width."""


@dataclass(frozen=True)
class Body:
    """One part: its stiffness, its degrees of freedom on the seat in order of z, and what is held."""

    stiffness: Any
    basis: Any
    seat: Any
    z: Any
    held: Any


@dataclass(frozen=True)
class Found:
    """What the elements say: MPa, and the growth of the outer edge's diameter in µm, in the middle plane."""

    mean_pressure: float
    hoop_bore: float
    growth_um: float


def body(inner_mm: float, outer_mm: float, z_mm: np.ndarray, seat_mm: float) -> Body:
    """A part between two radii, half of its width; `seat_mm` is the radius at which it touches."""
    from skfem import Basis, BilinearForm, ElementQuad2, ElementVector, MeshQuad

    young, nu = YOUNG_GPA * 1000, POISSON
    lame, shear = young * nu / ((1 + nu) * (1 - 2 * nu)), young / (2 * (1 + nu))

    @BilinearForm  # type: ignore[untyped-decorator]
    def stiff(u: Any, v: Any, w: Any) -> Any:
        r = w.x[0]
        (rr, zz, tt, rz), (rr_, zz_, tt_, rz_) = (
            (f.grad[0, 0], f.grad[1, 1], f[0] / r, f.grad[0, 1] + f.grad[1, 0]) for f in (u, v)
        )
        direct = rr * rr_ + zz * zz_ + tt * tt_
        return r * (lame * (rr + zz + tt) * (rr_ + zz_ + tt_) + 2 * shear * direct + shear * rz * rz_)

    mesh = MeshQuad.init_tensor(np.linspace(inner_mm, outer_mm, ACROSS + 1), z_mm)
    basis = Basis(mesh, ElementVector(ElementQuad2()))
    r, z = basis.doflocs
    radial = np.zeros(basis.N, dtype=bool)
    radial[np.concatenate([basis.nodal_dofs[0], basis.facet_dofs[0], basis.interior_dofs[0]])] = True
    seat = np.flatnonzero(radial & np.isclose(r, seat_mm))
    seat = seat[np.argsort(z[seat])]
    held = np.flatnonzero((~radial & np.isclose(z, 0)) | (radial & np.isclose(r, 0)))
    return Body(stiff.assemble(basis), basis, seat, z[seat], held)


@cache
def solved(d: float, raceway: float, delta_um: float, d0: float, width: float, beyond: float) -> Found:
    """The step δ/2 stands between the radial movements of both parts, node on node, over the ring's width."""
    along = np.linspace(0, width / 2, ALONG + 1)
    further = width / 2 + np.linspace(0, beyond, ALONG + 1)[1:] if beyond else np.array([])
    ring = body(d / 2, raceway / 2, along, d / 2)
    shaft = body(d0 / 2, d / 2, np.concatenate([along, further]), d / 2)
    touching = shaft.seat[shaft.z <= width / 2 + 1e-9]
    sizes = ring.basis.N, shaft.basis.N
    count, number = len(ring.seat), np.arange(len(ring.seat))
    step = csr_matrix((np.ones(count), (number, ring.seat)), (count, sizes[0]))
    step_back = csr_matrix((-np.ones(count), (number, touching)), (count, sizes[1]))
    whole = bmat(
        [
            [ring.stiffness, None, step.T],
            [None, shaft.stiffness, step_back.T],
            [step, step_back, None],
        ]
    ).tocsr()
    load = np.concatenate([np.zeros(sum(sizes)), np.full(count, delta_um / 2000)])
    free = np.setdiff1d(np.arange(len(load)), np.concatenate([ring.held, sizes[0] + shaft.held]))
    moved = np.zeros(len(load))
    moved[free] = spsolve(whole[free][:, free], load[free])
    pressure = -moved[sum(sizes) :].sum() / (d / 2 * width / 2)
    middle = _radial_at(ring, moved[: sizes[0]], d / 2), _radial_at(ring, moved[: sizes[0]], raceway / 2)
    hoop = (
        YOUNG_GPA * 1000 * middle[0] / (d / 2) - POISSON * pressure
    )  # σ_z = 0 in the middle of a narrow ring
    return Found(float(pressure), float(hoop), float(2000 * middle[1]))


def _radial_at(part: Body, moved: Any, radius_mm: float) -> float:
    r, z = part.basis.doflocs
    first = part.basis.nodal_dofs[0]
    return float(moved[first[np.isclose(r[first], radius_mm) & np.isclose(z[first], 0)]][0])


@pytest.mark.parametrize(
    ("d", "raceway", "delta_um", "d0"),
    [(60, 72.5, 30, 0), (60, 72.5, 30, 30), (20, 26.75, 12, 0), (200, 240, 45, 120)],
)
def test_lames_press_fit_of_equal_widths(d: float, raceway: float, delta_um: float, d0: float) -> None:
    width = d / 3
    found, fit = solved(d, raceway, delta_um, d0, width, 0.0), press_fit(d, raceway, delta_um, d0)
    assert found.mean_pressure == pytest.approx(fit.pressure.value, rel=2e-4)
    assert found.hoop_bore == pytest.approx(fit.hoop_bore.value, rel=2e-4)
    assert found.growth_um == pytest.approx(fit.raceway_growth.value, rel=2e-4)


@pytest.mark.parametrize(
    ("d", "outside", "width", "delta_um", "d0"),
    [(60, 110, 22, 30, 0), (60, 110, 22, 30, 30), (100, 180, 34, 30, 0), (100, 180, 34, 30, 50)],
)
def test_a_shaft_longer_than_its_ring_presses_harder_but_within_the_allowance(
    d: float, outside: float, width: float, delta_um: float, d0: float
) -> None:
    raceway = stress_raceway_mm(d, outside)
    found, fit = solved(d, raceway, delta_um, d0, width, 2 * width), press_fit(d, raceway, delta_um, d0)
    allowance = HOOP_ALLOWANCE_HOLLOW if d0 else HOOP_ALLOWANCE_SOLID
    assert 1.01 < found.hoop_bore / fit.hoop_bore.value < allowance
    harder = (1.06, 1.10) if d0 else (1.02, 1.03)
    assert harder[0] < found.mean_pressure / fit.pressure.value < harder[1]
    assert fit.hoop_with_allowance.value == pytest.approx(allowance * fit.hoop_bore.value)
