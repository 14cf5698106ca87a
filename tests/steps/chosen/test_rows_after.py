"""Row 29: the clearance of both rows as mounted."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.ruled import ASKED, LOOK, SILENT, Ruled, chosen

SOUND: dict[str, Any] = {"g1_second_row": ("16", "um")}
RULED = (
    Ruled("rows-agree-after", "second row", chosen("rows_after___g1_second_row"), ("50", "um"), LOOK, ASKED,
          "two rows of one bearing differ where a ring sits tilted"),
    Ruled("rows-agree-after", "first row", chosen("clearance_after___g1"), ("60", "um"), LOOK, SILENT,
          "with one row alone there is nothing to compare"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "rows_after.g1_second_row": Row("30", "0…500 um", {"10 times": "large rollers have 300 µm"}, unit="um")
}


def test_row_29_clearance_of_both_rows() -> None:
    """2 u of both: twice the root of two times 3 µm, 8.5 µm."""
    found = {
        um: chosen("rows_after___g1_second_row")((um, "um")).rule("rows-agree-after")[0]
        for um in ("24", "25")
    }
    assert [each.verdict.value for each in found.values()] == ["conforming", "query"]
