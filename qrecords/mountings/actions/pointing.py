"""What happens at the points of the contract: told, came, stayed away, waived, looked. Facts, but for a
waiver, which has the server's time alone. A hold's release is no part of this (`signoff`)."""

import uuid
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import RefusedError, refuse_closed
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.mountings.stating import Statement
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.steps.case import Case
from qrecords.steps.point_acts import LOOKED_AT, NOTIFIED, OF_KIND, TAKEN_BACK, WAIVED
from qrecords.steps.points import Point
from qrecords.steps.transitions import Refusal
from qrecords.workshop.errors import RegisterFieldError, UnknownObjectError

LONGEST = {"who": 80, "how": 200, "reason": 400}
CLOCKS_APART = timedelta(minutes=10)
"""What is said to have happened may lie so much after the clock here: two clocks differ."""


@dataclass(frozen=True)
class AtPoint:
    """What is said: who was told, came, waived or looked; how, or at what; when, where it was another moment;
    why, of a waiver or of what is taken back (`instead_of`)."""

    what: str
    who: str = ""
    how: str = ""
    at: datetime | None = None
    reason: str = ""
    instead_of: uuid.UUID | None = None


@atomic()
def say_at_point(
    *, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, point: str, said: AtPoint
) -> Entry:
    """Say what happened at a point of the procedure that the mounting began under. UnknownObjectError for a
    point it has not; RegisterFieldError names what is missing; RefusedError on a closed mounting, and for who
    worked on it and waives."""
    waiving = said.what == WAIVED
    require(acting, Action.WAIVE if waiving else Action.POINT, mounting.site)
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    case = case_of(locked)
    found = case.procedure.point(point)
    if found is None:
        raise UnknownObjectError("point", point)
    stating = Statement(
        acting=replace(acting, at_device=None) if waiving else acting,
        mounting=locked,
        kind="point",
        id=entry_id,
        said=_said(acting, found, said),
        prev=said.instead_of,
        reason=_reason(said),
    )
    known = stating.before()
    if known is not None:
        return known
    refuse_closed("point", case)
    if waiving and str(acting.author.id) in case.worked_by:
        raise RefusedError("waive", Refusal("not-independent", {"person": str(acting.author.id)}))
    if said.what == TAKEN_BACK and _taken_back(case, found, said) == WAIVED:
        require(acting, Action.WAIVE, mounting.site)
    seen = {"captures": sorted(case.standing_captures(point))} if said.what == LOOKED_AT else {}
    entry = stating.file(seen)
    judge(locked)
    return entry


def _said(acting: Acting, point: Point, said: AtPoint) -> dict[str, Any]:
    allowed = (*OF_KIND[point.kind], TAKEN_BACK)
    if said.what not in allowed:
        raise RegisterFieldError("what", said.what, ", ".join(allowed))
    words = {"point": point.id, "what": said.what}
    if said.what != TAKEN_BACK:
        words["who"] = _line("who", said.who)
    if said.how.strip() or said.what in (NOTIFIED, LOOKED_AT):
        words["how"] = _line("how", said.how)
    if said.at is not None:
        if said.at > acting.act_time + CLOCKS_APART:
            raise RegisterFieldError("at", said.at.isoformat(), "a moment that has been")
        words["at"] = said.at.isoformat()
    return words


def _reason(said: AtPoint) -> str | None:
    if said.what in (WAIVED, TAKEN_BACK) or said.reason.strip():
        return _line("reason", said.reason)
    return None


def _line(field: str, text: str) -> str:
    line = text.strip()
    if not line or len(line) > LONGEST[field] or not line.isprintable():
        raise RegisterFieldError(field, text, f"1 to {LONGEST[field]} characters in one line")
    return line


def _taken_back(case: Case, point: Point, said: AtPoint) -> str:
    """What is taken back: it was said at this point, and stands."""
    standing = [act for act in case.points if act.point == point.id and not act.taken_back]
    meant = next((act for act in standing if act.entry == str(said.instead_of)), None)
    if meant is None:
        raise UnknownObjectError("entry at this point", said.instead_of)
    return meant.what
