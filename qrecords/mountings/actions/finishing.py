"""How a mounting ends for who works on it: *ready for inspection*, the fitter's signature under what was
performed; or withdrawn before heat, because it was opened by mistake."""

import uuid

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import RefusedError, WhyWithdrawnError
from qrecords.mountings.judging import judge, look_elsewhere, store_judgement
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.people.stating import state
from qrecords.steps.transitions import refuse_ready, refuse_withdrawal


@atomic()
def ready(*, acting: Acting, mounting: Mounting, entry_id: uuid.UUID) -> Entry:
    """Sign that the work was performed as recorded. Judges, with what other records say, and stores it."""
    require(acting, Action.READY, mounting.site)
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    case = case_of(locked)
    known = [signature for signature in case.signatures if signature.entry == str(entry_id)]
    refusal = None if known else refuse_ready(case)
    if refusal:
        raise RefusedError("ready for inspection", refusal)
    leaves = known[0].said["leaves"] if known else sorted(case.leaves.values())
    entry = state(
        acting,
        "signature",
        id=entry_id,
        site=locked.site,
        mounting=locked.id,
        said={"meaning": "performed", "leaves": leaves},
        procedure=locked.procedure_digest,
    )
    if not known:
        look_elsewhere(acting, locked, entry_id=entry_id)
        store_judgement(acting, locked, judge(locked), "ready", entry_id=entry_id)
    return entry


@atomic()
def withdraw(*, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, reason: str) -> Entry:
    """Close a mounting that was opened by mistake, by who opened it or by the engineer. Everything recorded
    stays readable. RefusedError once heat was on: then the ring is decided about."""
    require(acting, Action.WITHDRAW, mounting.site, own=mounting.opened_by == acting.author.id)
    if not reason.strip():
        raise WhyWithdrawnError
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    if not Entry.objects.filter(id=entry_id).exists():
        refusal = refuse_withdrawal(case_of(locked))
        if refusal:
            raise RefusedError("withdrawal", refusal)
    entry = state(
        acting,
        "withdrawal",
        id=entry_id,
        site=locked.site,
        mounting=locked.id,
        said={},
        reason=reason.strip(),
    )
    judge(locked)
    return entry
