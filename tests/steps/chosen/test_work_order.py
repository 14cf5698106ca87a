"""Row 1: work order and scope."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, CLOSE, LOOK, OUT, Ruled, chosen

SOUND: dict[str, Any] = {
    "drawing_in_hand": "TH-4410", "revision_in_hand": "C", "machine_plate": "as ordered",
    "customer_points": "none", "mounted_before": "no",
}  # fmt: skip
RULED = (
    Ruled("drawing-in-hand", "drawing", chosen("work_order___drawing_in_hand"), "TH-4411", CLOSE, ASKED,
          "another drawing may ask another fit: nothing is proven against it"),
    Ruled("drawing-in-hand", "revision", chosen("work_order___revision_in_hand"), "B", CLOSE, ASKED,
          "a revision later or earlier is another drawing"),
    Ruled("machine-as-ordered", "plate", chosen("work_order___machine_plate"), "another", LOOK, ASKED,
          "locating and floating end change places on the wrong machine"),
    Ruled("customer-told", "points", chosen("work_order___customer_points"), "not told", OUT, ASKED,
          "who was promised a look is told in time"),
    Ruled("mounted-before", "before", chosen("work_order___mounted_before"), "yes", LOOK, ASKED,
          "a ring that was on once is looked at, not refused"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {}


def test_row_01_work_order_and_scope() -> None:
    """The paper in hand is compared character by character; case and spacing carry no meaning."""
    same = sound(procedure=everything(), work_order___drawing_in_hand="th-4410")
    assert same.flags() == {}
    (found,) = sound(procedure=everything(), work_order___revision_in_hand="D").rule("drawing-in-hand")
    assert found.verdict == "not proven"
    assert found.facts == {"read": "TH-4410 rev. D", "wanted": "TH-4410 rev. C"}
