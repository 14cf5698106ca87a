"""Which procedures are in force at a site and when, how a draft stands, and who decides what under one."""

import uuid
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import DateTimeField, OuterRef, Subquery

from qrecords.people.permissions import Action, roles_with
from qrecords.people.queries import Reach
from qrecords.steps.interchange.faults import Fault, below
from qrecords.steps.procedure_file import faults_of
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import ProcedureAct, ProcedureDraft, ProcedureVersion

APPROVED, REFUSED, WITHDRAWN = "approved", "refused", "withdrawn"
DRAFT, ONCE, OLDER = "draft", "approved once", "replaced by a newer draft"
WAITS, IN_FORCE, REPLACED, ENDED = "approved, waits for its day", "in force", "replaced", "ended"
OPEN = (DRAFT, ONCE)
"""How a draft stands while something can be decided about it."""
DECIDES: Mapping[str, Action] = {
    "release": Action.RELEASE,
    "measure again": Action.MEASURE_AGAIN,
    "rework": Action.REWORK,
    "accept": Action.ACCEPT,
    "concession": Action.CONCEDE,
    "quarantine": Action.QUARANTINE,
    "scrap": Action.SCRAP,
}
"""What a procedure may give to fewer roles → the right that it narrows."""


def wider(document: Mapping[str, Any]) -> Iterator[Fault]:
    """Roles that a document names for what the table of rights does not give them."""
    for kind, roles in document.get("may_decide", {}).items():
        may = [role.value for role in roles_with(DECIDES[kind])]
        for nth, role in enumerate(roles):
            if role not in may:
                at, why = below(below("/may_decide", kind), nth), "wider than the rights of the roles"
                yield Fault(at, "document", repr(str(role)[:40]), "", ", ".join(may), why)


def faults_of_new(document: Mapping[str, Any]) -> list[Fault]:
    """Everything that is wrong with a document as a new revision would bring it."""
    return [*faults_of(document)] or [*wider(document)]


def _with_end(site: uuid.UUID) -> list[ProcedureVersion]:
    """Every version of a site without its document, the newest first, with `ended`; one query."""
    ends = ProcedureAct.objects.filter(draft=OuterRef("draft"), what=WITHDRAWN).values("at")[:1]
    rows = ProcedureVersion.objects.filter(site=site).defer("document")
    ended = Subquery(ends, output_field=DateTimeField())
    return list(rows.annotate(ended=ended).order_by("-valid_from", "-id"))


def standing_at(versions: Sequence[ProcedureVersion], at: datetime) -> list[ProcedureVersion]:
    """Of each name the newest that has come in force, unless it was ended; the newest first. One that was
    withdrawn while it waited never comes in force."""
    by_name: dict[str, ProcedureVersion] = {}
    for version in versions:
        ended: datetime | None = version.ended  # type: ignore[attr-defined]  # annotated
        if version.valid_from <= at and (ended is None or ended > version.valid_from):
            by_name.setdefault(version.name, version)
    return [v for v in by_name.values() if v.ended is None or v.ended > at]  # type: ignore[attr-defined]


def in_force_at(site: uuid.UUID, at: datetime) -> list[ProcedureVersion]:
    """The procedures that can be chosen at a site, the default one first: the newest of the workshop's own,
    then those of contracts. One query; a document is read when it is asked for."""
    standing = standing_at(_with_end(site), at)
    return sorted(standing, key=lambda version: bool(version.contract))


def procedure_at(site: uuid.UUID, at: datetime, name: str = "") -> ProcedureVersion:
    """The procedure of this name in force at a site at a moment; without a name the workshop's own."""
    found = in_force_at(site, at)
    chosen = [version for version in found if (version.name == name if name else not version.contract)]
    if not chosen:
        raise UnknownObjectError("procedure in force", name or site)
    return chosen[0]


def drafts_of(dossier: uuid.UUID) -> list[ProcedureDraft]:
    """Every draft of a dossier in its order."""
    return list(ProcedureDraft.objects.filter(dossier=dossier).order_by("nth"))


@dataclass(frozen=True)
class Dossier:
    """Everything said of one draft: the drafts in their order, what became of the newest, and the version
    that came of it."""

    drafts: tuple[ProcedureDraft, ...]
    acts: tuple[ProcedureAct, ...]
    version: ProcedureVersion | None = None

    @property
    def newest(self) -> ProcedureDraft:
        return self.drafts[-1]

    @property
    def drafted_by(self) -> frozenset[uuid.UUID]:
        """Whoever wrote any of its drafts."""
        return frozenset(draft.by for draft in self.drafts)

    @property
    def approvals(self) -> tuple[ProcedureAct, ...]:
        """Of the newest draft: what was approved before it was another document."""
        return tuple(act for act in self.acts if act.what == APPROVED and act.draft_id == self.newest.id)

    def stands(self, at: datetime, in_force: Sequence[uuid.UUID] = ()) -> str:
        """How the newest draft stands; `in_force` are the versions that stand at the site."""
        own = [act for act in self.acts if act.draft_id == self.newest.id]
        if self.version is not None:
            return self._version_stands(own, at, in_force)
        if any(act.what == WITHDRAWN for act in own):
            return WITHDRAWN
        if any(act.what == REFUSED for act in own):
            return REFUSED
        return ONCE if self.approvals else DRAFT

    def _version_stands(
        self, own: Sequence[ProcedureAct], at: datetime, in_force: Sequence[uuid.UUID]
    ) -> str:
        assert self.version is not None  # noqa: S101 - the caller asked
        ended = next((act.at for act in own if act.what == WITHDRAWN), None)
        if ended is not None:
            return ENDED if ended > self.version.valid_from else WITHDRAWN
        if self.version.valid_from > at:
            return WAITS
        return IN_FORCE if self.version.id in in_force else REPLACED


def dossier(id: uuid.UUID, reach: Reach) -> Dossier:
    """One dossier by the id of any of its drafts; three queries."""
    rows = ProcedureDraft.objects.filter(id=id)
    found = (rows if reach.everywhere else rows.filter(site__in=reach.sites)).first()
    if found is None:
        raise UnknownObjectError("draft of a procedure", id)
    return dossier_of(found.dossier)


def dossier_of(id: uuid.UUID) -> Dossier:
    drafts = drafts_of(id)
    acts = ProcedureAct.objects.filter(draft__dossier=id)
    version = ProcedureVersion.objects.filter(draft__dossier=id).first()
    return Dossier(tuple(drafts), tuple(acts), version)


def dossiers(reach: Reach) -> list[Dossier]:
    """Every dossier within reach, the newest first; three queries, documents not among them."""
    rows = ProcedureDraft.objects.defer("document").order_by("nth")
    rows = rows if reach.everywhere else rows.filter(site__in=reach.sites)
    acts: dict[uuid.UUID, list[ProcedureAct]] = {}
    versions: dict[uuid.UUID, ProcedureVersion] = {}
    drafts: dict[uuid.UUID, list[ProcedureDraft]] = {}
    for draft in rows:
        drafts.setdefault(draft.dossier, []).append(draft)
    of_draft = {draft.id: draft.dossier for each in drafts.values() for draft in each}
    for act in ProcedureAct.objects.filter(draft__in=rows.values("id")):
        acts.setdefault(of_draft[act.draft_id], []).append(act)
    for version in ProcedureVersion.objects.filter(draft__in=rows.values("id")).defer("document"):
        versions[of_draft[version.draft_id]] = version  # type: ignore[index]
    found = [Dossier(tuple(each), tuple(acts.get(id, ())), versions.get(id)) for id, each in drafts.items()]
    return sorted(found, key=lambda each: (each.newest.at, str(each.newest.id)), reverse=True)


def version_by_digest(digest: str, reach: Reach) -> ProcedureVersion:
    """The document that mountings pinned, as it came in force first."""
    rows = ProcedureVersion.objects.filter(digest=digest).order_by("valid_from", "id")
    found = (rows if reach.everywhere else rows.filter(site__in=reach.sites)).first()
    if found is None:
        raise UnknownObjectError("procedure", digest)
    return found
