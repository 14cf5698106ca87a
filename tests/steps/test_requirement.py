"""A requirement that cannot be used says which field is wrong, with the value and what would be right."""

from typing import Any

import pytest

from qrecords.steps.errors import DocumentError
from qrecords.steps.requirement import read_requirement
from tests.cast import REQUIREMENT


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
