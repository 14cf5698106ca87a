"""Row 33: protect."""

from typing import Any

from tests.numbers.number_row import Row
from tests.steps.casebook import everything, sound
from tests.steps.ruled import ASKED, LOOK, OUT, Ruled, chosen

LATE = dict.fromkeys(("10 times", "25.4 times"), "covered late is a fact, and judged")

SOUND: dict[str, Any] = {
    "covered_within": ("5", "min"), "shaft_supported": "yes", "rotor_locked": "yes", "kept": "lying",
    "turned_weekly": "yes",
}  # fmt: skip
RULED = (
    Ruled("covered-soon", "within", chosen("resting___covered_within"), ("40", "min"), LOOK, ASKED,
          "dust settles from the first minute"),
    Ruled("shaft-supported", "supported", chosen("resting___shaft_supported"), "no", OUT, ASKED,
          "a shaft that hangs in one bearing dents it"),
    Ruled("rotor-locked", "locked", chosen("resting___rotor_locked"), "no", OUT, ASKED,
          "shaken on the road it gets marks at roller pitch"),
    Ruled("kept-lying", "kept", chosen("resting___kept"), "standing", LOOK, ASKED,
          "standing, the whole weight rests on one ring"),
    Ruled("turned-weekly", "turned", chosen("resting___turned_weekly"), "no", LOOK, ASKED,
          "a bearing that stands squeezes its grease out"),
)  # fmt: skip
NUMBERED: dict[str, Row] = {"resting.covered_within": Row("5", "0…1440 min", LATE, unit="min")}


def test_row_33_protect() -> None:
    """Half an hour is soon enough; a machine that is not moved needs no lock."""
    assert sound(procedure=everything(), resting___covered_within=("30", "min")).flags() == {}
    late = sound(procedure=everything(), resting___covered_within=("31", "min"))
    assert late.flags() == {"covered-soon": "query"}
    assert sound(procedure=everything(), resting___rotor_locked="not moved").flags() == {}
