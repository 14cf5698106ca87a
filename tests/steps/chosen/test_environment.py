"""Row 10: environment and equal temperature."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import Book, everything, sound
from tests.steps.ruled import ASKED, LOOK, Ruled, chosen

OVER_DAYS = "over days is together too"


def warming_up() -> Book:
    return sound(
        procedure=everything(), environment___together_for=("30", "min"), measurement___shaft=("18", "°C")
    )


SOUND: dict[str, Any] = {"humidity": ("45", "%"), "together_for": ("5", "h"), "dust": "none"}
RULED = (
    Ruled("room-dry", "humidity", chosen("environment___humidity"), ("70", "%"), LOOK, ASKED,
          "water on cold steel is rust by morning"),
    Ruled("together-long", "together, drifting", chosen("environment___together_for"), warming_up, LOOK,
          ASKED,
          "what still drifts is not one temperature"),
    Ruled("no-dust", "dust", chosen("environment___dust"), "grinding or welding nearby", LOOK, ASKED,
          "grinding dust laps a bearing from the first turn"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "environment.humidity": Row("45", "10…100 %", unit="%"),
    "environment.together_for": Row(
        "5", "0…168 h", {"10 times": OVER_DAYS, "25.4 times": OVER_DAYS}, unit="h"
    ),
}


def test_row_10_environment_and_one_temperature() -> None:
    """Half an hour is enough for what reads within a kelvin, and not for what is two apart."""
    settled = chosen("environment___together_for")(("30", "min"))
    assert settled.flags() == {}
    assert warming_up().flags() == {"together-long": "query"}
