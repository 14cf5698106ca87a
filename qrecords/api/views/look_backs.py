"""Look-backs: opened, listed, given out, answered and closed; the same as the pages."""

import uuid
from collections.abc import Sequence
from typing import Any

from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api import door
from qrecords.api.door import Resource, acting_of, person_of, reach_of, site_of
from qrecords.api.errors import UnknownAddressError
from qrecords.api.listing import AfterRow, page
from qrecords.api.look_back_forms import (
    AnswerBody,
    EndBody,
    GiveBody,
    JudgedPage,
    JudgedRow,
    LookBackPage,
    LookBackQuery,
    LookBackRow,
    OpenBody,
)
from qrecords.api.operations import Operation
from qrecords.api.receipts import Receipt, write
from qrecords.mountings.actions import looking_back as acts
from qrecords.mountings.look_backs import listed, look_back, results
from qrecords.mountings.models import JudgedAgain
from qrecords.mountings.queries import mounting_for
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.look_back_actions import open_look_back
from qrecords.workshop.models import LookBack, LookBackAction

PAGE = 100


def _of(request: Request, id: uuid.UUID) -> LookBack:
    return look_back(id, reach_of(request, Action.TRACE))


class LookBacks(Resource):
    operations = {
        "GET": Operation("list look-backs", (Action.TRACE,), LookBackPage, query=LookBackQuery),
        "POST": Operation("open a look-back", (Action.LOOK_BACK,), Receipt, OpenBody, write=True),
    }

    def get(self, request: Request) -> Response:
        """The newest first, each with how many mountings every class has."""
        rows = listed(reach_of(request, Action.TRACE)).order_by("-id")
        last = self.asked(request).get("after")
        found = list((rows if last is None else rows.filter(id__lt=last))[: PAGE + 1])
        return Response(page(request, LookBackRow, found, PAGE))

    def post(self, request: Request) -> Response:
        """Open one. Its mountings are judged again by jobs; nothing recorded changes."""
        said = self.said(request)
        site, acting = site_of(request, Action.LOOK_BACK, said), acting_of(request, said)
        id, document, why = said["entry_id"], said["document"], said["reason"]
        return write(
            id,
            "look-back",
            id,
            lambda: open_look_back(acting=acting, site=site, look_back_id=id, document=document, why=why),
        ).response()


class OneLookBack(Resource):
    operations = {"GET": Operation("read look-back", (Action.TRACE,), LookBackRow)}

    def get(self, request: Request, id: uuid.UUID) -> Response:
        found = listed(reach_of(request, Action.TRACE)).filter(id=id).first()
        if found is None:
            raise UnknownAddressError("look-back", id)
        return Response(LookBackRow(found).data)


class Judged(Resource):
    operations = {"GET": Operation("list what was judged again", (Action.TRACE,), JudgedPage, query=AfterRow)}

    def get(self, request: Request, id: uuid.UUID) -> Response:
        """Every mounting that a look-back touches, with its class, what is found otherwise, and actions."""
        last = self.asked(request).get("after")
        row = _of(request, id)
        rows = results(row).order_by("id")
        found = list((rows if last is None else rows.filter(id__gt=last))[: PAGE + 1])
        _with_actions(row, found)
        return Response(page(request, JudgedRow, found, PAGE))


def _with_actions(row: LookBack, found: Sequence[JudgedAgain]) -> None:
    """Each row gets its actions; one query."""
    mountings = [judged.mounting_id for judged in found]
    actions = LookBackAction.objects.filter(look_back=row, mounting__in=mountings).select_related("answer")
    by: dict[uuid.UUID, list[dict[str, Any]]] = {}
    for action in actions.order_by("at", "id"):
        told = {name: getattr(action, name) for name in ("id", "owner", "due", "what")}
        how = action.answer.how if hasattr(action, "answer") else ""
        by.setdefault(action.mounting, []).append({**told, "how": how})
    for judged in found:
        judged.actions = by.get(judged.mounting_id, [])  # type: ignore[attr-defined]  # for the answer


class Actions(Resource):
    operations = {
        "POST": Operation("give a mounting out", (Action.LOOK_BACK,), Receipt, GiveBody, write=True)
    }

    def post(self, request: Request, id: uuid.UUID) -> Response:
        """Give a mounting in doubt to somebody, until a day."""
        row, said = _of(request, id), self.said(request)
        mounting = mounting_for(person_of(request), said["mounting"], Action.TRACE, door.now())
        owner = Person.objects.filter(id=said["owner"]).first()
        if owner is None:
            raise UnknownObjectError("person", said["owner"])
        acting = acting_of(request, said)
        return write(
            said["entry_id"],
            "look-back action",
            row.id,
            lambda: acts.give_to(
                acting=acting,
                look_back=row,
                mounting=mounting,
                action_id=said["entry_id"],
                owner=owner,
                due=said["due"],
                what=said["what"],
            ),
        ).response()


class Answers(Resource):
    operations = {
        "POST": Operation("close an action", (Action.ANSWER_DOUBT,), Receipt, AnswerBody, write=True)
    }

    def post(self, request: Request, id: uuid.UUID) -> Response:
        """Close an action, saying how: the engineer's word about the product, with his password."""
        row, said = _of(request, id), self.said(request)
        action = row.actions.select_related("look_back").filter(id=said["action"]).first()
        if action is None:
            raise UnknownObjectError("action", said["action"])
        acting, how = acting_of(request, said), said["how"]
        return write(
            said["entry_id"],
            "look-back answer",
            row.id,
            lambda: acts.answer(acting=acting, action=action, answer_id=said["entry_id"], how=how),
        ).response()


class End(Resource):
    operations = {"POST": Operation("close a look-back", (Action.LOOK_BACK,), Receipt, EndBody, write=True)}

    def post(self, request: Request, id: uuid.UUID) -> Response:
        """Close it, saying what it came to."""
        row, said = _of(request, id), self.said(request)
        acting, reason = acting_of(request, said), said["reason"]
        return write(
            said["entry_id"],
            "look-back end",
            row.id,
            lambda: acts.end_look_back(
                acting=acting, look_back=row, entry_id=said["entry_id"], reason=reason
            ),
        ).response()
