"""NIST Statistical Reference Datasets, analysis of variance, SiRstv: silicon measured by five instruments.

Source: the data (25 readings) and certified values of the data set: between 5.11462616000000E-02 on 4, within
2.16636560000000E-01 on 20, F 1.18046237440255E+00, residual standard deviation 1.04076068334656E-01. Readings
from memory; in exact arithmetic they give the certified F to all its digits.
"""

import pytest
from scipy.stats import f_oneway

from qrecords.engineering.anova import one_way
from tests.published import lines

LINES = lines("nist_sirstv.csv")
INSTRUMENTS = [
    [float(line["resistance"]) for line in LINES if line["instrument"] == str(number)]
    for number in range(1, 6)
]
FOUND = one_way(INSTRUMENTS, "ohm·cm")


def test_the_certified_sums_of_squares() -> None:
    assert (FOUND.between.degrees, FOUND.within.degrees) == (4, 20)
    assert FOUND.between.sum_of_squares == pytest.approx(5.11462616e-02, rel=1e-11)
    assert FOUND.within.sum_of_squares == pytest.approx(2.16636560e-01, rel=1e-11)


def test_the_certified_f_and_residual_standard_deviation() -> None:
    assert FOUND.f == pytest.approx(1.18046237440255, rel=1e-11)
    assert FOUND.within.mean_square**0.5 == pytest.approx(1.04076068334656e-01, rel=1e-11)


def test_the_p_value_is_that_of_scipy() -> None:
    assert FOUND.p == pytest.approx(f_oneway(*INSTRUMENTS).pvalue, rel=1e-9)
