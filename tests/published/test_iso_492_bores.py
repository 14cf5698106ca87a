"""ISO 492:2014, limits of the mean bore and outside deviation, radial bearings but tapered roller.

Source: class Normal against two separately made public copies, their rows typed from them into
`iso_492_copies.csv`: MecaTool (iso492-2014.tolerances.json @12390ba3, ISO 492:2014 tables 2 and 3) and, to
250 mm, Uni-rolling-bearing (tolerances.py @c9b41463). The package's table was made from the same two: this
finds a slip of our table against each of them, not one that they share. Classes 6, 5, 4 and 2 could be read
nowhere: they are from memory, are held against each other only, and have to say so.
"""

from decimal import Decimal
from itertools import pairwise

import pytest

from qrecords.engineering.bearings import bore_limits, bore_limits_of, outside_limits
from qrecords.engineering.designation import parse_designation
from qrecords.engineering.errors import OutsideValidityError, UnknownClassError
from qrecords.engineering.tables import BUILT_IN, Row
from tests.published import example, lines

COPIES = lines("iso_492_copies.csv")
LIMITS = {"bore": bore_limits, "outside": outside_limits}
TABLES = {"bore": "bearing_bore_tolerance", "outside": "bearing_od_tolerance"}
FINER = ("6", "5", "4", "2")
# One copy runs its first outside range to 30 mm; table 3 as the other copies it splits at 18 (−8, then −9).
TAKEN_TOGETHER = ("Uni-rolling-bearing", "outside", "0", "30")


def rows(of: str, tolerance_class: str) -> tuple[Row, ...]:
    return BUILT_IN.all_of(TABLES[of], (tolerance_class,))


@pytest.mark.parametrize("of", TABLES)
def test_every_range_of_class_normal_in_every_copy(of: str) -> None:
    for line in (line for line in COPIES if line["of"] == of):
        over, upto = Decimal(line["over_mm"]), Decimal(line["upto_mm"])
        if tuple(line.values())[:4] == TAKEN_TOGETHER:
            over = Decimal(18)
        for size in (over + Decimal("0.7"), (over + upto) / 2, upto):
            limits = LIMITS[of](size)
            assert (limits.lower_um, limits.upper_um) == (int(line["lower_um"]), 0), (line, size)
            assert limits.confirmed


@pytest.mark.parametrize("of", TABLES)
def test_no_range_of_class_normal_stands_in_our_table_alone(of: str) -> None:
    copied = {(Decimal(line["over_mm"]), Decimal(line["upto_mm"])) for line in COPIES if line["of"] == of}
    assert {(row.over_mm, row.upto_mm) for row in rows(of, "Normal")} <= copied


def test_the_worked_example_has_the_same_lower_limit() -> None:
    case = example("E04")
    assert bore_limits(case["inputs"]["d_mm"]).lower_um == case["expected"]["bore_low"]["value"]


def test_every_row_of_the_finer_classes_is_shown_as_unconfirmed() -> None:
    finer = [row for name in FINER for row in rows("bore", name)]
    assert len(finer) == 61 - 18
    for row in finer:
        limits = bore_limits(row.upto_mm, row.key[0])
        assert limits.unconfirmed and not limits.confirmed


@pytest.mark.parametrize("name", ["Normal", *FINER])
def test_the_ranges_of_a_class_abut_and_its_tolerance_never_shrinks_with_size(name: str) -> None:
    for row, following in pairwise(rows("bore", name)):
        assert row.upto_mm == following.over_mm
        assert row.values[0] >= following.values[0]
        assert row.values[1] == following.values[1] == 0


def test_at_every_size_a_finer_class_is_narrower() -> None:
    sizes = {row.upto_mm for name in FINER for row in rows("bore", name)}
    for size in sizes:
        there = ["Normal", *(name for name in FINER if size <= rows("bore", name)[-1].upto_mm)]
        lower = [bore_limits(size, name).lower_um for name in there]
        assert lower == sorted(set(lower)), size


@pytest.mark.parametrize(("tolerance_class", "lower_um"), [("6", -12), ("5", -9), ("4", -7), ("2", -4)])
def test_finer_classes_at_65_mm_as_typed_a_second_time_from_memory(
    tolerance_class: str, lower_um: int
) -> None:
    assert bore_limits(65, tolerance_class).lower_um == lower_um


def test_a_class_left_out_for_lack_of_a_source_is_refused_and_the_others_are_named() -> None:
    with pytest.raises(UnknownClassError) as refused:
        bore_limits(700, "6")
    assert refused.value.available == ("Normal",)


@pytest.mark.parametrize("designation", ["30314", "22320 K"])
def test_the_radial_table_does_not_hold_for_tapered_rollers_or_taper_bores(designation: str) -> None:
    with pytest.raises(OutsideValidityError):
        bore_limits_of(parse_designation(designation))
