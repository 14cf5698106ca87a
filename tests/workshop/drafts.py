"""Procedures of the tests: drafted by one of the cast, approved by others."""

from datetime import datetime
from typing import Any

from qrecords.ledger.identifiers import new_id
from qrecords.steps.procedure import STANDARD
from qrecords.workshop.models import ProcedureAct, ProcedureDraft, ProcedureVersion
from qrecords.workshop.procedure_actions import approve_procedure, draft_procedure
from tests.cast import Job, Workshop, make_workshop, start

VISIT = {
    "id": "visit", "kind": "witness", "title": "Fit seen", "party": "class surveyor",
    "wording": "Surveyor to be given one hour's notice of fit-up.", "covers": ["measurement.journal"],
    "notice_min": 60,
}  # fmt: skip
IDENTITY = {
    "id": "identity", "kind": "hold", "title": "Identity", "party": "inspector",
    "covers": ["identification"], "before": "measurement",
}  # fmt: skip
PAPERS = {"id": "papers", "kind": "review", "title": "Papers", "party": "customer", "covers": ["bore"]}
POINTS = [IDENTITY, VISIT, PAPERS]
"""Of a contract: the inspector's hold on identity, the surveyor's witness point, the customer's review."""


def revised(revision: str = "B", **changes: Any) -> dict[str, Any]:
    """The standard procedure as its next revision says it."""
    return {**STANDARD, "revision": revision, **changes}


def drafted(
    shop: Workshop,
    who: str = "engineer",
    *,
    instead_of: ProcedureDraft | None = None,
    wanted_from: datetime | None = None,
    **changes: Any,
) -> ProcedureDraft:
    return draft_procedure(
        acting=shop.acting(who), site=shop.site, draft_id=new_id(), document=revised(**changes),
        reason="the customer asks for it", wanted_from=wanted_from, instead_of=instead_of,
    )  # fmt: skip


def approve(shop: Workshop, draft: ProcedureDraft, who: str = "quality") -> ProcedureAct:
    return approve_procedure(acting=shop.proved(who), act_id=new_id(), draft=draft)


def in_force(shop: Workshop, **changes: Any) -> ProcedureVersion:
    """A procedure of these changes, drafted by the engineer, who is one of the two that approve."""
    draft = drafted(shop, **changes)
    approve(shop, draft, "engineer")
    approve(shop, draft)
    return ProcedureVersion.objects.get(draft=draft)


def pointed() -> Job:
    """A mounting opened under a procedure with points; nothing is recorded yet."""
    shop = make_workshop()
    in_force(shop, points=POINTS)
    return start(shop)


def received_under_points() -> Job:
    """The same, received by the fitter."""
    job = pointed()
    job.receive()
    return job
