"""The only writers of procedures. The first one of a site is put in force by one person, at its installation,
when there may be nobody else yet; every later one is drafted, and approved by two."""

import uuid
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any

from qrecords.ledger.append import atomic
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.people.queries import version_at
from qrecords.people.stating import Told, state, stated_before
from qrecords.proof.identifiers import following
from qrecords.steps.errors import DocumentError
from qrecords.steps.new_procedure import read_new_procedure
from qrecords.steps.procedure import Procedure, procedure_digest
from qrecords.workshop.errors import (
    LastProcedureError,
    ProcedureSettledError,
    ProcedureThereError,
    RegisterFieldError,
    TwoPeopleError,
)
from qrecords.workshop.models import ProcedureAct, ProcedureDraft, ProcedureVersion, Site
from qrecords.workshop.procedures import (
    APPROVED,
    IN_FORCE,
    OLDER,
    ONCE,
    OPEN,
    REFUSED,
    WAITS,
    WITHDRAWN,
    Dossier,
    dossier_of,
    in_force_at,
    wider,
)

LONGEST_REASON = 400
KINDS: Mapping[str, str] = {
    APPROVED: "procedure approval",
    REFUSED: "procedure refusal",
    WITHDRAWN: "procedure withdrawal",
}
"""What may become of a draft → the kind of its entry."""
APPROVALS_WANTED = 2


@atomic()
def put_in_force(
    *, acting: Acting, procedure_id: uuid.UUID, site: uuid.UUID, document: Mapping[str, Any]
) -> ProcedureVersion:
    """The first procedure of a site, in force from now. ProcedureThereError where there is one: the next is
    drafted. DocumentError names the limit that cannot be."""
    require(acting, Action.PROCEDURE, site)
    procedure = _read(document)
    Site.objects.select_for_update().filter(id=site).first()
    if ProcedureVersion.objects.filter(site=site).exclude(id=procedure_id).exists():
        raise ProcedureThereError
    about = ("procedure", procedure_id)
    said = dict(document)
    state(acting, "procedure", id=procedure_id, site=site, about=about, said=said, procedure=procedure.digest)
    known = ProcedureVersion.objects.filter(id=procedure_id).first()
    return known or _version(procedure, said, id=procedure_id, site=site, valid_from=acting.now)


def _read(document: Mapping[str, Any]) -> Procedure:
    procedure = read_new_procedure(document)
    for fault in wider(document):
        raise DocumentError("procedure", "may_decide", f"{fault.told} {fault.why}; allowed: {fault.allowed}")
    return procedure


def _version(procedure: Procedure, document: Mapping[str, Any], **where: Any) -> ProcedureVersion:
    return ProcedureVersion.objects.create(
        name=procedure.name,
        revision=procedure.revision,
        contract=procedure.contract,
        digest=procedure.digest,
        document=dict(document),
        **where,
    )


@atomic()
def draft_procedure(
    *,
    acting: Acting,
    site: uuid.UUID,
    draft_id: uuid.UUID,
    document: Mapping[str, Any],
    reason: str,
    wanted_from: datetime | None = None,
    instead_of: ProcedureDraft | None = None,
) -> ProcedureDraft:
    """Draft a procedure, or draft it anew `instead_of` the newest draft of a dossier, whose approvals then
    count no more. Nobody works by a draft. `wanted_from`: from when it is to be in force."""
    require(acting, Action.DRAFT, site)
    procedure = _read(document)
    Site.objects.select_for_update().filter(id=site).first()
    told: Told = {
        "id": draft_id,
        "site": site,
        "about": ("procedure", instead_of.dossier if instead_of else draft_id),
        "said": {"document": dict(document), "from": wanted_from.isoformat() if wanted_from else ""},
        "prev": instead_of.id if instead_of else None,
        "reason": _reason(reason),
        "procedure": procedure.digest,
    }
    if stated_before(acting, "procedure draft", **told):
        return ProcedureDraft.objects.get(id=draft_id)
    if instead_of is not None:
        _still_newest(instead_of, acting.now)
    _refuse_taken(site, procedure, instead_of.dossier if instead_of else draft_id)
    if wanted_from is not None and not acting.now < wanted_from < acting.now.replace(year=2200):
        raise RegisterFieldError("from", wanted_from.isoformat(), "a moment to come; empty: once approved")
    stands = [version for version in in_force_at(site, acting.now) if version.name == procedure.name]
    told["seen"] = {"in_force": stands[0].digest if stands else None}
    state(acting, "procedure draft", **told)
    return ProcedureDraft.objects.create(
        id=draft_id,
        site=site,
        dossier=instead_of.dossier if instead_of else draft_id,
        nth=instead_of.nth + 1 if instead_of else 1,
        name=procedure.name,
        revision=procedure.revision,
        contract=procedure.contract,
        digest=procedure.digest,
        document=dict(document),
        wanted_from=wanted_from,
        reason=_reason(reason),
        by=acting.author.id,
        at=acting.now,
    )


def _still_newest(draft: ProcedureDraft, at: datetime) -> None:
    """A newer draft goes on from the newest one, which may have been refused, but is not settled."""
    found = dossier_of(draft.dossier)
    stands = _stands(found, at)
    if found.newest.id != draft.id:
        raise ProcedureSettledError(draft.id, OLDER)
    if stands not in (*OPEN, REFUSED):
        raise ProcedureSettledError(draft.id, stands)


def _stands(found: Dossier, at: datetime) -> str:
    in_force = [version.id for version in in_force_at(found.newest.site, at)] if found.version else []
    return found.stands(at, in_force)


def _refuse_taken(site: uuid.UUID, procedure: Procedure, dossier: uuid.UUID) -> None:
    """One revision of one name is one document; a name is of one contract."""
    versions = ProcedureVersion.objects.filter(site=site, name=procedure.name).defer("document")
    for version in versions.select_related("draft"):
        other = version.draft is None or version.draft.dossier != dossier
        if other and version.revision == procedure.revision:
            raise RegisterFieldError(
                "revision", procedure.revision, f"a revision of {procedure.name} that was never in force"
            )
        if version.contract != procedure.contract:
            raise RegisterFieldError(
                "contract", procedure.contract, version.contract or "none, as it was; or another name"
            )


def _reason(text: str) -> str:
    reason = text.strip()
    if not reason or len(reason) > LONGEST_REASON or not reason.isprintable():
        raise RegisterFieldError("reason", text, f"1 to {LONGEST_REASON} characters in one line")
    return reason


@atomic()
def approve_procedure(*, acting: Acting, act_id: uuid.UUID, draft: ProcedureDraft) -> ProcedureAct:
    """One of two approvals; the second puts the draft in force, from the day it names. Two different people,
    of whom at most one wrote any draft of it (TwoPeopleError)."""
    require(acting, Action.PROCEDURE, draft.site)
    return _decide(acting, act_id, draft, APPROVED, "")


@atomic()
def refuse_procedure(
    *, acting: Acting, act_id: uuid.UUID, draft: ProcedureDraft, reason: str
) -> ProcedureAct:
    """Refuse a draft, saying why. Who drafts it anew may ask again."""
    require(acting, Action.PROCEDURE, draft.site)
    return _decide(acting, act_id, draft, REFUSED, _reason(reason))


@atomic()
def withdraw_procedure(
    *, acting: Acting, act_id: uuid.UUID, draft: ProcedureDraft, reason: str
) -> ProcedureAct:
    """Take back a draft, saying why: one's own without a proof; another's, one that waits for its day or one
    that is in force by whoever approves. What was opened under it keeps it. LastProcedureError for the last
    of the workshop's own."""
    own = draft.by == acting.author.id and not ProcedureVersion.objects.filter(draft=draft).exists()
    require(acting, Action.DRAFT if own else Action.PROCEDURE, draft.site)
    return _decide(acting, act_id, draft, WITHDRAWN, _reason(reason))


MAY_BECOME: Mapping[str, tuple[str, ...]] = {
    **dict.fromkeys(OPEN, (APPROVED, REFUSED, WITHDRAWN)),
    REFUSED: (WITHDRAWN,),
    WAITS: (WITHDRAWN,),
    IN_FORCE: (WITHDRAWN,),
}


def _decide(acting: Acting, act_id: uuid.UUID, draft: ProcedureDraft, what: str, reason: str) -> ProcedureAct:
    """One decision after the other at a site. An act of authority has the server's time alone."""
    acting = replace(acting, at_device=None)
    Site.objects.select_for_update().filter(id=draft.site).first()
    told: Told = {
        "id": act_id,
        "site": draft.site,
        "about": ("procedure", draft.dossier),
        "said": {"draft": str(draft.id), "digest": draft.digest},
        "reason": reason or None,
        "procedure": draft.digest,
    }
    if stated_before(acting, KINDS[what], **told):
        return ProcedureAct.objects.get(id=act_id)
    found = dossier_of(draft.dossier)
    stands = _stands(found, acting.now) if found.newest.id == draft.id else OLDER
    if what not in MAY_BECOME.get(stands, ()):
        raise ProcedureSettledError(draft.id, stands)
    seen: dict[str, Any] = {}
    if what == APPROVED:
        _refuse_alone(found, acting)
        _refuse_taken(draft.site, _read(draft.document), draft.dossier)
        seen = {"nth": len(found.approvals) + 1, "drafted": acting.author.id in found.drafted_by}
    elif what == WITHDRAWN and stands == IN_FORCE:
        _refuse_last(draft, acting.now)
    told["seen"] = seen
    state(acting, KINDS[what], **told)
    act = ProcedureAct.objects.create(
        id=act_id,
        site=draft.site,
        draft=draft,
        what=what,
        by=acting.author.id,
        by_hash=version_at(acting.author.id, acting.now).hash,
        at=acting.now,
        reason=reason,
    )
    if what == APPROVED and stands == ONCE:
        _come_in_force(acting, draft, [*found.approvals, act])
    return act


def _refuse_alone(found: Dossier, acting: Acting) -> None:
    """Two different people always; whoever drafted gives one of the two at most."""
    people = [act.by for act in found.approvals]
    if acting.author.id in people:
        raise TwoPeopleError(APPROVED)
    if {acting.author.id, *people} <= found.drafted_by and people:
        raise TwoPeopleError("drafted")


def _refuse_last(draft: ProcedureDraft, at: datetime) -> None:
    others = [v for v in in_force_at(draft.site, at) if v.draft_id != draft.id and not v.contract]
    if not draft.contract and not others:
        raise LastProcedureError


def _come_in_force(acting: Acting, draft: ProcedureDraft, approvals: list[ProcedureAct]) -> None:
    """The second approval has a consequence with an entry of its own: from then on it is judged by this."""
    procedure = _read(draft.document)
    from_ = max(acting.now, draft.wanted_from or acting.now)
    id = following(approvals[-1].id, "in force")
    state(
        acting,
        "procedure in force",
        id=id,
        site=draft.site,
        about=("procedure", draft.dossier),
        said={"draft": str(draft.id), "digest": draft.digest},
        seen={"from": from_.isoformat(), "approvals": [str(act.id) for act in approvals]},
        procedure=procedure_digest(draft.document),
    )
    _version(procedure, draft.document, id=id, site=draft.site, valid_from=from_, draft=draft)
