"""How a mounting ends for who works on it: *ready for inspection*, the fitter's signature under what was
performed; or withdrawn before heat, because it was opened by mistake."""

import uuid

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.barring import lock_with_bearing, refuse_barred
from qrecords.mountings.errors import ChangedMeanwhileError, RefusedError, WhyWithdrawnError
from qrecords.mountings.judging import judge, judged_now, look_elsewhere, store_judgement
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.mountings.stating import Statement
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action, Scope
from qrecords.steps.shown import Extent, not_shown
from qrecords.steps.transitions import refuse_ready, refuse_withdrawal


@atomic()
def ready(*, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, shown: Extent) -> Entry:
    """Sign that the work was performed as recorded, over exactly what was shown (ChangedMeanwhileError if
    anything came since). Judges, with what other records say, and stores it. BarredBearingError or
    BearingElsewhereError where this bearing may not go on."""
    require(acting, Action.READY, mounting.site)
    locked = lock_with_bearing(mounting)
    signature = Statement(
        acting=acting,
        mounting=locked,
        kind="signature",
        id=entry_id,
        said={"meaning": "performed", "shown": shown.document()},
    )
    known = signature.before()
    if known is not None:
        return known
    refuse_barred(locked)
    case = case_of(locked)
    refusal = refuse_ready(case, str(acting.author.id))
    if refusal:
        raise RefusedError("ready for inspection", refusal)
    new = not_shown(case, shown)
    if new:
        raise ChangedMeanwhileError(new)
    entry = signature.file()
    look_elsewhere(acting, locked, cause=entry_id)
    store_judgement(acting, locked, judge(locked), "ready", cause=entry_id)
    return entry


@atomic()
def withdraw(*, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, reason: str) -> Entry:
    """Close a mounting that was opened by mistake, by who opened it or by the engineer; by the engineer alone
    once something of the fit was found not to conform or not proven. Everything recorded stays readable.
    RefusedError once heat was on: then the ring is decided about."""
    right = require(acting, Action.WITHDRAW, mounting.site, own=mounting.opened_by == acting.author.id)
    if not reason.strip():
        raise WhyWithdrawnError
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    withdrawal = Statement(
        acting=acting, mounting=locked, kind="withdrawal", id=entry_id, reason=reason.strip()
    )
    known = withdrawal.before()
    if known is not None:
        return known
    judged = judged_now(locked)
    own_alone = right.scope == Scope.OWN
    refusal = refuse_withdrawal(
        judged.case, str(acting.author.id), judged.of_hold("fit"), own_alone=own_alone
    )
    if refusal:
        raise RefusedError("withdrawal", refusal)
    entry = withdrawal.file()
    judge(locked)
    return entry
