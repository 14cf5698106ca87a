"""NIST/SEMATECH e-Handbook 6.3.2.1: the factors A2, D3 and D4 of the X̄-R chart for n = 2 to 10.

Source: the handbook's table in `range_chart_factors.csv` as from memory, compared with public copies of such
tables. Copies differ in the last place of D4 at n = 3 and 5 (2.574 or 2.575, 2.114 or 2.115): one unit of the
last place is allowed.
"""

import pytest

from qrecords.engineering.range_factors import factors
from tests.published import lines


@pytest.mark.parametrize("line", lines("range_chart_factors.csv"), ids=lambda line: line["n"])
def test_the_factors_of_both_charts(line: dict[str, str]) -> None:
    found = factors(int(line["n"]))
    assert found.mean_limit == pytest.approx(float(line["A2"]), abs=0.00051)
    assert found.lower_range == pytest.approx(float(line["D3"]), abs=0.00051)
    assert found.upper_range == pytest.approx(float(line["D4"]), abs=0.001)


def test_up_to_six_readings_a_range_has_no_lower_limit() -> None:
    assert [n for n in range(2, 11) if factors(n).lower_range == 0] == [2, 3, 4, 5, 6]
