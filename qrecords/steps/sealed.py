"""What a second reader must not see before his own reading: the first reading, and all that is worked out
from it. Two people who read the same thing are two readings only if neither saw the other's."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from qrecords.steps.answers import Absent
from qrecords.steps.case import Case
from qrecords.steps.gauges import STEP_ID
from qrecords.steps.transitions import CLOSED, state_of

DISPLAY_SHOT = "micrometer"
FROM_MARKING = ("ring-marking",)
FROM_READINGS = (
    "journal-size",
    "journal-roundness",
    "journal-taper",
    "interference",
    "clearance-forecast",
    "clearance-as-forecast",
    "slid-on",
    "pressed-home",
    "same-digits",
)
"""The rules whose facts give the first reading away."""


@dataclass(frozen=True)
class Sealed:
    """What is kept back from one reader. False as a whole where nothing is."""

    marking: bool = False
    readings: bool = False

    def __bool__(self) -> bool:
        return self.marking or self.readings

    def rule(self, rule: str) -> bool:
        return (self.marking and rule in FROM_MARKING) or (self.readings and rule in FROM_READINGS)

    def answer(self, step: str, key: str) -> bool:
        if (step, key) == ("identification", "marking"):
            return self.marking
        return self.readings and step == STEP_ID and key.startswith("journal.")

    def entry(self, kind: str, payload: Mapping[str, Any], reader: str) -> bool:
        """Whether an entry as it is stored gives a sealed reading away: the capture itself, and whatever
        judges it, repeats it, or cannot be read here. One's own entries say what one knows."""
        if kind in OF_A_PERSON and (payload["author"] or {}).get("person") == reader:
            return False
        step = payload["body"]["said"].get("step")
        if kind == "capture" and step == "identification":
            return self.marking
        if kind == "capture" and step == STEP_ID:
            return self.readings
        return bool(self) and kind not in WITHOUT_READING


OF_A_PERSON = frozenset({"capture", "release", "decision", "looked"})
WITHOUT_READING = frozenset(
    {
        "mounting",
        "capture",
        "tap",
        "attachment",
        "file received",
        "return",
        "point",
        "withdrawal",
        "drawing",
        "signature",
        "amendment",
    }
)
"""Kinds of entry that repeat no reading. A release by telephone does; so may reasons of who decided."""


def sealed_for(case: Case, person: str, *, may_check: bool, read_display: bool) -> Sealed:
    """Sealed for whoever may check and did not work on it, while the record is open and the ring not read:
    who said that it could not be read has still to read it. The readings only where there is a photo of the
    display to read."""
    # What was signed once has been read by two; an amendment seals nothing again.
    if not may_check or person in case.worked_by or case.amendments or state_of(case) in CLOSED:
        return Sealed()
    own = case.checks.get("identification", {}).get("marking")
    display = any(photo.shot == DISPLAY_SHOT and photo.received for photo in case.photos)
    typed = any(case.value_of(STEP_ID, answered.key) for answered in case.many(STEP_ID, "journal"))
    unread = own is None or isinstance(own.answer, Absent)
    return Sealed(marking=unread, readings=display and typed and not read_display)
