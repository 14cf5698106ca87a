"""NIST/SEMATECH e-Handbook 6.1.6, What is process capability: mean 16, s 2, limits 8 and 20.

Source: the handbook's example, Cp 1.0 and Cpk 0.6667, from memory; and its interval formulas, Cp·√(χ²/ν) and
Cpk ± z·√(1/(9n) + Cpk²/(2(n − 1))), evaluated here with scipy's quantiles.
"""

import math

import pytest
from scipy.stats import chi2, norm

from qrecords.engineering.capability import Limits, Spread, cp, cpk

LIMITS = Limits(8.0, 20.0)


def of(n: int, mean: float = 16.0, sigma: float = 2.0) -> Spread:
    return Spread(mean, sigma, n, n - 1, 1, "um", "all readings")


def test_the_example() -> None:
    assert cp(of(50), LIMITS).value.value == pytest.approx(1.0)
    assert cpk(of(50), LIMITS).value.value == pytest.approx(0.6667, abs=5e-5)


@pytest.mark.parametrize("n", [5, 50, 500])
@pytest.mark.parametrize("confidence", [0.9, 0.95, 0.99])
def test_the_intervals_of_the_handbook(n: int, confidence: float) -> None:
    tail = (1 - confidence) / 2
    found_cp, found_cpk = cp(of(n), LIMITS, confidence), cpk(of(n), LIMITS, confidence)
    assert found_cp.low.value == pytest.approx(math.sqrt(chi2.ppf(tail, n - 1) / (n - 1)), rel=1e-9)
    assert found_cp.high.value == pytest.approx(math.sqrt(chi2.ppf(1 - tail, n - 1) / (n - 1)), rel=1e-9)
    value = found_cpk.value.value
    reach = norm.ppf(1 - tail) * math.sqrt(1 / (9 * n) + value**2 / (2 * (n - 1)))
    assert (found_cpk.low.value, found_cpk.high.value) == pytest.approx(
        (value - reach, value + reach), rel=1e-9
    )


def test_thirty_readings_leave_a_cpk_of_0_625_anywhere_from_0_42_to_0_83() -> None:
    found = cpk(of(30, mean=16.25), LIMITS)
    assert found.value.value == pytest.approx(0.625)
    assert (found.low.value, found.high.value) == pytest.approx((0.42, 0.83), abs=0.006)
