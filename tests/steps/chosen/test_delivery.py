"""Row 3: receiving the bearing."""

from typing import Any

from qrecords.steps.standard import RULES
from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, IN, LOOK, OUT, Ruled, chosen

SOUND: dict[str, Any] = {
    "supplier": "Orrin Vale Supplies", "delivery_number": "OV-5521", "seal": "unbroken", "origin": "no doubt",
    "quarantine": "no",
}  # fmt: skip
RULED = (
    Ruled("supplier-named", "supplier", chosen("delivery___supplier"), None, IN, ASKED,
          "a bad lot is found again by it"),
    Ruled("delivery-named", "delivery", chosen("delivery___delivery_number"), None, IN, ASKED,
          "the same"),
    Ruled("box-seal", "seal", chosen("delivery___seal"), "broken", LOOK, ASKED,
          "a box that was open may hold another bearing"),
    Ruled("origin-sure", "origin", chosen("delivery___origin"), "in doubt", OUT, ASKED,
          "doubt on its origin: quarantine, unopened"),
    Ruled("out-of-quarantine", "quarantine", chosen("delivery___quarantine"), "yes", OUT, ASKED,
          "what waits for an answer is not mounted meanwhile"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "delivery.quantity": Row(
        "2", "1…100 pcs", {"10 times": "a delivery may hold 20", "25.4 times": "or 51"}, unit="pcs"
    )
}


def test_row_03_receive_and_identify_the_bearing() -> None:
    """A bearing in quarantine may not be mounted by a fitter's word: the engineer's, or scrap."""
    book = sound(procedure=everything(), delivery___quarantine="yes")
    (found,) = book.rule("out-of-quarantine")
    assert found.verdict == "nonconforming"
    assert RULES["out-of-quarantine"].decisions(found, book.case()) == (
        "rework",
        "scrap",
        "concession",
    )
