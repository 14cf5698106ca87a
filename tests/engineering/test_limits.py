"""Limits of size: which class, which range, and what is said of a class that does not exist."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from qrecords.engineering.errors import OutOfRangeError, UnknownClassError
from qrecords.engineering.limits import limits_of_size
from qrecords.engineering.tables import BUILT_IN, Row


def um(nominal: float, tolerance_class: str) -> tuple[float, float]:
    limits = limits_of_size(nominal, tolerance_class)
    return limits.lower_um, limits.upper_um


def test_a_size_on_a_boundary_belongs_to_the_lower_range() -> None:
    assert um(50, "m6") == um(40, "m6") == (9, 25)
    assert um(50.001, "m6") == (11, 30)


def test_upper_case_is_a_hole_and_lower_case_a_shaft() -> None:
    assert um(60, "h7") == (-30, 0)
    assert um(60, "H7") == (0, 30)


def test_half_micrometres_are_kept() -> None:
    limits = limits_of_size(40, "js5")
    assert (limits.lower_um, limits.upper_um) == (-5.5, 5.5)
    assert (limits.lower_nm, limits.upper_nm, limits.it_um) == (-5500, 5500, 11)


def test_m6_over_250_is_the_exception_of_the_standard() -> None:
    assert um(300, "M6") == (-41, -9)


@pytest.mark.parametrize("size", ["60", 60, 60.0, Decimal(60)])
def test_a_size_may_be_a_number_or_its_text(size: Decimal | float | str) -> None:
    assert limits_of_size(size, "k5").upper_um == 15


def test_a_class_that_does_not_exist_at_this_size_names_those_that_do() -> None:
    with pytest.raises(UnknownClassError) as refused:
        limits_of_size(60, "j9")
    assert refused.value.available == ("j5", "j6", "j7")
    assert refused.value.facts["nominal_mm"] == "60"


@pytest.mark.parametrize(
    "tolerance_class", ["", "6", "m", "m19", "M-6", "mM6", "qq6", "m6 ", "j6j6", "м6", "m6m6m6"]
)
def test_no_class_at_all_is_refused_with_some_that_exist(tolerance_class: str) -> None:
    with pytest.raises(UnknownClassError) as refused:
        limits_of_size(60, tolerance_class)
    assert refused.value.available
    for offered in refused.value.available:
        assert limits_of_size(60, offered).tolerance_class == offered


@pytest.mark.parametrize("size", [0, -60, 3150.1, "NaN", "inf", "abc", "", "9" * 60, float("nan")])
def test_a_size_outside_the_tables_is_refused(size: float | str) -> None:
    with pytest.raises(OutOfRangeError) as refused:
        limits_of_size(size, "m6")
    assert (refused.value.field, refused.value.unit, refused.value.high) == ("nominal size", "mm", 3150)


def test_coarse_grades_are_not_used_up_to_1_mm() -> None:
    with pytest.raises(UnknownClassError):
        limits_of_size(1, "h14")


@given(st.floats(0.01, 500), st.sampled_from(["d", "e", "f", "g", "h"]), st.integers(5, 10))
def test_clearance_shafts_never_reach_above_nominal(size: float, letter: str, grade: int) -> None:
    limits = limits_of_size(size, f"{letter}{grade}")
    assert limits.lower_nm < limits.upper_nm <= 0


@given(st.floats(3.01, 500), st.sampled_from(["k", "m", "n", "p"]), st.integers(4, 7))
def test_interference_shafts_begin_above_nominal_and_grades_widen(
    size: float, letter: str, grade: int
) -> None:
    finer, coarser = limits_of_size(size, f"{letter}{grade}"), limits_of_size(size, f"{letter}{grade + 1}")
    assert finer.lower_nm > 0
    assert finer.it_um < coarser.it_um


def test_a_sites_own_row_replaces_the_built_in_one_and_changes_the_digest() -> None:
    (row,) = (r for r in BUILT_IN.all_of("it_grades", ("6",)) if r.upto_mm == 80)
    own = Row(**{name: getattr(row, name) for name in Row.__dataclass_fields__} | {"values": (Decimal(20),)})
    overlaid = BUILT_IN.overlaid([own])
    assert limits_of_size(60, "m6", overlaid).upper_um == 31
    assert limits_of_size(60, "m6").upper_um == 30
    assert overlaid.digest != BUILT_IN.digest
    assert overlaid.overlaid([row]).digest == BUILT_IN.digest
