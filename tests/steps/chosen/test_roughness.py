"""Row 9: roughness."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, NONE, OUT, SILENT, Ruled, chosen

SOUND: dict[str, Any] = {"ra": ("0.8", "um"), "ra_by": "comparator", "ra_instrument": "C-2"}
RULED = (
    Ruled("seat-roughness", "Ra", chosen("roughness___ra"), ("0.9", "um"), OUT, ASKED,
          "the workshop that chose it wants it (ruling 9: else optional); a rough seat is pressed flat"),
    Ruled("seat-roughness", "Ra, own limits", chosen("roughness___ra", shaft_class="", limits_um=["11",
          "30"]), ("1.6", "um"), NONE, SILENT,
          "the drawing names no class: no table says how smooth", good=NONE),
)  # fmt: skip
NUMBERED: dict[str, Row] = {"roughness.ra": Row("0.8", "0.05…6.3 um", unit="um")}


def test_row_09_roughness() -> None:
    """IT5: 0.4 up to 80 mm and 0.8 above; IT6: 0.8 and 1.6 (DIN 5425, from memory)."""
    limits = {}
    for nominal, of_class in (
        ("60", "m5"),
        ("60", "m6"),
        ("80", "k6"),
        ("100", "m5"),
        ("100", "n6"),
        ("60", "k7"),
    ):
        book = sound(procedure=everything())
        book.requirement |= {"nominal_mm": nominal, "shaft_class": of_class, "outside_mm": "150"}
        found = book.rule("seat-roughness")
        limits[nominal, of_class] = found[0].upper if found else None
    assert list(limits.values()) == [400, 800, 800, 800, 1600, None]
