"""A jacketed tube of Bhandari, Design of Machine Elements, example 22.7: 20, 40 and 60 mm, E 207 000 N/mm².

The task, as a public copy of the example's data gives it: shrink the jacket on so that no principal stress in
either tube exceeds 100 N/mm². Published results, from memory: 37.5 N/mm² between them and 0.03 mm of
interference; the latter is worked out here by hand to the digits needed.
"""

import pytest

from qrecords.engineering.fits import PressFit, press_fit

STEEL = (207.0, 0.3)
MOST_MPA, PUBLISHED_MPA, PUBLISHED_MM = 100.0, 37.5, 0.03
# δ = p·d/E·[(60² + 40²)/(60² − 40²) + (40² + 20²)/(40² − 20²)] = 37.5·40/207 000·(2.6 + 1.6667)
BY_HAND_UM = 30.918


@pytest.fixture(scope="module")
def jacketed() -> PressFit:
    return press_fit(40, 60, BY_HAND_UM, 20, ring=STEEL, shaft=STEEL)


def test_the_pressure_of_the_published_interference(jacketed: PressFit) -> None:
    assert jacketed.pressure.value == pytest.approx(PUBLISHED_MPA, abs=0.01)
    rounded = press_fit(40, 60, PUBLISHED_MM * 1000, 20, ring=STEEL, shaft=STEEL)
    assert rounded.pressure.value == pytest.approx(PUBLISHED_MPA, rel=0.035)  # 0.03 stands for 0.0309


def test_the_jacket_stays_under_the_limit_and_the_tube_inside_it_just_reaches_it(jacketed: PressFit) -> None:
    in_the_tube = 2 * jacketed.pressure.value * 40**2 / (40**2 - 20**2)
    assert in_the_tube == pytest.approx(MOST_MPA, abs=0.02)
    assert jacketed.hoop_bore.value == pytest.approx(97.5, abs=0.02)  # 2.6·37.5
