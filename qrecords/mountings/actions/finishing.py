"""*Ready for inspection*: the fitter's signature under what was performed."""

import uuid

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import RefusedError
from qrecords.mountings.judging import judge, look_elsewhere, store_judgement
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.people.stating import state
from qrecords.steps.transitions import refuse_ready


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
