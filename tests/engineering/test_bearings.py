"""Designations, bore tolerances and internal clearance."""

import pytest

from qrecords.engineering.bearings import bore_limits, internal_clearance
from qrecords.engineering.designation import Designation, parse_designation
from qrecords.engineering.errors import (
    DesignationError,
    OutOfRangeError,
    OutsideValidityError,
    UnknownClassError,
)


@pytest.mark.parametrize(
    ("text", "series", "bore_mm", "kind"),
    [
        ("6312 C3", "63", 60, "deep groove ball"),
        ("6003", "60", 17, "deep groove ball"),
        ("62/28", "62", 28, "deep groove ball"),
        ("608", "60", 8, "deep groove ball"),
        ("NU 318", "NU3", 90, "cylindrical roller"),
        ("NU1024", "NU10", 120, "cylindrical roller"),
        ("22320 C3", "223", 100, "spherical roller"),
        ("22215", "222", 75, "spherical roller"),
        ("30314", "303", 70, "tapered roller"),
        ("7310", "73", 50, "angular contact ball"),
        ("2205", "22", 25, "self-aligning ball"),
    ],
)
def test_series_and_bore_follow_from_the_basic_designation(
    text: str, series: str, bore_mm: int, kind: str
) -> None:
    read = parse_designation(text)
    assert (read.series, read.bore_mm, read.kind) == (series, bore_mm, kind)


def test_clearance_and_stabilisation_are_read() -> None:
    read = parse_designation("22326 C4 S1")
    assert (read.clearance_group, read.stabilisation, read.stable_up_to_c) == ("C4", "S1", 200)


@pytest.mark.parametrize("text", ["6312C3", "6312/C3", "6312-C3", " 6312  c3 "])
def test_the_same_designation_however_it_is_spaced(text: str) -> None:
    read = parse_designation(text)
    assert (read.basic, read.clearance_group, read.clearance_stated) == ("6312", "C3", True)


def test_without_a_mark_the_group_is_normal_and_not_stated() -> None:
    assert (parse_designation("6213").clearance_group, parse_designation("6213").clearance_stated) == (
        "CN",
        False,
    )


@pytest.mark.parametrize(
    ("text", "marks"),
    [("6309-2XY", ("2XY",)), ("6312/2Q C3", ("2Q",)), ("NU 318 ABC", ("ABC",)), ("6309 TV P6", ("TV",))],
)
def test_makers_marks_are_kept_and_asked_for_never_interpreted(text: str, marks: tuple[str, ...]) -> None:
    assert parse_designation(text).asked_for == marks


def test_a_separable_inner_ring_is_known_by_its_kind() -> None:
    assert parse_designation("NU 318").separable
    assert not parse_designation("6312").separable


@pytest.mark.parametrize(
    "text",
    [
        "",
        "   ",
        "bearing",
        "6512",
        "6299",
        "6312 C3 C4",
        "6312 S0 S1",
        "99999",
        "-6312",
    ],
)
def test_an_unknown_designation_is_refused_by_name(text: str) -> None:
    with pytest.raises(DesignationError) as refused:
        parse_designation(text)
    assert refused.value.reason and len(str(refused.value)) < 200


def test_a_huge_text_is_refused_without_being_repeated() -> None:
    with pytest.raises(DesignationError) as refused:
        parse_designation("6" * 10**7)
    assert len(refused.value.text) < 50


def test_bore_tolerance_by_iso_and_din_class_names() -> None:
    assert bore_limits(60, "Normal").lower_um == bore_limits(60, "P0").lower_um == -15
    assert bore_limits(60, "P6") == bore_limits(60, "6")


def test_a_bore_outside_the_table_is_refused() -> None:
    with pytest.raises(OutOfRangeError):
        bore_limits(2001, "Normal")


def test_internal_clearance_is_shown_as_unconfirmed() -> None:
    found = internal_clearance("deep groove ball", 60, "C3")
    assert (found.min_um, found.max_um, found.group) == (23, 43, "C3")
    assert found.unconfirmed


@pytest.mark.parametrize("group", ["CN", "N", "cn"])
def test_a_group_may_be_written_with_or_without_its_letter(group: str) -> None:
    found = internal_clearance("spherical roller", 100, group)
    assert (found.min_um, found.max_um) == (60, 100)


def test_a_group_that_does_not_exist_at_this_bore_names_those_that_do() -> None:
    with pytest.raises(UnknownClassError) as refused:
        internal_clearance("deep groove ball", 5, "C4")
    assert refused.value.available == ("C2", "CN", "C3")


@pytest.mark.parametrize(("kind", "bore"), [("tapered roller", 70), ("deep groove ball", 501)])
def test_a_kind_or_bore_without_a_clearance_table_is_outside_validity(kind: str, bore: int) -> None:
    with pytest.raises(OutsideValidityError):
        internal_clearance(kind, bore, "CN")


def test_a_designation_is_a_plain_value() -> None:
    assert isinstance(parse_designation("6312 C3"), Designation)
    assert parse_designation("6312 C3") == parse_designation("6312 C3")
