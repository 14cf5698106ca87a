"""A built-up cylinder of Timoshenko, Strength of Materials II: radii 4, 6 and 8 inches, 0.005 inch shrunk.

Published: 4050 lb/in² between the cylinders, with E = 30·10⁶ lb/in². The example is recalled from memory: no
readable copy of its page was found. The stresses beside it are worked by hand from that pressure.
"""

import pytest

from qrecords.engineering.clearance import loss_factor
from qrecords.engineering.fits import PressFit, press_fit

INCH_MM, PSI_MPA = 25.4, 6894.757293168e-6
STEEL = (30e6 * PSI_MPA / 1000, 0.3)  # ν falls out where both cylinders are of one steel
PUBLISHED_PSI = 4050.0


@pytest.fixture(scope="module")
def built_up() -> PressFit:
    diametral_um = 2 * 0.005 * INCH_MM * 1000
    return press_fit(12 * INCH_MM, 16 * INCH_MM, diametral_um, 8 * INCH_MM, ring=STEEL, shaft=STEEL)


def test_the_pressure_between_the_cylinders(built_up: PressFit) -> None:
    assert built_up.pressure.value / PSI_MPA == pytest.approx(PUBLISHED_PSI, abs=5)


def test_the_hoop_stress_at_the_inside_and_the_outside_of_the_outer_cylinder(built_up: PressFit) -> None:
    # p·(6² + 8²)/(8² − 6²) and 2·p·6²/(8² − 6²)
    assert built_up.hoop_bore.value / PSI_MPA == pytest.approx(PUBLISHED_PSI * 100 / 28, rel=1e-3)
    assert built_up.hoop_raceway.value / PSI_MPA == pytest.approx(PUBLISHED_PSI * 72 / 28, rel=1e-3)


def test_what_the_outside_grows_is_the_loss_factor_of_these_radii(built_up: PressFit) -> None:
    # The outside's growth is σ·D/E: 10 414 lb/in² on 16 in.
    by_hand_in = PUBLISHED_PSI * 72 / 28 * 16 / 30e6
    assert built_up.raceway_growth.value / 1000 / INCH_MM == pytest.approx(by_hand_in, rel=1e-3)
    factor = loss_factor(12, 20, 8, raceway_mm=16).value
    assert built_up.raceway_growth.value == pytest.approx(factor * 254, rel=1e-9)


def test_poissons_ratio_plays_no_part_in_one_steel(built_up: PressFit) -> None:
    rubbery = (STEEL[0], 0.45)
    other = press_fit(304.8, 406.4, 254, 203.2, ring=rubbery, shaft=rubbery)
    assert other.pressure.value == pytest.approx(built_up.pressure.value, rel=1e-12)
