"""What happened at a point of the contract: who was told and when, who came, what was waived, who looked."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from qrecords.steps.points import HOLD, REVIEW, SURVEILLANCE, WITNESS

NOTIFIED, CAME, STAYED_AWAY, WAIVED = "notified", "came", "did not come", "waived"
LOOKED_AT, LOOKED_IN, TAKEN_BACK = "looked at", "looked in", "taken back"
POINT_ACTS = (NOTIFIED, CAME, STAYED_AWAY, WAIVED, LOOKED_AT, LOOKED_IN, TAKEN_BACK)
OF_KIND: Mapping[str, tuple[str, ...]] = {
    HOLD: (NOTIFIED, CAME, STAYED_AWAY),
    WITNESS: (NOTIFIED, CAME, STAYED_AWAY, WAIVED),
    REVIEW: (LOOKED_AT,),
    SURVEILLANCE: (LOOKED_IN,),
}
"""What can be said at a point of each kind; any of it can be taken back, with a reason."""


@dataclass(frozen=True)
class PointAct:
    """`who` was told, came, waived or looked; `how` he was told, or what he looked at. `at` is when it was
    said, `told` the moment that somebody says it was, where that is another. `captures`: what stood in the
    steps that a review covers."""

    point: str
    what: str
    who: str
    how: str
    at: datetime
    entry: str
    author: str
    reason: str = ""
    told: datetime | None = None
    captures: frozenset[str] = frozenset()
    taken_back: str = ""
    """Why it is said to be none; '' where it stands."""

    @property
    def moment(self) -> datetime:
        """When it happened, as far as anybody says."""
        return self.told or self.at


def read_point_act(entry: Any, at: datetime, said: Mapping[str, Any], seen: Mapping[str, Any]) -> PointAct:
    told = said.get("at")
    return PointAct(
        point=str(said["point"]),
        what=str(said["what"]),
        who=str(said.get("who", "")),
        how=str(said.get("how", "")),
        at=at,
        entry=str(entry.id),
        author=entry.payload["author"]["person"],
        reason=str(entry.payload["reason"] or ""),
        told=datetime.fromisoformat(told) if told else None,
        captures=frozenset(seen.get("captures", ())),
    )


def with_act(acts: Sequence[PointAct], act: PointAct, before: str | None) -> list[PointAct]:
    """The acts with one more; what is taken back stays, struck out."""
    if act.what != TAKEN_BACK:
        return [*acts, act]
    return [replace(each, taken_back=act.reason) if each.entry == before else each for each in acts]
