"""Keeping what cannot be read: at sync nobody is there to be asked, and no fact is refused for its words."""

import uuid

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import refuse_closed
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.mountings.stating import Statement
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action

ROLES = {Action.RECORD: "work", Action.TAP: "work", Action.CHECK: "check"}
"""As what it counts, by the right under which it came; *other* is neither work nor check."""
UNREAD = "unread"


@atomic()
def keep_unread(
    *, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, right: Action, sent: str, why: str
) -> Entry:
    """File the very text that was sent, under a kind that states nothing else: who may record is believed to
    have recorded something, and gives no release by it. RefusedError on a closed mounting."""
    require(acting, right, mounting.site)
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    said = {"role": ROLES.get(right, "other"), "sent": sent}
    keeping = Statement(acting=acting, mounting=locked, kind=UNREAD, id=entry_id, said=said)
    known = keeping.before()
    if known is not None:
        return known
    refuse_closed("record", case_of(locked))
    entry = keeping.file({"why": why})
    judge(locked)
    return entry
