"""Row 18: safety before heat."""

from typing import Any

from qrecords.steps.standard import STEPS
from tests.numbers.number_row import Row
from tests.steps.casebook import Book
from tests.steps.ruled import ASKED, NONE, OUT, SILENT, Ruled, chosen

BATH = {
    "heater": {
        "id": "heater",
        "kind": "heater",
        "mark": "OB-1",
        "status": "in use",
        "heater_kind": "oil bath",
    }
}


def heavy() -> Book:
    return chosen("safety___lifted_by", mass_kg="26")("one person")


SOUND: dict[str, Any] = {
    "rings_off": "yes", "gloves": "for contact heat", "lifted_by": "one person", "leads_isolated": "yes",
    "ventilated": "yes", "fire_watch": "yes",
}  # fmt: skip
RULED = (
    Ruled("rings-off", "rings", chosen("safety___rings_off"), "no", OUT, ASKED,
          "a ring on a finger heats with the bearing"),
    Ruled("gloves-on", "gloves", chosen("safety___gloves"), "other", OUT, ASKED,
          "bare metal from about 65 °C burns in a second"),
    Ruled("lifted-safely", "lifted", chosen("safety___lifted_by"), heavy, OUT, ASKED,
          "over 25 kg one person lifts no hot ring"),
    Ruled("leads-isolated", "leads", chosen("safety___leads_isolated"), "no", OUT, ASKED,
          "leads under voltage are no place for hands"),
    Ruled("ventilated", "air", chosen("safety___ventilated"), "no", OUT, ASKED,
          "oil, preservative and seals give off fumes"),
    Ruled("fire-watched", "fire watch, induction", chosen("safety___fire_watch"), "no", NONE, SILENT,
          "nothing burns over an induction heater", good=NONE),
    Ruled("fire-watched", "fire watch, oil bath", chosen("safety___fire_watch", gear=BATH), "no", OUT,
          ASKED,
          "oil above its flash point burns"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {}


def test_row_18_safety() -> None:
    """25 kg itself one person may lift, close to the body; what is asked of nobody is his health."""
    light = chosen("safety___lifted_by", mass_kg="25")("one person").rule("lifted-safely")[0]
    assert light.verdict == "conforming"
    assert heavy().rule("lifted-safely")[0].facts == {"by": "one person", "mass_g": 26_000}
    asked = {field.id for field in STEPS["safety"].fields}
    assert asked == {"rings_off", "gloves", "lifted_by", "leads_isolated", "ventilated", "fire_watch"}
