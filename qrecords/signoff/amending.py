"""A signed record changes only by a numbered amendment: opened with a reason, signed again by both."""

import uuid

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import RefusedError
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.mountings.stating import Statement
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.signoff.errors import ReasonNeededError
from qrecords.steps.transitions import refuse_amendment


@atomic()
def amend(*, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, reason: str) -> Entry:
    """Open a signed record for its next amendment. What was signed stays as it was signed and readable; what
    comes now, both roles sign again. RefusedError unless the record is signed off."""
    require(acting, Action.AMEND, mounting.site)
    if not reason.strip():
        raise ReasonNeededError("amendment")
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    amending = Statement(acting=acting, mounting=locked, kind="amendment", id=entry_id, reason=reason.strip())
    known = amending.before()
    if known is not None:
        return known
    case = case_of(locked)
    refusal = refuse_amendment(case)
    if refusal:
        raise RefusedError("amendment", refusal)
    entry = amending.file({"number": len(case.amendments) + 1})
    judge(locked)
    return entry
