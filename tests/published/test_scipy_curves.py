"""The parts of a heating curve that general libraries compute too.

Source: scipy's median absolute deviation on the normal scale, median filter and trapezoid, numpy's line.
"""

import numpy as np
import pytest
from scipy.integrate import trapezoid
from scipy.signal import medfilt
from scipy.stats import median_abs_deviation, norm

from qrecords.engineering.curve_cleaning import MAD_TO_SIGMA, clean
from qrecords.engineering.curve_events import Spike
from qrecords.engineering.curve_measures import highest_median, rate, seconds_above
from tests.engineering.heating_logs import OVERSHOOT, course, put

NOISE = np.random.default_rng(7)


def noisy(scale_k: float, n: int = 300) -> list[tuple[float, float]]:
    return [(float(at), round(float(value), 3)) for at, value in enumerate(NOISE.normal(90, scale_k, n))]


def test_the_factor_makes_the_deviation_a_standard_one() -> None:
    assert float(MAD_TO_SIGMA) == pytest.approx(1 / norm.ppf(0.75), abs=5e-5)


def test_spikes_are_those_of_scipys_median_and_deviation_in_windows_of_five() -> None:
    log = noisy(6)
    values = np.array([value for _, value in log])
    wanted = []
    for at in range(2, len(values) - 2):
        window = values[at - 2 : at + 3]
        limit = max(5, 4 * median_abs_deviation(window, scale="normal"))
        if abs(values[at] - np.median(window)) > limit:
            wanted.append(float(at))
    found = [event.at_s for event in clean(log).events if isinstance(event, Spike)]
    assert wanted
    assert [at for at in found if 2 <= at < len(values) - 2] == wanted


def test_the_peak_is_the_highest_of_scipys_median_filter_of_three() -> None:
    run = clean(noisy(0.8)).runs[0]
    filtered = medfilt([float(value) for _, value in run], 3)[1:-1]
    found = highest_median([run])
    assert found is not None
    assert found[0] == max(filtered)


def test_the_rate_is_numpys_line_in_the_steepest_window() -> None:
    log = noisy(0.8)
    lines = [np.polyfit(range(11), [v for _, v in log[n : n + 11]], 1)[0] for n in range(len(log) - 10)]
    shorter = [np.polyfit(range(m), [v for _, v in log[-m:]], 1)[0] for m in (9, 10)]
    found = rate(clean(log))
    assert found is not None
    assert found.value == pytest.approx(max(*lines, *shorter), abs=1e-9)


def test_the_time_above_is_the_integral_of_being_above_on_a_fine_grid() -> None:
    run = clean(put(course(OVERSHOOT), 40, 61.0)).runs[0]
    grid = np.linspace(run[0][0], run[-1][0], 1_650_001)
    above = np.interp(grid, [at for at, _ in run], [value for _, value in run]) > 120_000
    assert seconds_above(run, 120_000) == pytest.approx(trapezoid(above.astype(float), grid), abs=1e-3)
