"""Row 25: cooling."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, OUT, Ruled, chosen

OVERNIGHT = dict.fromkeys(("10 times", "25.4 times"), "it may lie overnight")

SOUND: dict[str, Any] = {"cooled": "in still air", "tightened_again": "no nut", "cooled_for": ("40", "min")}
RULED = (
    Ruled("cooled-by-itself", "cooled", chosen("cooling_down___cooled"), "quenched", OUT, ASKED,
          "one side that cools first pulls the ring off its shoulder"),
    Ruled("tightened-again", "nut", chosen("cooling_down___tightened_again"), "no", OUT, ASKED,
          "the ring gets shorter while it cools"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {"cooling_down.cooled_for": Row("40", "0…10080 min", OVERNIGHT, unit="min")}


def test_row_25_cool() -> None:
    """A second heating is cooled down from anew."""
    for how in ("by a fan", "quenched"):
        assert sound(procedure=everything(), cooling_down___cooled=how).flags() == {
            "cooled-by-itself": "nonconforming"
        }
    again = sound(procedure=everything())
    again.tap("heater on")
    assert again.rule("cooled-by-itself")[0].message == "cooled-by-itself.before-heat"
