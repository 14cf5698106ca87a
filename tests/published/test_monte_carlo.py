"""Probable fits, what is left of the clearance, and the heat a fit needs, by drawing them: 200 000 bearings.

Another route than the root sum of squares: each part is drawn by itself (JCGM 101). Seeded, so that it finds
the same every time; tolerances are four standard errors of what is drawn.
"""

import random
from dataclasses import replace

import pytest

from qrecords.engineering.bearings import bore_limits
from qrecords.engineering.clearance import Spread, forecast, loss_factor
from qrecords.engineering.fits import from_classes, share_outside
from qrecords.engineering.growth import required_temperature
from qrecords.engineering.limits import limits_of_size

DRAWS = 200_000
FACTOR = loss_factor(60, 110)


def drawn(rng: random.Random, low: float, high: float) -> list[float]:
    """Normal, centred, tolerance = 6σ: the assumption that every probable band declares."""
    middle, sigma = (low + high) / 2, (high - low) / 6
    return [rng.gauss(middle, sigma) for _ in range(DRAWS)]


def band(values: list[float]) -> tuple[float, float]:
    """The ends that leave out 0.135 % on either side."""
    ordered, out = sorted(values), round(0.00135 * DRAWS)
    return ordered[out], ordered[-out - 1]


@pytest.fixture(scope="module")
def interferences() -> list[float]:
    rng = random.Random(60)
    journals, bores = drawn(rng, 11, 30), drawn(rng, -15, 0)
    return [journal - bore for journal, bore in zip(journals, bores, strict=True)]


def test_the_probable_interference_of_60_m6(interferences: list[float]) -> None:
    fit = from_classes(limits_of_size(60, "m6"), bore_limits(60, "Normal"))
    low, high = band(interferences)
    assert fit.probable_low.value == pytest.approx(low, abs=0.3)
    assert fit.probable_high.value == pytest.approx(high, abs=0.3)
    beyond = sum(not fit.minimum.value <= delta <= fit.maximum.value for delta in interferences)
    assert beyond < DRAWS / 10_000  # the extremes of both classes at once: hardly ever


@pytest.mark.parametrize(("low_um", "high_um"), [(20, 36), (24, 30), (11, 28)])
def test_the_share_of_fits_outside_of_two_limits(
    interferences: list[float], low_um: float, high_um: float
) -> None:
    fit = from_classes(limits_of_size(60, "m6"), bore_limits(60, "Normal"))
    sure = replace(fit.mean, u=(fit.probable_high.value - fit.probable_low.value) / 6)
    below, above = (part.value for part in share_outside(sure, low_um, high_um))
    assert below == pytest.approx(sum(delta < low_um for delta in interferences) / DRAWS, abs=0.005)
    assert above == pytest.approx(sum(delta > high_um for delta in interferences) / DRAWS, abs=0.005)


def test_uniform_parts_fill_more_of_the_tolerance_than_the_probable_band_says() -> None:
    rng = random.Random(61)
    uniform = [rng.uniform(11, 30) - rng.uniform(-15, 0) for _ in range(DRAWS)]
    fit = from_classes(limits_of_size(60, "m6"), bore_limits(60, "Normal"))
    low, high = band(uniform)
    assert low < fit.probable_low.value - 2 and high > fit.probable_high.value + 2
    assert any("normal" in assumption for assumption in fit.probable_low.assumptions)


@pytest.mark.parametrize(("low_um", "high_um"), [(23, 43), (8, 28)])
def test_what_is_left_of_the_clearance(interferences: list[float], low_um: float, high_um: float) -> None:
    clearances = drawn(random.Random(62), low_um, high_um)
    kept = 60 / 62
    left = [g - FACTOR.value * kept * d for g, d in zip(clearances, interferences, strict=True)]
    found = forecast(Spread.of_limits(low_um, high_um), Spread.of_class_fit((11, 30), (-15, 0)), 60, FACTOR)
    low, high = band(left)
    assert found.mean.value == pytest.approx(sum(left) / DRAWS, abs=0.05)
    assert found.probable_low_um == pytest.approx(low, abs=0.35)
    assert found.probable_high_um == pytest.approx(high, abs=0.35)
    assert found.p_below == pytest.approx(sum(g < 0 for g in left) / DRAWS, abs=0.003)


def test_the_uncertainty_of_the_required_temperature() -> None:
    rng = random.Random(63)
    needed = [20 + (rng.gauss(30, 2) + 20) / (rng.uniform(11.4e-6, 12.6e-6) * 60_000) for _ in range(DRAWS)]
    mean = sum(needed) / DRAWS
    spread = (sum((t - mean) ** 2 for t in needed) / (DRAWS - 1)) ** 0.5
    found = required_temperature(60, 30, 20, 20, interference_u_um=2, shaft_alpha_per_k=12e-6)
    assert found.value == pytest.approx(mean, abs=0.15)  # the mean of 1/α lies above 1/α
    assert found.u == pytest.approx(spread, rel=0.01)
