"""Lumped cooling of Incropera, Heat and Mass Transfer, chapter 5: annealed steel balls.

Problem 5.6 (sixth edition), its task as public copies print it: 12 mm balls from 1150 K to 400 K in air of
325 K, h = 20 W/(m²·K), k = 40, ρ = 7800, c = 600. Published answer, from memory: 1122 s (0.312 h).
"""

import math

import pytest

from qrecords.engineering.cooling import Ring, carry_drop, carry_time
from qrecords.engineering.materials import HEAT_CAPACITY_J_KG_K

BALL_M, DENSITY, CAPACITY, FILM, CONDUCTIVITY = 0.012, 7800.0, 600.0, 20.0, 40.0
HOT_K, COOL_K, AIR_K, PUBLISHED_S = 1150.0, 400.0, 325.0, 1122.0


def heap_of_balls() -> Ring:
    """As many of the balls as have a ring's surface, their heat capacity given as a mass of our steel."""
    ring = Ring(60, 110, 22)
    assert ring.film_w_m2k == FILM
    balls = ring.area_m2 / (math.pi * BALL_M**2)
    kilograms = balls * DENSITY * math.pi / 6 * BALL_M**3
    return Ring(60, 110, 22, kilograms * CAPACITY / HEAT_CAPACITY_J_KG_K)


def test_the_time_of_the_problem() -> None:
    found = carry_time(heap_of_balls(), HOT_K, COOL_K, AIR_K)
    assert found.value == pytest.approx(PUBLISHED_S, abs=0.5)


def test_what_they_lose_in_that_time() -> None:
    found = carry_drop(heap_of_balls(), HOT_K, AIR_K, PUBLISHED_S)
    assert found.value == pytest.approx(HOT_K - COOL_K, abs=0.1)


@pytest.mark.parametrize("sizes", [(20, 47, 14), (60, 110, 22), (100, 180, 34), (200, 360, 58)])
def test_a_bearing_is_as_lumped_as_the_chapter_asks_for(sizes: tuple[float, float, float]) -> None:
    # Bi = h·(V/A)/k below 0.1, V the whole envelope, which is more than the steel.
    ring = Ring(*sizes)
    volume = math.pi / 4 * (ring.outside_mm**2 - ring.bore_mm**2) * ring.width_mm * 1e-9
    assert ring.film_w_m2k * volume / ring.area_m2 / 45 < 0.1 / 10
    assert FILM * BALL_M / 6 / CONDUCTIVITY < 0.1
