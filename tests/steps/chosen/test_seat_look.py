"""Row 5: the seat cleaned and looked at."""

from typing import Any

from qrecords.steps.standard import RULES
from qrecords.steps.transitions import refuse_release
from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, LOOK, OUT, Ruled, chosen

SOUND: dict[str, Any] = {
    "nicks": "none", "fretting": "removed", "repair": "none", "keyway": "edges broken", "threads": "covered",
    "oil_holes": "clean", "remedy": "stoned",
}  # fmt: skip
RULED = (
    Ruled("seat-nicks", "nicks", chosen("seat_look___nicks"), "left", OUT, ASKED,
          "no raised metal, by marker-blue or nail"),
    Ruled("seat-fretting", "fretting", chosen("seat_look___fretting"), "left", OUT, ASKED,
          "what is left of it is a seat of another size"),
    Ruled("seat-repair", "repair", chosen("seat_look___repair"), "soft or loose", OUT, ASKED,
          "a sprayed seat that feels soft gives way"),
    Ruled("keyway-edges", "keyway", chosen("seat_look___keyway"), "edges sharp", OUT, ASKED,
          "a crack begins at a sharp edge"),
    Ruled("threads-covered", "threads", chosen("seat_look___threads"), "bare", LOOK, ASKED,
          "a thread scores a bore pushed over it"),
    Ruled("oil-holes", "oil holes", chosen("seat_look___oil_holes"), "blocked", OUT, ASKED,
          "a blocked hole starves the bearing"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {}


def test_row_05_clean_and_look_at_the_seat() -> None:
    """A burr left keeps the fit from being released; one that was removed does not."""
    assert sound(procedure=everything(), seat_look___nicks="removed").flags() == {}
    case = sound(procedure=everything(), seat_look___nicks="left").case()
    refused = refuse_release(case, "inspector", "fit", RULES["seat-nicks"].findings(case))
    assert refused is not None and refused.facts == {"findings": ("seat-nicks",)}
