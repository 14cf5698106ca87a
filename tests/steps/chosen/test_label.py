"""Row 34: record, label, first run."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import Book, everything, sound
from tests.steps.ruled import ASKED, IN, NONE, OUT, SILENT, Ruled, chosen

ROUGH = {"10 times": "20 mm/s is a fact, and judged"}


def shaking() -> Book:
    changes: dict[str, Any] = {
        "label___first_vibration": ("5", "mm/s"),
        "label___vibration_most": ("2.8", "mm/s"),
    }
    return sound(procedure=everything(), **changes)


SOUND: dict[str, Any] = {"label_number": "LB-0042"}
RULED = (
    Ruled("labelled", "label", chosen("label___label_number"), None, IN, ASKED,
          "a record that nobody finds again proves nothing"),
    Ruled("first-vibration", "vibration", chosen("label___first_vibration"), shaking, OUT, SILENT,
          "ruling 9: optional, and judged where the order says how much", good=NONE),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "label.first_vibration": Row("2", "0…50 mm/s", ROUGH, unit="mm/s"),
    "label.vibration_most": Row("2", "0…50 mm/s", ROUGH, unit="mm/s"),
    "label.first_temperature": Row("55", "-20…120 °C", unit="°C"),
}


def test_row_34_record_label_and_first_run() -> None:
    """The first run may come later: without it the record is whole."""
    assert sound(procedure=everything()).flags() == {}
    assert shaking().flags() == {"first-vibration": "nonconforming"}
