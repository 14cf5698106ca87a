"""ISO 492:2014, limits of the mean bore deviation, radial bearings but tapered roller.

Source: the rows of class Normal in `bearing_bore_tolerance.csv` were found in one to three separately made
copies of ISO 492:2014 table 2, named in the file. The numbers below were typed a second time, from
memory and apart from it. Classes 6, 5, 4 and 2 could be read nowhere: they are from memory and have to say
so.
"""

import pytest

from qrecords.engineering.bearings import bore_limits, bore_limits_of, outside_limits
from qrecords.engineering.designation import parse_designation
from qrecords.engineering.errors import OutsideValidityError, UnknownClassError

NORMAL = {
    10: -8,
    18: -8,
    30: -10,
    50: -12,
    80: -15,
    120: -20,
    180: -25,
    250: -30,
    315: -35,
    400: -40,
    500: -45,
}


@pytest.mark.parametrize(("upto_mm", "lower_um"), NORMAL.items())
def test_class_normal(upto_mm: int, lower_um: int) -> None:
    limits = bore_limits(upto_mm, "Normal")
    assert (limits.lower_um, limits.upper_um, limits.confirmed) == (lower_um, 0, True)


@pytest.mark.parametrize(("tolerance_class", "lower_um"), [("6", -12), ("5", -9), ("4", -7), ("2", -4)])
def test_finer_classes_are_shown_as_unconfirmed(tolerance_class: str, lower_um: int) -> None:
    limits = bore_limits(65, tolerance_class)
    assert limits.lower_um == lower_um
    assert limits.unconfirmed and not limits.confirmed


def test_a_class_left_out_for_lack_of_a_source_is_refused_and_the_others_are_named() -> None:
    with pytest.raises(UnknownClassError) as refused:
        bore_limits(700, "6")
    assert refused.value.available == ("Normal",)


def test_outside_diameter_of_class_normal() -> None:
    assert outside_limits(110).lower_um == -15
    assert outside_limits(160).lower_um == -25


@pytest.mark.parametrize("designation", ["30314", "22320 K"])
def test_the_radial_table_does_not_hold_for_tapered_rollers_or_taper_bores(designation: str) -> None:
    with pytest.raises(OutsideValidityError):
        bore_limits_of(parse_designation(designation))
