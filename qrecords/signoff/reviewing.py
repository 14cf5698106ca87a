"""Looking again at what was signed with reduced independence."""

import uuid

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.barring import lock_with_bearing
from qrecords.mountings.errors import ChangedMeanwhileError, RefusedError
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.mountings.stating import Statement
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.signoff.errors import ReasonNeededError
from qrecords.steps.reduced import refuse_review
from qrecords.steps.shown import Extent, not_shown


@atomic()
def review(
    *, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, agreed: bool, words: str, shown: Extent
) -> Entry:
    """An independent inspector looked at all that was shown and agrees, or does not and says why. The
    signature stays what it was: what has to be changed is an amendment. RefusedError where nothing waits for
    it, or for who is not independent; ChangedMeanwhileError if anything came since."""
    require(acting, Action.REVIEW, mounting.site)
    if not agreed and not words.strip():
        raise ReasonNeededError("look again")
    locked = lock_with_bearing(mounting)
    said = {"agreed": "yes" if agreed else "no", "shown": shown.document()}
    reason = words.strip() or None
    looking = Statement(
        acting=acting, mounting=locked, kind="re-review", id=entry_id, said=said, reason=reason
    )
    known = looking.before()
    if known is not None:
        return known
    case = case_of(locked)
    refusal = refuse_review(case, str(acting.author.id))
    if refusal:
        raise RefusedError("look again", refusal)
    new = not_shown(case, shown)
    if new:
        raise ChangedMeanwhileError(new)
    entry = looking.file()
    judge(locked)
    return entry
