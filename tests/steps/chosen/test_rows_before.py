"""Row 15: the clearance of both rows, before the fit."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.ruled import ASKED, LOOK, SILENT, Ruled, chosen

SOUND: dict[str, Any] = {"g0_second_row": ("30", "um")}
RULED = (
    Ruled("rows-agree-before", "second row", chosen("rows_before___g0_second_row"), ("50", "um"), LOOK, ASKED,
          "two rows of one bearing differ where a ring sits tilted"),
    Ruled("rows-agree-before", "first row", chosen("clearance_before___g0"), ("60", "um"), LOOK, SILENT,
          "with one row alone there is nothing to compare"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "rows_before.g0_second_row": Row("30", "0…500 um", {"10 times": "large rollers have 300 µm"}, unit="um")
}


def test_row_15_clearance_of_both_rows() -> None:
    """2 u of both: twice the root of two times 3 µm, 8.5 µm."""
    found = {
        um: chosen("rows_before___g0_second_row")((um, "um")).rule("rows-agree-before")[0]
        for um in ("38", "39")
    }
    assert [each.verdict.value for each in found.values()] == ["conforming", "query"]
