"""Row 4: storage and packaging."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, LOOK, NONE, SILENT, Ruled, chosen

LONG = "a bearing may lie open for hours, which is judged"

SOUND: dict[str, Any] = {
    "shelf_age": ("8", "months"), "store_humidity": ("45", "%"), "stored": "lying flat", "store_shaken": "no",
    "open_for": ("20", "min"), "preserved": "kept",
}  # fmt: skip
RULED = (
    Ruled("grease-age", "age, greased", chosen("storage___shelf_age", kinds=["greased"]), ("37", "months"),
          LOOK, ASKED,
          "grease keeps two to three years"),
    Ruled("grease-age", "age, open bearing", chosen("storage___shelf_age"), ("60", "months"), NONE, SILENT,
          "it gets fresh grease: how long it lay is no fault", good=NONE),
    Ruled("store-dry", "humidity", chosen("storage___store_humidity"), ("70", "%"), LOOK, ASKED,
          "60 to 65 % at most"),
    Ruled("stored-flat", "stored", chosen("storage___stored"), "standing", LOOK, ASKED,
          "a large ring that stands goes oval"),
    Ruled("store-still", "shaken", chosen("storage___store_shaken"), "yes", LOOK, ASKED,
          "shaken and standing still it gets marks at roller pitch"),
    Ruled("open-time", "open", chosen("storage___open_for"), ("9", "h"), LOOK, ASKED,
          "dust settles from the first minute; a shift is the house rule"),
    Ruled("kept-preserved", "preserved", chosen("storage___preserved"), "washed off", LOOK, ASKED,
          "a new bearing is not washed, nor touched with bare hands"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "storage.shelf_age": Row(
        "8", "0…120 months", {"10 times": "80 months is old grease, which is judged"}, unit="months"
    ),
    "storage.store_humidity": Row("45", "10…100 %", unit="%"),
    "storage.store_temperature": Row("18", "-10…45 °C", unit="°C"),
    "storage.open_for": Row("20", "0…1440 min", {"10 times": LONG, "25.4 times": LONG}, unit="min"),
}


def test_row_04_storage_and_packaging() -> None:
    """65 % itself is dry; the age of the grease is asked of a bearing that came with its grease."""
    assert sound(procedure=everything(), storage___store_humidity=("65", "%")).flags() == {}
    damp = sound(procedure=everything(), storage___store_humidity=("66", "%"))
    assert damp.flags() == {"store-dry": "query"}
    greased = chosen("storage___shelf_age", kinds=["greased"])
    assert greased(("36", "months")).rule("grease-age")[0].verdict == "conforming"
