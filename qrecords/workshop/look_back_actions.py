"""Opening a look-back: what an error found later puts in doubt. What becomes of each mounting is said in
`mountings`, which knows them."""

import uuid
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from qrecords.ledger.append import atomic
from qrecords.outbox.jobs import enqueue
from qrecords.people.acting import Acting, require
from qrecords.people.models import RoleGrant
from qrecords.people.permissions import Action
from qrecords.people.stating import state
from qrecords.steps.calibration import point_fault
from qrecords.steps.errors import DocumentError
from qrecords.steps.new_gear import SCALES
from qrecords.steps.new_look_back import DRAWING, PERSON, PIECE, Asked, read_look_back
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import Equipment, JournalRequirement, LookBack

LONGEST_REASON = 400
JOB = "judge look-back"


@atomic()
def open_look_back(
    *, acting: Acting, site: uuid.UUID, look_back_id: uuid.UUID, document: Mapping[str, Any], why: str
) -> LookBack:
    """Open one. What it touches is judged again by a job written here; nothing that is recorded changes.
    DocumentError names the field that cannot be, RegisterFieldError what is not known at this site."""
    require(acting, Action.LOOK_BACK, site)
    acting = replace(acting, at_device=None)  # an act of authority has the server's time alone
    asked = read_look_back(document)
    piece = known_here(asked, site)
    reason = said_why(why)
    about = ("look-back", look_back_id)
    state(acting, "look-back", id=look_back_id, site=site, about=about, said=dict(document), reason=reason)
    row, new = LookBack.objects.get_or_create(
        id=look_back_id,
        defaults={
            "site": site,
            "subject": asked.subject,
            "of": asked.of,
            "equipment": piece,
            "person": _uuid(asked.of) if asked.subject == PERSON else None,
            "document": dict(document),
            "since": asked.since,
            "until": asked.until,
            "why": reason,
            "opened_by": acting.author.id,
            "opened_at": acting.now,
        },
    )
    if new:
        enqueue(JOB, look_back=str(row.id))
    return row


def known_here(asked: Asked, site: uuid.UUID) -> Equipment | None:
    """The piece, if it is of one; RegisterFieldError where piece, person or drawing is not known here."""
    if asked.subject == PIECE:
        found = Equipment.objects.filter(site=site, id=_uuid(asked.of)).first()
        if found is None:
            raise RegisterFieldError("of", asked.of, "a gauge, meter or heater registered here")
        for point in asked.error.points if asked.error else ():
            wrong = point_fault(SCALES[found.kind], point.document(), "u")
            if wrong:
                raise DocumentError("look-back", "points", wrong)
        return found
    if asked.subject == PERSON:
        known = RoleGrant.objects.filter(site=site, person=_uuid(asked.of)).exists()
        if not known:
            raise RegisterFieldError("of", asked.of, "a person who has or had a role here")
    if asked.subject == DRAWING:
        for name, revision in (("revision", asked.revision), ("right", asked.right)):
            rows = JournalRequirement.objects.filter(journal__site=site, drawing=asked.of, revision=revision)
            if not rows.exists():
                raise RegisterFieldError(name, revision, f"a revision of drawing {asked.of} registered here")
    return None


def said_why(text: str) -> str:
    reason = text.strip()
    if not reason or len(reason) > LONGEST_REASON or not reason.isprintable():
        raise RegisterFieldError("reason", text, f"1 to {LONGEST_REASON} characters in one line")
    return reason


def _uuid(text: str) -> uuid.UUID:
    try:
        return uuid.UUID(text)
    except ValueError:
        return uuid.UUID(int=0)
