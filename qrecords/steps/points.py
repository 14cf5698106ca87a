"""Points of a procedure where somebody else comes in: hold, witness, review and surveillance, with the
contract's own wording, whom they concern, what they cover and how long before they are notified."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

HOLD, WITNESS, REVIEW, SURVEILLANCE = "hold", "witness", "review", "surveillance"
POINT_KINDS = (HOLD, WITNESS, REVIEW, SURVEILLANCE)
BUILT_IN_HOLDS = ("fit", "cold")
"""The two holds that the steps themselves know: before heat, and before the bearing is covered."""
HEAT, SIGN_OFF = "heat", "sign-off"
POINT_ID = r"^[a-z][a-z0-9-]{0,15}$"
LONGEST_WORDING = 600
MOST_NOTICE_MIN = 60 * 24 * 30
"""A month: a longer notice is no part of one mounting (house rule)."""


@dataclass(frozen=True)
class Point:
    """`covers` are steps, or `step.field`; `before` is the step that does not begin without a release of a
    hold (*heat*: the heater; *sign-off*: nothing but the signature waits). `notice_min` is how long before a
    witness point whoever it concerns is told."""

    id: str
    kind: str
    title: str
    party: str
    wording: str
    covers: tuple[str, ...]
    before: str = SIGN_OFF
    notice_min: int = 0

    def of_step(self, step: str) -> frozenset[str] | None:
        """The fields of a step that the point covers; empty for the whole of it, None for nothing of it."""
        if step in self.covers:
            return frozenset()
        fields = frozenset(name.partition(".")[2] for name in self.covers if name.startswith(f"{step}."))
        return fields or None

    @property
    def steps(self) -> tuple[str, ...]:
        """The steps it touches, each once."""
        return tuple(dict.fromkeys(name.partition(".")[0] for name in self.covers))


def read_point(document: Mapping[str, Any]) -> Point:
    return Point(
        id=str(document["id"]),
        kind=str(document["kind"]),
        title=str(document.get("title", "") or document["id"]),
        party=str(document.get("party", "")),
        wording=str(document.get("wording", "")),
        covers=tuple(str(name) for name in document["covers"]),
        before=str(document.get("before", "") or SIGN_OFF),
        notice_min=int(document.get("notice_min", 0)),
    )
