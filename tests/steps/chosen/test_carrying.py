"""Rows 22 to 24: film, transfer, seating."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, IN, LOOK, OUT, Ruled, chosen

WIDE = {"10 times": "a large nut takes that"}
PRESSED = dict.fromkeys(("10 times", "25.4 times"), "a press gives that")

SOUND: dict[str, Any] = {
    "film_wiped": "thin, corner clean",
    "side_called": "yes",
    "twisted": "a little, both ways",
}
RULED = (
    Ruled("film-thin", "film", chosen("carrying___film_wiped"), "pool or full corner", OUT, ASKED,
          "trapped oil holds the ring off the shoulder"),
    Ruled("side-called", "side", chosen("carrying___side_called"), "no", LOOK, ASKED,
          "a ring the wrong way round is pulled through its balls"),
    Ruled("twisted-home", "pushed", chosen("carrying___twisted"), None, IN, ASKED,
          "how it went on is asked when it did not come home"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "carrying.hold_torque": Row("200", "0…5000 N·m", WIDE, unit="N·m"),
    "carrying.hold_force": Row("5000", "0…500000 N", PRESSED, unit="N"),
}


def test_row_22_film_on_the_seat() -> None:
    assert sound(procedure=everything(), seating___film="dry").flags() == {}
    pool = sound(procedure=everything(), carrying___film_wiped="pool or full corner")
    assert pool.flags() == {"film-thin": "nonconforming"}


def test_row_23_transfer() -> None:
    """Said of each heating: of a second one it is asked anew, and what was said of the first stays."""
    book = sound(procedure=everything(), carrying___side_called="no")
    book.tap("heater on")
    book.tap("lifted off")
    book.say("carrying", side_called="yes")
    said = {finding.characteristic: finding.verdict.value for finding in book.rule("side-called")}
    assert said == {"side-called": "conforming", "side-called, heating 1": "query"}


def test_row_24_seat_and_hold() -> None:
    """Force and torque of holding are kept where there was any; none is a full answer."""
    assert sound(procedure=everything(), carrying___hold_torque=("150", "N·m")).flags() == {}
    assert sound(procedure=everything(), carrying___hold_torque=None).flags() == {}
