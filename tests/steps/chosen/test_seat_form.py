"""Row 8: roundness and taper by a method that sees lobes."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.ruled import ASKED, CLOSE, IN, JUDGED, OUT, Ruled, chosen

SOUND: dict[str, Any] = {"form_by": "form tester", "out_of_round": ("3", "um"), "form_gauge": "dial"}
RULED = (
    Ruled("form-method", "method", chosen("seat_form___form_by"), "two points", CLOSE, ASKED,
          "two points read one diameter on three lobes"),
    Ruled("seat-roundness", "out of round", chosen("seat_form___out_of_round"), ("9", "um"), OUT, ASKED,
          "half of IT5, radial"),
    Ruled("seat-roundness", "dial", chosen("seat_form___form_gauge"), None, IN, JUDGED,
          "without a gauge of known u the guard is nought (ruling 2)"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "seat_form.out_of_round": Row(
        "5", "0…60 um", {"10 times": "50 µm out of round is a fact, and judged"}, unit="um"
    )
}


def test_row_08_roundness_and_taper() -> None:
    """A form tester's radial figure against half of IT5, 6.5 µm, with the guard of its gauge."""
    found = {
        um: chosen("seat_form___out_of_round")((um, "um")).rule("seat-roundness")[0]
        for um in ("5", "6.4", "8")
    }
    assert [each.verdict.value for each in found.values()] == ["conforming", "not proven", "nonconforming"]
    assert found["5"].upper == 6_500 and found["5"].u
