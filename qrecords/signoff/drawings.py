"""The right drawing found later: the raw readings are judged by it, as a judgement beside the old one.

An open record is judged by it from here on; of a closed one it is said what would have been found. Nothing
recorded changes, and no old judgement goes.
"""

import uuid

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.again import judge_again, keep_again
from qrecords.mountings.barring import lock_with_bearing
from qrecords.mountings.errors import RefusedError
from qrecords.mountings.judging import Judged, judge, judged_now, store_judgement
from qrecords.mountings.models import Mounting
from qrecords.mountings.stating import Statement
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.signoff.errors import ReasonNeededError
from qrecords.steps.again import changes, class_of, with_requirement
from qrecords.steps.folding import JUDGES
from qrecords.steps.transitions import CLOSED, Refusal, state_of
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import JournalRequirement

OCCASION = "drawing"


@atomic()
def put_drawing_right(
    *, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, requirement: JournalRequirement, reason: str
) -> Entry:
    """Say which drawing revision was the right one, and judge by it. RefusedError for who worked on the
    mounting, and for the drawing that judges it already."""
    require(acting, Action.JUDGE_AGAIN, mounting.site)
    if not reason.strip():
        raise ReasonNeededError(OCCASION)
    if requirement.journal_id != mounting.journal_id:
        raise UnknownObjectError("drawing revision of this journal", requirement.id)
    locked = lock_with_bearing(mounting)
    said = {"requirement": str(requirement.id)}
    putting = Statement(
        acting=acting, mounting=locked, kind="drawing", id=entry_id, said=said, reason=reason.strip()
    )
    known = putting.before()
    if known is not None:
        return known
    before = judged_now(locked)
    _refuse(acting, before, requirement)
    closed = state_of(before.case) in CLOSED
    asked = before.case.requirement
    stood = {"drawing": asked.drawing, "revision": asked.revision}
    judges = JUDGES[1] if closed else JUDGES[0]
    entry = putting.file({"requirement": requirement.document, "judges": judges, "stood": stood})
    if closed:
        judge_again(
            acting=acting,
            mounting=locked,
            put_right=lambda case: with_requirement(case, requirement.document),
            occasion=OCCASION,
            cause=entry.id,
        )
    else:
        _from_here_on(acting, locked, before, entry)
    return entry


def _refuse(acting: Acting, before: Judged, requirement: JournalRequirement) -> None:
    refusal = None
    if str(acting.author.id) in before.case.worked_by:
        refusal = Refusal("not-independent", {"person": str(acting.author.id)})
    elif dict(before.case.requirement.document) == dict(requirement.document):
        refusal = Refusal("same-drawing", {"drawing": requirement.drawing, "revision": requirement.revision})
    if refusal:
        raise RefusedError("drawing", refusal)


def _from_here_on(acting: Acting, mounting: Mounting, before: Judged, cause: Entry) -> None:
    """An open record: what stood is kept as it was found, and what is found now is a judgement beside it."""
    store_judgement(acting, mounting, before, "before drawing", cause=cause.id)
    after = judge(mounting)
    changed = changes(before.findings, after.findings)
    seen = {"class": class_of(changed).value, "changed": [change.document() for change in changed]}
    store_judgement(acting, mounting, after, OCCASION, cause=cause.id, seen=seen)
    keep_again(mounting, judged_now(mounting).case)
