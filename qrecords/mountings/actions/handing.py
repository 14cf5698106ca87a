"""Handing over at the change of shift: the work goes on in other hands, and the record names both."""

import uuid

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import FieldsError, refuse_closed
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.mountings.stating import Statement
from qrecords.people.acting import Acting, require
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import rights_of, version_at
from qrecords.steps.errors import FieldError

LONGEST_NOTE = 200


@atomic()
def hand_over(
    *, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, to: Person, note: str = ""
) -> Entry:
    """Hand a mounting over to the next fitter: it stands on his list from now on. It bars nobody and obliges
    nobody; who worked is told by the entries. FieldsError for who records no work at this site, for oneself,
    or for a note that is no line; RefusedError once it is closed."""
    require(acting, Action.RECORD, mounting.site)
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    said = {"to": str(to.id), **({"note": note.strip()} if note.strip() else {})}
    handing = Statement(acting=acting, mounting=locked, kind="hand over", id=entry_id, said=said)
    known = handing.before()
    if known is not None:
        return known
    refuse_closed("record", case_of(locked))
    _refuse(acting, locked, to, note)
    entry = handing.file({"person": version_at(to.id, acting.now).hash})
    judge(locked)
    return entry


def _refuse(acting: Acting, mounting: Mounting, to: Person, note: str) -> None:
    records = rights_of(to.id, acting.now).at(Action.RECORD, mounting.site).scope
    if to.id == acting.author.id or not records or not to.is_active:
        allowed = "another person who records work at this site"
        raise FieldsError({"to": FieldError("to", str(to.id), "", allowed)})
    if len(note.strip()) > LONGEST_NOTE or not note.strip().isprintable():
        allowed = f"up to {LONGEST_NOTE} characters in one line"
        raise FieldsError({"note": FieldError("note", note, "", allowed)})
