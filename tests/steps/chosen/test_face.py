"""Row 28: run-out of the inner ring face."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, IN, JUDGED, OUT, Ruled, chosen

SOUND: dict[str, Any] = {"face_runout": ("6", "um"), "face_dial": "dial"}
RULED = (
    Ruled("face-runout", "run-out", chosen("face___face_runout"), ("16", "um"), OUT, ASKED,
          "ruling 9: optional but where it was chosen; a ring that wobbles breaks its cage"),
    Ruled("face-runout", "dial", chosen("face___face_dial"), None, IN, JUDGED,
          "without a gauge of known u the guard is nought (ruling 2)"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {
    "face.face_runout": Row("6", "0…60 um", {"10 times": "60 µm is a fact, and judged"}, unit="um")
}


def test_row_28_inner_ring_face_run_out() -> None:
    """At the limit of 13 µm, with a dial of known u, too close to call; measured again after a heating."""
    assert chosen("face___face_runout")(("13", "um")).rule("face-runout")[0].verdict == "not proven"
    again = sound(procedure=everything())
    again.tap("heater on")
    assert again.rule("face-runout")[0].message == "face-runout.before-heat"
