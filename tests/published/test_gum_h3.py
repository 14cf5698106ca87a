"""JCGM 100:2008 (GUM), example H.3: calibration of a thermometer by a least squares line.

Source: the eleven readings t and corrections b of table H.6, as two public copies print them, and the slope
y2 = 0.002 18 of H.3.3 (the slope from memory; numpy's line gives the same).
"""

import numpy as np
import pytest

from qrecords.engineering.curve_measures import slope

READINGS_C = (21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511)
CORRECTIONS_MK = (-171, -169, -166, -159, -164, -165, -156, -157, -159, -161, -160)


def test_h_3_3_the_slope_of_the_calibration_line() -> None:
    points = tuple(zip(READINGS_C, CORRECTIONS_MK, strict=True))
    assert slope(points) == pytest.approx(0.00218, abs=0.5e-5)


def test_numpy_fits_the_same_line() -> None:
    points = tuple(zip(READINGS_C, CORRECTIONS_MK, strict=True))
    fitted = np.polyfit(READINGS_C, np.array(CORRECTIONS_MK) / 1000, 1)[0]
    assert slope(points) == pytest.approx(fitted, rel=1e-9)
