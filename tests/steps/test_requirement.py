"""A requirement that cannot be used says which field is wrong, with the value and what would be right."""

from typing import Any

import pytest

from qrecords.engineering.tables import BUILT_IN
from qrecords.steps.errors import DocumentError
from qrecords.steps.fit import interference
from qrecords.steps.new_drawing import read_new_requirement
from qrecords.steps.requirement import read_requirement
from tests.cast import REQUIREMENT
from tests.steps.casebook import Book, measure


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("nominal_mm", "abc"), ("nominal_mm", "NaN"), ("nominal_mm", "-60"), ("nominal_mm", "99999"),
        ("outside_mm", "60"), ("shaft_bore_mm", "60"), ("width_mm", "Infinity"), ("form_um", "much"),
        ("form_um", "NaN"), ("clearance_min_um", "9e9"), ("interference_um", ["48", "13"]),
        ("interference_um", ["13"]), ("limits_um", ["x", "y"]), ("stabilised_c", "hot"), ("kinds", ["warm"]),
        ("seat", "polished"), ("drawing", " "), ("shaft_class", "q5"), ("shaft_class", ""),
    ],
)  # fmt: skip
def test_a_wrong_field_is_named(field: str, value: Any) -> None:
    with pytest.raises(DocumentError) as caught:
        read_requirement({**REQUIREMENT, field: value})
    assert caught.value.field == field


def test_a_class_that_does_not_exist_at_this_size_says_which_do() -> None:
    with pytest.raises(DocumentError) as caught:
        read_requirement({**REQUIREMENT, "shaft_class": "q5"})
    assert "m6" in str(caught.value)


def test_the_drawings_own_limits_take_the_place_of_a_class() -> None:
    asked = read_requirement({**REQUIREMENT, "shaft_class": "", "limits_um": ["12,5", "30"]})
    assert (asked.journal.lower_nm, asked.journal.upper_nm) == (12_500, 30_000)
    assert asked.journal.source == "drawing TH-4410 rev. C"


@pytest.mark.parametrize(
    ("field", "value", "allowed"),
    [
        ("roundness_um", "0", "above 0"),
        ("taper_um", "-3", "above 0"),
        ("roundness_um", "40", "say where it is written"),
        ("taper_um", "40", "say where it is written"),
        ("gap_um", "300", "10…100 µm"),
        ("gap_um", "5", "10…100 µm"),
        ("critical", "maybe", "yes, no"),
    ],
)
def test_a_new_drawing_is_asked_back_for_limits_that_cannot_be(field: str, value: str, allowed: str) -> None:
    with pytest.raises(DocumentError) as caught:
        read_new_requirement({**REQUIREMENT, field: value})
    assert caught.value.field == field and allowed in caught.value.why


def test_form_limits_gap_and_whether_it_is_critical_are_read() -> None:
    more = {"form_um": "6", "taper_um": "4,5", "gap_um": "20", "critical": "yes"}
    asked = read_new_requirement({**REQUIREMENT, **more})
    assert (asked.form_limit_nm("roundness"), asked.form_limit_nm("taper")) == (6000, 4500)
    assert (asked.gap_nm, asked.critical) == (20_000, True)
    plain = read_new_requirement(REQUIREMENT)
    assert (plain.form_limit_nm("taper"), plain.gap_nm, plain.critical) == (None, None, False)


P = {"designation": "6212 P5", "clearance_group": "N"}
NU = {"designation": "NU 212", "clearance_group": "N"}


@pytest.mark.parametrize(
    ("changes", "field", "source"),
    [
        ({"designation": "6212", "clearance_group": "4"}, "clearance_group", "group_source"),
        ({"clearance_group": "N"}, "clearance_group", "group_source"),
        ({"outside_mm": "1100"}, "outside_mm", "outside_source"),
        ({"width_mm": "18"}, "width_mm", "width_source"),
        ({"nominal_mm": "65"}, "nominal_mm", "nominal_source"),
        (P, "bore_class", "class_source"),
        (NU, "clearance_kind", "kind_source"),
        ({"designation": "6212 C3 S1", "stabilised_c": 150}, "stabilised_c", "stabilised_source"),
    ],
)
def test_what_contradicts_the_designation_says_where_it_is_written(
    changes: dict[str, Any], field: str, source: str
) -> None:
    document = {**REQUIREMENT, **changes}
    with pytest.raises(DocumentError) as caught:
        read_new_requirement(document)
    assert caught.value.field == field
    assert read_new_requirement({**document, source: "drawing TH-4410, note 3"})
    assert read_requirement(document)  # an old entry still holds it


@pytest.mark.parametrize(
    ("changes", "allowed"),
    [
        ({"clearance_group": "X"}, "2, N, 3, 4, 5"),
        ({"clearance_kind": "nonsense"}, "spherical_roller_cyl_bore"),
    ],
)
def test_a_clearance_table_that_does_not_exist_says_which_do(changes: dict[str, Any], allowed: str) -> None:
    with pytest.raises(DocumentError, match=allowed):
        read_new_requirement({**REQUIREMENT, **changes})


@pytest.mark.parametrize(
    "changes",
    [
        {"designation": "22212 K", "clearance_kind": "spherical_roller_cyl_bore", "clearance_group": "N"},
        {"designation": "30205", "nominal_mm": "25", "outside_mm": "52", "width_mm": "16"},
    ],
)
def test_a_bore_that_the_tables_of_radial_bearings_do_not_judge_is_out_of_scope(
    changes: dict[str, Any],
) -> None:
    with pytest.raises(DocumentError) as caught:
        read_new_requirement({**REQUIREMENT, **changes})
    assert caught.value.field == "designation"


@pytest.mark.parametrize(
    "changes",
    [
        {"designation": "6212 P5", "clearance_group": "N", "bore_class": "5"},
        {"designation": "6212-Q7", "clearance_group": "4"},
        {"designation": "6212 C3", "clearance_group": "C3"},
        {**NU, "clearance_kind": "none"},
        {"designation": "own make 7", "clearance_group": "4", "outside_mm": "95"},
    ],
)
def test_a_designation_is_never_read_for_more_than_it_says(changes: dict[str, Any]) -> None:
    assert read_new_requirement({**REQUIREMENT, **changes})


@pytest.mark.parametrize(
    "filed", [{"size_source": "list of 2019"}, {"size_source": ""}, {"limits_um": ["1e1", "3e1"]}]
)
def test_what_was_filed_before_is_read_for_ever_and_asked_back_of_a_new_drawing(
    filed: dict[str, Any],
) -> None:
    assert read_requirement({**REQUIREMENT, **filed})
    with pytest.raises(DocumentError) as refused:
        read_new_requirement({**REQUIREMENT, **filed})
    assert refused.value.field in filed


@pytest.mark.parametrize("value", ["30.0009", "-0.0009"])
def test_limits_finer_than_the_record_keeps_are_asked_back(value: str) -> None:
    with pytest.raises(DocumentError) as refused:
        read_new_requirement({**REQUIREMENT, "clearance_min_um": value})
    assert value in str(refused.value) and "0.001 µm" in str(refused.value)
    assert read_requirement({**REQUIREMENT, "clearance_min_um": "1.0006"}).clearance_min_nm == 1001


def test_a_bore_may_have_limits_of_its_own_where_they_are_written() -> None:
    """Tapered roller bearings have a table of their own, which is not here."""
    tapered = REQUIREMENT | {
        "designation": "30212", "nominal_mm": "60", "outside_mm": "110", "width_mm": "22",
        "clearance_kind": "adjusted", "size_source": "drawing",
    }  # fmt: skip
    with pytest.raises(DocumentError, match="a table of their own"):
        read_new_requirement(tapered, BUILT_IN)
    with pytest.raises(DocumentError, match="where they are written"):
        read_new_requirement(tapered | {"bore_um": ["-15", "0"]}, BUILT_IN)
    asked = read_new_requirement(
        tapered | {"bore_um": ["-15", "0"], "bore_source": "its own sheet"}, BUILT_IN
    )
    assert (asked.bore.lower_nm, asked.bore.upper_nm, asked.bore.source) == (-15_000, 0, "its own sheet")
    assert asked.bore.unconfirmed == ()


@pytest.mark.parametrize(
    ("own", "possible"),
    [
        (["-120", "120"], True), (["-120.001", "0"], False), (["0", "120.001"], False),
        (["-15", "0"], True), (["-150", "0"], False),
    ],
)  # fmt: skip
def test_limits_of_a_bore_that_no_bearing_has_are_asked_back(own: list[str], possible: bool) -> None:
    """IT10 of 60 mm is 120 µm. An old entry is read whatever it holds."""
    document = {**REQUIREMENT, "bore_um": own, "bore_source": "its own sheet"}
    assert read_requirement(document).own_bore
    if possible:
        assert read_new_requirement(document).own_bore
        return
    with pytest.raises(DocumentError, match="allowed: −120…120 µm for a bore of 60 mm") as refused:
        read_new_requirement(document)
    assert refused.value.field == "bore_um"


def test_a_bore_off_its_own_sheet_that_was_not_measured_counts_as_its_limits() -> None:
    book = Book()
    measure(book)
    book.say("bore", source="from class")
    book.requirement |= {"bore_um": ["-20", "-4"], "bore_source": "its own sheet"}
    found = interference(book.case())
    assert found is not None
    assert found.mean.value == pytest.approx(17.2 + 12, abs=0.2)
    assert found.mean.source == "its own sheet"
