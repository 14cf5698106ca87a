"""D. C. Montgomery, Introduction to Statistical Quality Control: flow width, 25 wafers of five readings (µm).

Source: readings of table 6.1 from memory; they give the printed x̿ 1.5056 and R̄ 0.32521. Printed results:
means 1.69325 and 1.31795, ranges up to 0.68749, all inside; limits 1.00 and 2.00 make Cp 1.192.
"""

import numpy as np
import pytest
from scipy.stats import chi2, norm

from qrecords.engineering.capability import Limits, capability
from qrecords.engineering.charts import xbar_r
from tests.published import lines

WAFERS = [
    [float(line[f"x{number}"]) for number in range(1, 6)] for line in lines("montgomery_flow_width.csv")
]
ALLOWED = Limits(1.0, 2.0)


def test_the_centre_and_the_limits_of_both_charts() -> None:
    chart = xbar_r(WAFERS)
    assert chart.mean.value == pytest.approx(1.5056, abs=5e-5)
    assert chart.mean_range.value == pytest.approx(0.32521, abs=5e-6)
    # The book computes with A2 = 0.577 and D4 = 2.114, rounded.
    assert chart.mean_upper.value == pytest.approx(1.69325, abs=1e-4)
    assert chart.mean_lower.value == pytest.approx(1.31795, abs=1e-4)
    assert chart.range_upper.value == pytest.approx(0.68749, abs=2e-4)
    assert chart.range_lower.value == 0


def test_every_point_is_inside_and_25_subgroups_are_enough() -> None:
    chart = xbar_r(WAFERS)
    assert (chart.means_out, chart.ranges_out, chart.provisional) == ((), (), False)


def test_cp_with_its_interval() -> None:
    found = capability(WAFERS, ALLOWED).cp
    assert found is not None
    assert found.value.value == pytest.approx(1.192, abs=5e-4)
    nu = 25 * 2.325929**2 / (2 * 0.864082**2)
    assert found.low.value == pytest.approx(found.value.value * (chi2.ppf(0.025, nu) / nu) ** 0.5, rel=1e-5)
    assert found.high.value == pytest.approx(found.value.value * (chi2.ppf(0.975, nu) / nu) ** 0.5, rel=1e-5)
    assert (found.n, found.subgroups, found.provisional) == (125, 25, False)


def test_ppk_against_numpy_and_scipy() -> None:
    found, every = capability(WAFERS, ALLOWED).ppk, np.array(WAFERS).ravel()
    s, middle = every.std(ddof=1), every.mean()
    ppk = min(2 - middle, middle - 1) / (3 * s)
    reach = norm.ppf(0.975) * (1 / (9 * 125) + ppk**2 / (2 * 124)) ** 0.5
    assert found.value.value == pytest.approx(ppk, rel=1e-12)
    assert (found.low.value, found.high.value) == pytest.approx((ppk - reach, ppk + reach), rel=1e-9)
