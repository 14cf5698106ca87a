"""Lumped response of Çengel, Heat and Mass Transfer, example 4-1: the bead of a thermocouple.

1 mm, ρ 8500, c 320, h 210 W/(m²·K): the task as a public companion to the book gives it, which rounds the
time to 99 % of a step to whole seconds. Printed, from memory: 0.462 1/s, with V/A rounded to 0.167 mm,
and 10 s.
"""

import math

import pytest

from qrecords.engineering.cooling import Ring, carry_drop, carry_time, time_constant
from qrecords.engineering.materials import HEAT_CAPACITY_J_KG_K

BEAD_M, DENSITY, CAPACITY, FILM = 0.001, 8500.0, 320.0, 210.0
PUBLISHED_PER_S, PUBLISHED_S = 0.462, 10


@pytest.fixture(scope="module")
def beads() -> Ring:
    """Beads enough to lose h·A of a ring, their heat capacity given as a mass of our steel."""
    ring = Ring(60, 110, 22)
    count = ring.film_w_m2k * ring.area_m2 / (FILM * math.pi * BEAD_M**2)
    kilograms = count * DENSITY * math.pi / 6 * BEAD_M**3
    return Ring(60, 110, 22, kilograms * CAPACITY / HEAT_CAPACITY_J_KG_K)


def test_the_time_constant(beads: Ring) -> None:
    assert 1 / time_constant(beads).value == pytest.approx(PUBLISHED_PER_S, rel=0.003)  # 0.167 for 1/6 mm


def test_the_time_to_99_percent_of_a_step(beads: Ring) -> None:
    assert round(carry_time(beads, 120, 21, 20).value) == PUBLISHED_S
    assert carry_drop(beads, 120, 20, PUBLISHED_S).value == pytest.approx(99, abs=0.1)
