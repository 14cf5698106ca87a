"""Row 2: the old bearing and its seat as found."""

from typing import Any

from qrecords.steps.standard import RULES
from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, IN, LOOK, Ruled, chosen

SOUND: dict[str, Any] = {
    "track": "in the middle", "seat_colour": "bright", "old_ring": "stood still", "fate": "kept",
    "bag": "B-7",
}  # fmt: skip
RULED = (
    Ruled("old-track", "track", chosen("old_bearing___track"), None, IN, ASKED,
          "where the balls ran is told before it is wiped away; every answer is one"),
    Ruled("old-seat", "colour", chosen("old_bearing___seat_colour"), None, IN, ASKED,
          "the same of the seat: rust on an old seat is no fault of the new one"),
    Ruled("old-ring-crept", "crept", chosen("old_bearing___old_ring"), "crept on its seat", LOOK, ASKED,
          "a ring that crept once creeps again in the same fit"),
    Ruled("old-bearing-kept", "fate", chosen("old_bearing___fate"), None, IN, ASKED,
          "kept, scrapped or not there are three answers"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {}


def test_row_02_old_bearing_and_seat_as_found() -> None:
    """A worn old seat is no flag; that the ring crept is asked about before the fit is released."""
    worn = sound(procedure=everything(), old_bearing___seat_colour="red-brown")
    assert worn.flags() == {}
    crept = sound(procedure=everything(), old_bearing___old_ring="crept on its seat")
    assert crept.flags() == {"old-ring-crept": "query"}
    assert RULES["old-ring-crept"].hold == "fit"
