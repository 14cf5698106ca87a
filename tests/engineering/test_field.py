"""Limits of residual magnetism."""

import pytest

from qrecords.engineering.field import HOUSE_LIMIT_NT, HOUSE_LIMIT_SOURCE, published_limit_nt
from qrecords.engineering.measurement import decide
from qrecords.engineering.units import read


def test_2_a_per_cm_itself_conforms_in_whatever_unit_it_is_read() -> None:
    for text in ("2 A/cm", "0.2513 mT", "2.513 G"):
        assert decide(read(text, "field", "mT").base, None, HOUSE_LIMIT_NT, 0) == "conforming"
    assert decide(read("6.4 A/cm", "field", "mT").base, None, HOUSE_LIMIT_NT, 10_000) == "nonconforming"


def test_the_house_limit_admits_that_it_has_no_source() -> None:
    assert HOUSE_LIMIT_SOURCE == "common practice, no source"


@pytest.mark.parametrize(
    ("outside_mm", "limit_mt"), [(30, 0.4), (30.1, 0.5), (110, 0.6), (215, 0.8), (430, 1.0)]
)
def test_the_published_limit_grows_with_the_outside_diameter(outside_mm: float, limit_mt: float) -> None:
    assert published_limit_nt(outside_mm) == limit_mt * 10**6


def test_over_430_mm_nothing_is_published() -> None:
    assert published_limit_nt(431) is None
