"""ASTM E2587: mean d2 and standard deviation d3 of the range of n normal readings, n = 2 to 10.

Source: the table in `range_chart_factors.csv` as from memory, compared with public copies. Beside it both are
integrated here anew from the distribution of the range, with scipy's normal distribution; n = 2 has them in
closed form, 2/√π and √(2 − 4/π).
"""

import math

import numpy as np
import pytest
from scipy.integrate import simpson
from scipy.stats import norm

from qrecords.engineering.range_factors import D2_D3
from tests.published import lines

X = np.linspace(-9, 9, 3601)
WIDTHS = np.linspace(0, 16, 1601)


def integrated(n: int) -> tuple[float, float]:
    """P(R ≤ w) = n·∫φ(x)·(Φ(x + w) − Φ(x))ⁿ⁻¹ dx; E R = ∫P(R > w) dw; E R² = 2·∫w·P(R > w) dw."""
    inside = norm.cdf(X[None, :] + WIDTHS[:, None]) - norm.cdf(X)[None, :]
    above = 1 - n * simpson(norm.pdf(X)[None, :] * inside ** (n - 1), x=X, axis=1)
    mean, square = simpson(above, x=WIDTHS), 2 * simpson(WIDTHS * above, x=WIDTHS)
    return float(mean), math.sqrt(square - mean**2)


@pytest.mark.parametrize("line", lines("range_chart_factors.csv"), ids=lambda line: line["n"])
def test_the_table_of_the_standard(line: dict[str, str]) -> None:
    d2, d3 = D2_D3[int(line["n"])]
    assert d2 == pytest.approx(float(line["d2"]), abs=0.00051)
    assert d3 == pytest.approx(float(line["d3"]), abs=0.000051)


@pytest.mark.parametrize("n", D2_D3)
def test_all_six_decimals_come_out_of_the_distribution_of_the_range(n: int) -> None:
    assert D2_D3[n] == pytest.approx(integrated(n), abs=6e-7)


def test_two_readings_in_closed_form() -> None:
    assert D2_D3[2] == pytest.approx((2 / math.sqrt(math.pi), math.sqrt(2 - 4 / math.pi)), abs=6e-7)
