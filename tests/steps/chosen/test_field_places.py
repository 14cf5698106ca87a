"""Row 21: demagnetise, place by place."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, IN, NONE, OUT, OVEN, SILENT, UNPROVEN, Ruled, chosen

JUDGED_SLIPS = dict.fromkeys(("10 times", "25.4 times"), "so strong a field is a fact, and judged")

SOUND: dict[str, Any] = {
    "ring_edge": ("0.9", "A/cm"),
    "ring_chamfer": ("0.7", "A/cm"),
    "rolling_element": ("0.4", "A/cm"),
}
RULED = (
    Ruled("field-by-place", "one place", chosen("field_places___ring_chamfer"), ("6.4", "A/cm"), OUT, ASKED,
          "swarf hangs where the field is strongest"),
    Ruled("field-by-place", "meter", chosen("demagnetisation___meter"), None, IN, UNPROVEN,
          "a number by no calibrated meter"),
    Ruled("field-by-place", "after an oven", chosen("field_places___ring_edge", gear=OVEN), ("6.4",
          "A/cm"), NONE, SILENT,
          "not asked of what makes no field", good=NONE),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    f"field_places.{place}": Row("0.9", "0…39.788736 A/cm", JUDGED_SLIPS, unit="A/cm")
    for place in ("ring_edge", "ring_chamfer", "rolling_element")
}


def test_row_21_demagnetise_by_place() -> None:
    """The worst place is named; a further heating asks for all of them again."""
    book = sound(procedure=everything(), field_places___rolling_element=("3", "A/cm"))
    (found,) = book.rule("field-by-place")
    assert (found.verdict, found.facts["place"]) == ("nonconforming", "rolling element")
    again = sound(procedure=everything())
    again.tap("heater on")
    assert again.rule("field-by-place")[0].message == "field-by-place.before-heat"
