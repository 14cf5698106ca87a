"""Row 16: the housing bore and the floating side."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, CLOSE, IN, NONE, OUT, SILENT, UNPROVEN, Ruled, chosen

UM = "um from 110 mm"
BORE = tuple(f"housing___housing_bore__{plane}__{at}" for plane in "ABC" for at in (0, 60, 120))
SIGNED = {"negative": "either sign is a deviation", "10 times": "120 µm over D is a fact, and judged"}
LONG = {"10 times": "ship's shafts are 12 m long"}

SOUND: dict[str, Any] = {
    "housing_class": "H7", "housing_gauge": "bore_gauge", "floats": "this bearing",
    "bearings_apart": ("1200", "mm"), "warmer_by": ("50", "K"), "room_outward": ("2", "mm"),
    "room_inward": ("1",
    "mm"), **{f"housing_bore__{p}__{at}": ("12", UM) for p in "ABC" for at in (0, 60, 120)},
}  # fmt: skip
RULED = (
    Ruled("housing-bore", "every reading", chosen(*BORE), ("41", UM), OUT, ASKED,
          "an outer ring that cannot move, or spins"),
    Ruled("housing-bore", "one reading", chosen("housing___housing_bore__C__60"), ("35.5", UM), CLOSE, ASKED,
          "near the limit it is too close to call"),
    Ruled("housing-bore", "class", chosen("housing___housing_class"), "Z99", CLOSE, ASKED,
          "of no such class nothing is proven"),
    Ruled("housing-bore", "gauge", chosen("housing___housing_gauge"), None, IN, UNPROVEN,
          "a number by no known gauge"),
    Ruled("one-floats", "floats", chosen("housing___floats"), "neither", OUT, ASKED,
          "two that both hold push against each other"),
    Ruled("room-outward", "room", chosen("housing___room_outward"), ("0.6", "mm"), OUT, ASKED,
          "1.2 m and 50 K grow by 0.69 mm"),
    Ruled("room-outward", "apart", chosen("housing___bearings_apart"), ("4000", "mm"), OUT, ASKED,
          "without the distance nobody knows how much it grows"),
    Ruled("room-outward", "warmer", chosen("housing___warmer_by"), ("150", "K"), OUT, ASKED,
          "nor without the difference"),
    Ruled("room-outward", "floats", chosen("housing___floats"), "the other bearing", NONE, SILENT,
          "a bearing that locates needs no room"),
    Ruled("room-inward", "room", chosen("housing___room_inward"), ("0.6", "mm"), OUT, ASKED,
          "a shaft that cools pulls the other way"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "housing.housing_bore": Row(
        "12", "-150…150 um from 110 mm", SIGNED, unit="um from 110 mm", key="housing_bore.A.0"
    ),
    "housing.bearings_apart": Row("1200", "20…20000 mm", LONG, unit="mm"),
    "housing.warmer_by": Row("50", "0…150 K", unit="K"),
    "housing.room_outward": Row("2", "0…30 mm", {"10 times": "some have 20 mm of room"}, unit="mm"),
    "housing.room_inward": Row("2", "0…30 mm", {"10 times": "some have 20 mm of room"}, unit="mm"),
}


def test_row_16_housing_and_floating_side() -> None:
    """1.2 m of shaft, 50 K warmer: 11.5e-6 × 1200 × 50 = 0.69 mm. Room of exactly that is enough."""
    found = {
        mm: chosen("housing___room_outward")((mm, "mm")).rule("room-outward")[0] for mm in ("0.69", "0.68")
    }
    assert [each.verdict.value for each in found.values()] == ["conforming", "nonconforming"]
    assert found["0.69"].lower == 690_000 and found["0.69"].working is not None
    located = sound(
        procedure=everything(), housing___floats="the other bearing", housing___bearings_apart=None
    )
    assert located.flags() == {}
