"""The list of mountings, one whole case, and everything that can be done on it."""

import uuid
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from django.urls import reverse
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api import door
from qrecords.api.acts import BATCHED, RELEASE_HERE
from qrecords.api.batch import taken
from qrecords.api.case import case_document
from qrecords.api.door import Resource, acting_of, counted, person_of
from qrecords.api.errors import NeverByTokenError
from qrecords.api.facts import Act, Fact
from qrecords.api.fields import Answer, Body, Text
from qrecords.api.forms import OpenLine, WholeCase
from qrecords.api.listing import after, page
from qrecords.api.openapi import Problem
from qrecords.api.operations import Operation, Operations
from qrecords.api.problems import document_of
from qrecords.api.receipts import Receipt, Written, write
from qrecords.api.rows import one
from qrecords.api.sealing import sealed_on
from qrecords.ledger.errors import DifferentContentError
from qrecords.mountings.actions.opening import open_mounting
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import for_person, mounting_for, open_findings
from qrecords.people.acting import PROVED, Acting
from qrecords.people.models import Token
from qrecords.people.permissions import Action
from qrecords.people.proving import prove
from qrecords.steps.transitions import State
from qrecords.workshop.models import Bearing, Journal, Rebuild

PAGE = 50


class ListQuery(Body):
    """Filters, and `after`: the last mounting of the page before."""

    state = serializers.ChoiceField([state.value for state in State], required=False)
    designation = Text(required=False, max_length=60)
    work_order = Text(required=False, max_length=40)
    after = serializers.UUIDField(required=False)


class Page(Answer):
    results = OpenLine(many=True)
    next = serializers.CharField(allow_null=True)


class Opening(Fact):
    """The entry's id becomes the mounting's."""

    journal = serializers.UUIDField()
    bearing = serializers.UUIDField()
    rebuild = serializers.UUIDField()
    procedure = Text(required=False, max_length=40, help_text="by name; the workshop's own if left out")


class Mountings(Resource):
    operations = {
        "GET": Operation("list mountings", (Action.READ,), Page, query=ListQuery),
        "POST": Operation("open a mounting", (Action.OPEN,), Receipt, Opening, write=True),
    }

    def get(self, request: Request) -> Response:
        """Newest first, with how many findings of each kind are open."""
        asked = self.asked(request)
        reachable = for_person(person_of(request), Action.READ, door.now())
        rows = open_findings(reachable).order_by("-opened_at", "-id")
        if "state" in asked:
            rows = rows.filter(state=asked["state"])
        if "designation" in asked:
            rows = rows.filter(bearing__designation__iexact=asked["designation"])
        if "work_order" in asked:
            rows = rows.filter(rebuild__work_order__iexact=asked["work_order"])
        found = list(after(rows, "opened_at", reachable, asked.get("after"))[: PAGE + 1])
        return Response(page(request, OpenLine, found, PAGE))

    def post(self, request: Request) -> Response:
        """Begin one mounting: the requirement and the procedure in force are pinned."""
        said = self.said(request)
        where = door.reach_of(request, Action.OPEN)
        journal = one(Journal, said["journal"], where)
        bearing = one(Bearing, said["bearing"], where)
        rebuild = one(Rebuild, said["rebuild"], where)

        def act() -> None:
            mounting = open_mounting(
                acting=acting_of(request, said),
                mounting_id=said["entry_id"],
                journal=journal,
                bearing=bearing,
                rebuild=rebuild,
                procedure_name=said.get("procedure", ""),
            )
            opened = (mounting.journal_id, mounting.bearing_id, mounting.rebuild_id)
            if opened != (journal.id, bearing.id, rebuild.id):
                raise DifferentContentError(mounting.id)

        return write(said["entry_id"], "mounting", said["entry_id"], act).response()


def mounting_of(request: Request, id: uuid.UUID) -> Mounting:
    """The mounting, if the caller may read it."""
    return mounting_for(person_of(request), id, Action.READ, door.now())


class OneMounting(Resource):
    operations = {"GET": Operation("read a mounting", (Action.READ,), WholeCase)}

    def get(self, request: Request, mounting: uuid.UUID) -> Response:
        """The whole case: what was asked, said, found and decided, what a signature would cover now, and
        where its certificate is."""
        found = mounting_of(request, mounting)
        judged = judged_now(found)
        document = case_document(found, judged, sealed_on(request, found, judged.case))
        return Response(document | {"certificate": _certificate_of(request, found)})


def _certificate_of(request: Request, mounting: Mounting) -> str | None:
    """The address of the page that prints; before sign-off there is no certificate."""
    if mounting.state != State.SIGNED_OFF.value and not mounting.amendments:
        return None
    return request.build_absolute_uri(reverse("certificate", args=[mounting.id]))


class ActOn(Resource):
    """One act on one mounting; which one is given with the address."""

    act: Act | None = None

    def own_operations(self) -> Operations:
        if self.act is None:
            return {}
        return {"POST": Operation(self.act.name, self.act.rights, Receipt, self.act.body, write=True)}

    def post(self, request: Request, mounting: uuid.UUID, **named: Any) -> Response:
        assert self.act is not None  # noqa: S101 - every address names its act
        found = mounting_of(request, mounting)
        said = self.said(request) | named
        return do(self.act, acting_of(request, said), found, said).response()


def do(act: Act, acting: Acting, mounting: Mounting, said: Mapping[str, Any]) -> Written:
    return write(said["entry_id"], act.kind, mounting.id, lambda: act.do(acting, mounting, said))


class ReleasesHere(Resource):
    operations = {
        "POST": Operation(RELEASE_HERE.name, RELEASE_HERE.rights, Receipt, RELEASE_HERE.body, write=True),
    }

    def post(self, request: Request, mounting: uuid.UUID) -> Response:
        """Release by the inspector's own sign-in on another's device; who is signed in stays so."""
        if isinstance(request.auth, Token):
            raise NeverByTokenError(Action.RELEASE)
        found = mounting_of(request, mounting)
        said = self.said(request)
        with counted(request) as http:
            author = prove(http, said["name"], said["password"])
        acting = replace(
            acting_of(request, said | {"password": ""}),
            author=author,
            sender=person_of(request),
            identity=PROVED,
        )
        return do(RELEASE_HERE, acting, found, said).response()


class Batch(Body):
    """Facts in the order in which they happened: each is the body of its act with `kind` (and `step` or
    `tap`, where the act's address names one)."""

    entries = serializers.ListField(child=serializers.DictField(), allow_empty=False, max_length=500)


class Outcome(Answer):
    """What became of one entry: its receipt, or the problem that kept it out; both for *unread*."""

    entry_id = serializers.CharField(allow_null=True)
    status = serializers.IntegerField()
    receipt = Receipt(required=False)
    problem = Problem(required=False)


class Outcomes(Answer):
    results = Outcome(many=True)


class Entries(Resource):
    operations = {
        "POST": Operation(
            "send a batch",
            tuple(dict.fromkeys(right for act in BATCHED.values() for right in act.rights)),
            Outcomes,
            Batch,
        )
    }

    def post(self, request: Request, mounting: uuid.UUID) -> Response:
        """One transaction and one receipt for each entry; one that is refused stops nothing else. Nothing is
        refused for its content: what cannot be read is kept as it was sent and told as *unread*."""
        found = mounting_of(request, mounting)
        return Response(
            {"results": [_outcome(request, found, item) for item in self.said(request)["entries"]]}
        )


def _outcome(request: Request, mounting: Mounting, item: Mapping[str, Any]) -> dict[str, Any]:
    outcome: dict[str, Any] = {"entry_id": str(item["entry_id"])[:80] if "entry_id" in item else None}
    try:
        return outcome | taken(request, mounting, item)
    except Exception as error:  # the others of the batch go on; what nobody foresaw is logged there
        problem = document_of(error)
        return outcome | {"status": problem["status"], "problem": problem}
