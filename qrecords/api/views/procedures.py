"""Procedures: which are in force at a site, a document by its digest, drafts, and what becomes of them.

The first one of a site is put in force by one person, at its installation; every later one is drafted, and
approved by two who prove themselves. A token drafts, and never approves.
"""

import uuid
from collections.abc import Callable, Mapping
from typing import Any

from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api import door
from qrecords.api.door import Resource, acting_of, reach_of, site_of
from qrecords.api.errors import UnknownAddressError
from qrecords.api.operations import Operation
from qrecords.api.procedure_forms import (
    ComparedAnswer,
    ComparedQuery,
    DecisionBody,
    DraftBody,
    DraftRows,
    FileAnswer,
    FirstBody,
    InForceRows,
    NameQuery,
    OneDraft,
    ProcedureRow,
    SiteQuery,
)
from qrecords.api.receipts import Receipt, write
from qrecords.people.acting import Acting
from qrecords.people.permissions import Action
from qrecords.steps.compared import compared
from qrecords.steps.procedure_file import as_file
from qrecords.workshop import procedure_actions as actions
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import ProcedureDraft, ProcedureVersion
from qrecords.workshop.procedures import (
    Dossier,
    dossier,
    dossiers,
    in_force_at,
    procedure_at,
    version_by_digest,
)


def _site(request: Request, asked: Mapping[str, Any]) -> uuid.UUID:
    site, where = site_of(request, Action.READ, asked), reach_of(request, Action.READ)
    if not where.everywhere and site not in where.sites:
        raise UnknownObjectError("procedure in force", site)
    return site


class Procedures(Resource):
    operations = {
        "GET": Operation("read the procedure in force", (Action.READ,), ProcedureRow, query=NameQuery),
        "POST": Operation("put the first one in force", (Action.PROCEDURE,), Receipt, FirstBody, write=True),
    }

    def get(self, request: Request) -> Response:
        """The one in force now at a site: the workshop's own, or the one of this name."""
        asked = self.asked(request)
        found = procedure_at(_site(request, asked), door.now(), asked.get("name", ""))
        return Response(ProcedureRow(found).data)

    def post(self, request: Request) -> Response:
        """Put the first procedure of a site in force, at its installation. The next one is drafted."""
        said = self.said(request)
        site, acting = site_of(request, Action.PROCEDURE, said), acting_of(request, said)
        return write(
            said["entry_id"],
            "procedure",
            said["entry_id"],
            lambda: actions.put_in_force(
                acting=acting, procedure_id=said["entry_id"], site=site, document=said["document"]
            ),
        ).response()


class InForce(Resource):
    operations = {"GET": Operation("list procedures in force", (Action.READ,), InForceRows, query=SiteQuery)}

    def get(self, request: Request) -> Response:
        """Every procedure a mounting can be opened under now, the one that stands by default first."""
        rows = in_force_at(_site(request, self.asked(request)), door.now())
        return Response(InForceRows({"rows": rows}).data)


class Drafts(Resource):
    operations = {
        "GET": Operation("list drafts of procedures", (Action.READ,), DraftRows),
        "POST": Operation("draft a procedure", (Action.DRAFT,), Receipt, DraftBody, write=True),
    }

    def get(self, request: Request) -> Response:
        """The newest draft of every dossier, and how it stands."""
        return Response(DraftRows({"rows": _rows(dossiers(reach_of(request, Action.READ)))}).data)

    def post(self, request: Request) -> Response:
        """Draft a procedure, or draft it anew instead of the newest draft. Nobody works by it before two
        people have approved it."""
        said = self.said(request)
        site, acting = site_of(request, Action.DRAFT, said), acting_of(request, said)
        before = said.get("instead_of")
        newest = dossier(before, reach_of(request, Action.DRAFT)) if before else None
        draft = next(each for each in newest.drafts if each.id == before) if newest else None
        return write(
            said["entry_id"],
            "procedure draft",
            draft.dossier if draft else said["entry_id"],
            lambda: actions.draft_procedure(
                acting=acting,
                site=draft.site if draft else site,
                draft_id=said["entry_id"],
                document=said["document"],
                reason=said["reason"],
                wanted_from=said.get("wanted_from"),
                instead_of=draft,
            ),
        ).response()


def _rows(found: list[Dossier]) -> list[dict[str, Any]]:
    """As answered; one query for each site that they are of."""
    now = door.now()
    sites = {each.newest.site for each in found if each.version}
    in_force = [version.id for site in sites for version in in_force_at(site, now)]
    return [_row(each, each.stands(now, in_force)) for each in found]


def _row(found: Dossier, stands: str) -> dict[str, Any]:
    draft = found.newest
    plain = ("id", "site", "name", "revision", "contract", "digest", "reason", "by", "at", "wanted_from")
    acts = [act for act in found.acts if act.draft_id == draft.id]
    return {name: getattr(draft, name) for name in plain} | {"stands": stands, "acts": acts}


class OneDraftOf(Resource):
    operations = {"GET": Operation("read a draft", (Action.READ,), OneDraft)}

    def get(self, request: Request, id: uuid.UUID) -> Response:
        """The dossier of a draft: its newest document and what became of it."""
        found = dossier(id, reach_of(request, Action.READ))
        (row,) = _rows([found])
        more = {"document": found.newest.document, "earlier": [draft.id for draft in found.drafts[:-1]]}
        return Response(OneDraft(row | more).data)


Decide = Callable[[Acting, uuid.UUID, ProcedureDraft, str], object]


class Decided(Resource):
    """What becomes of a draft: of this one, which has to be the newest of its dossier still."""

    kind: str
    decide: Decide

    def post(self, request: Request, id: uuid.UUID) -> Response:
        found = dossier(id, reach_of(request, Action.READ))
        said = self.said(request)
        acting = acting_of(request, said)
        draft = next(draft for draft in found.drafts if draft.id == id)
        reason = said.get("reason", "")
        act = type(self).decide
        return write(
            said["entry_id"],
            self.kind,
            draft.dossier,
            lambda: act(acting, said["entry_id"], draft, reason),
        ).response()


def _approve(acting: Acting, id: uuid.UUID, draft: ProcedureDraft, reason: str) -> object:
    return actions.approve_procedure(acting=acting, act_id=id, draft=draft)


def _refuse(acting: Acting, id: uuid.UUID, draft: ProcedureDraft, reason: str) -> object:
    return actions.refuse_procedure(acting=acting, act_id=id, draft=draft, reason=reason)


def _withdraw(acting: Acting, id: uuid.UUID, draft: ProcedureDraft, reason: str) -> object:
    return actions.withdraw_procedure(acting=acting, act_id=id, draft=draft, reason=reason)


class Approvals(Decided):
    """One of the two approvals; the second puts it in force."""

    kind, decide = "procedure approval", staticmethod(_approve)
    operations = {
        "POST": Operation("approve a draft", (Action.PROCEDURE,), Receipt, DecisionBody, write=True)
    }


class Refusals(Decided):
    kind, decide = "procedure refusal", staticmethod(_refuse)
    operations = {"POST": Operation("refuse a draft", (Action.PROCEDURE,), Receipt, DecisionBody, write=True)}


class Withdrawals(Decided):
    """One's own draft; another's, or what is in force, with the right to approve and the password."""

    kind, decide = "procedure withdrawal", staticmethod(_withdraw)
    operations = {"POST": Operation("withdraw a draft", (Action.DRAFT,), Receipt, DecisionBody, write=True)}


class OneProcedure(Resource):
    operations = {"GET": Operation("read a procedure", (Action.READ,), ProcedureRow)}

    def get(self, request: Request, digest: str) -> Response:
        """The very document that a mounting pinned."""
        return Response(ProcedureRow(_version(request, digest)).data)


def _version(request: Request, digest: str) -> ProcedureVersion:
    try:
        return version_by_digest(digest, reach_of(request, Action.READ))
    except UnknownObjectError:
        raise UnknownAddressError("procedure", digest) from None


class ProcedureFile(Resource):
    operations = {"GET": Operation("export a procedure", (Action.READ,), FileAnswer)}

    def get(self, request: Request, digest: str) -> Response:
        """A version as one readable file, to be kept or imported elsewhere."""
        return Response(FileAnswer({"file": as_file(_version(request, digest).document)}).data)


class Compared(Resource):
    operations = {
        "GET": Operation("compare two procedures", (Action.READ,), ComparedAnswer, query=ComparedQuery)
    }

    def get(self, request: Request) -> Response:
        """Two versions field by field."""
        asked = self.asked(request)
        old, new = (_version(request, asked[name]).document for name in ("old", "new"))
        return Response(ComparedAnswer({"lines": compared(old, new)}).data)
