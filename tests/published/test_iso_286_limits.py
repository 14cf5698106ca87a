"""ISO 286-2:2010 limits of deviation.

Source: `shaft_limits_check.csv` and `hole_limits_check.csv`, each row found in separately printed limit
tables (the columns name them and count them); rows marked `components` lie over 500 mm, where tolerance and
deviation are confirmed one by one but no printed limit table was found.
"""

from decimal import Decimal

import pytest

from qrecords.engineering.limits import limits_of_size
from tests.published import lines

ROWS = [(line, name) for name in ("shaft_limits_check.csv", "hole_limits_check.csv") for line in lines(name)]


def test_the_check_files_are_whole() -> None:
    assert len(ROWS) == 320 + 219


@pytest.mark.parametrize(("line", "name"), ROWS, ids=lambda v: v if isinstance(v, str) else None)
def test_every_printed_row_at_both_ends_of_its_range(line: dict[str, str], name: str) -> None:
    printed = Decimal(line["lower_um"]) * 1000, Decimal(line["upper_um"]) * 1000
    inside = Decimal(line["over_mm"]) + Decimal("0.001") if line["over_mm"] != "0" else Decimal("1.5")
    for size in (inside, Decimal(line["upto_mm"])):
        limits = limits_of_size(size, line["class"])
        assert (limits.lower_nm, limits.upper_nm) == printed
        assert limits.confirmed


@pytest.mark.parametrize("upto_mm", [10, 18, 30, 50, 80, 120, 180, 250, 315])
def test_tolerances_lie_near_the_formula_of_the_standard(upto_mm: int) -> None:
    # ISO 286-1: i = 0.45·∛D + 0.001·D µm, D the geometric mean of the range; IT6, IT7 = 10i, 16i unrounded.
    over = {10: 6, 18: 10, 30: 18, 50: 30, 80: 50, 120: 80, 180: 120, 250: 180, 315: 250}[upto_mm]
    mean = (over * upto_mm) ** 0.5
    unit = 0.45 * mean ** (1 / 3) + 0.001 * mean
    for tolerance_class, units in (("h6", 10), ("h7", 16)):
        assert limits_of_size(upto_mm, tolerance_class).it_um == pytest.approx(units * unit, abs=1.0)
