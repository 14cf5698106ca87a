"""Row 32: lubricant."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import Book, everything, sound
from tests.steps.ruled import ASKED, IN, LOOK, NONE, OUT, SILENT, Ruled, chosen

HEAVY = dict.fromkeys(("10 times", "25.4 times"), "so much is a fact, and judged")


def other_grease() -> Book:
    return sound(procedure=everything(), work_order___lubricant_asked="Hollow Blue 3")


SOUND: dict[str, Any] = {
    "lubricant": "grease", "product": "Hollow Green 2", "batch": "L-8812", "mass": ("18", "g"),
    "beside_old": "none left", "gun": "G-4",
}  # fmt: skip
RULED = (
    Ruled("lubricant-kind", "kind", chosen("lubrication___lubricant"), None, IN, ASKED,
          "grease, oil or filled by its maker"),
    Ruled("lubricant-as-asked", "product", chosen("lubrication___product"), other_grease, OUT, ASKED,
          "what the order asks, where it asks"),
    Ruled("lubricant-batch", "batch", chosen("lubrication___batch"), None, IN, ASKED,
          "a bad batch is found again by it"),
    Ruled("grease-fill", "mass", chosen("lubrication___mass"), ("60", "g"), LOOK, ASKED,
          "plant practice: 30 to 50 % of the free room"),
    Ruled("grease-fill", "kind", chosen("lubrication___lubricant"), "oil", NONE, SILENT,
          "oil is no filling"),
    Ruled("agrees-with-old", "old lubricant", chosen("lubrication___beside_old"), "not known", OUT, ASKED,
          "two soaps that do not agree turn to oil"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "lubrication.mass": Row("18", "0…10000 g", HEAVY, unit="g"),
    "lubrication.cavity_mass": Row(
        "180", "0…200000 g", HEAVY | {"1000 times": "a mill's housing holds that"}, unit="g"
    ),
}


def test_row_32_lubricant() -> None:
    """A 6212 takes about 14 to 23 g; one that came with its grease is not asked how much."""
    found = {
        g: chosen("lubrication___mass")((g, "g")).rule("grease-fill")[0] for g in ("13", "14", "23", "24")
    }
    assert [each.verdict.value for each in found.values()] == ["query", "conforming", "conforming", "query"]
    sealed = chosen("lubrication___mass", kinds=["sealed"])(("60", "g"))
    assert sealed.rule("grease-fill") == []
    assert other_grease().rule("lubricant-as-asked")[0].facts["wanted"] == "Hollow Blue 3"
