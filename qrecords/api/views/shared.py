"""From one thing to every mounting that shares it, and from a damage to its suspects."""

import uuid

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api import door
from qrecords.api.door import Resource, person_of
from qrecords.api.errors import UnknownAddressError
from qrecords.api.fields import Answer, Body, Text
from qrecords.api.forms import Line
from qrecords.api.listing import page
from qrecords.api.operations import Operation
from qrecords.api.sealing import sealed_on
from qrecords.mountings.errors import SealedError
from qrecords.mountings.queries import for_person, mounting_for
from qrecords.people.permissions import Action
from qrecords.steps.damage import BY_ID, DAMAGES, GROUPS
from qrecords.tracing.record import record_of
from qrecords.tracing.shared import SHARED, shared, touched
from qrecords.tracing.suspects import Place, suspects
from qrecords.wording.damage import DAMAGE_WORDS

PAGE = 100


class SharedQuery(Body):
    of = Text(max_length=80)
    after = serializers.UUIDField(required=False)


class TouchedAnswer(Answer):
    mountings = serializers.IntegerField()
    machines = serializers.IntegerField()
    owners = serializers.IntegerField()


class SharedPage(Answer):
    """How far it reaches, and a page of its mountings."""

    touched = TouchedAnswer()
    results = Line(many=True)
    next = serializers.CharField(allow_null=True)


class SharedBy(Resource):
    operations = {"GET": Operation("share", (Action.TRACE,), SharedPage, query=SharedQuery)}

    def get(self, request: Request, what: str) -> Response:
        """The newest first; `what` is lot, delivery, order, part, batch, person, damage or day."""
        if what not in SHARED:
            raise UnknownAddressError("kind of thing", what)
        asked = self.asked(request)
        rows = shared(for_person(person_of(request), Action.TRACE, door.now()), what, asked["of"])
        last = asked.get("after")
        newest = rows.order_by("-id")
        found = list((newest if last is None else newest.filter(id__lt=last))[: PAGE + 1])
        reached = touched(rows)
        told = TouchedAnswer(reached).data
        return Response({"touched": told, **page(request, Line, found, PAGE)})


class DamageRow(Answer):
    """`suspects` are parts of the work, the likeliest first; `elsewhere` is no cause of the mounting."""

    id = serializers.CharField()
    group = serializers.CharField(allow_blank=True)
    clause = serializers.CharField(allow_blank=True)
    name = serializers.CharField()
    looks = serializers.CharField()
    elsewhere = serializers.CharField()
    by_mounting = serializers.BooleanField()
    suspects = serializers.ListField(child=serializers.CharField())
    first = serializers.ListField(child=serializers.CharField())
    sources = serializers.ListField(child=serializers.CharField())


class DamageTable(Answer):
    groups = serializers.DictField(child=serializers.CharField())
    damages = DamageRow(many=True)


class Damages(Resource):
    operations = {"GET": Operation("list damages", (Action.TRACE,), DamageTable)}

    def get(self, request: Request) -> Response:
        """The table that leads from a damage to the parts of the work that can have caused it."""
        rows = [
            {
                "id": d.id,
                "group": d.group,
                "clause": d.clause,
                "name": DAMAGE_WORDS[d.id].name,
                "looks": DAMAGE_WORDS[d.id].looks,
                "elsewhere": DAMAGE_WORDS[d.id].elsewhere,
                "by_mounting": d.mounting,
                "suspects": d.suspects,
                "first": d.first,
                "sources": (d.group_source, d.source),
            }
            for d in DAMAGES
        ]
        return Response(DamageTable({"groups": dict(GROUPS), "damages": rows}).data)


class LookedAt(Answer):
    """A field (`step.key`) with every answer as it stands, or a rule (`rule:id`) with its findings."""

    name = serializers.CharField()
    asked = serializers.BooleanField()
    answers = serializers.DictField()
    findings = serializers.ListField(child=serializers.DictField())


class SuspectAnswer(Answer):
    part = serializers.CharField()
    places = LookedAt(many=True)


class SuspectsAnswer(Answer):
    damage = serializers.CharField()
    first = LookedAt(many=True)
    suspects = SuspectAnswer(many=True)


class Suspected(Resource):
    operations = {"GET": Operation("suspect", (Action.TRACE,), SuspectsAnswer)}

    def get(self, request: Request, mounting: uuid.UUID, damage: str) -> Response:
        """What this mounting says of the suspects of a damage: `first` what tells most."""
        if damage not in BY_ID:
            raise UnknownAddressError("damage", damage)
        found = mounting_for(person_of(request), mounting, Action.TRACE, door.now())
        record = record_of(found)
        if sealed_on(request, found, record.case):
            raise SealedError(found.id)
        stored = record.counting
        told = suspects(BY_ID[damage], record.signed or record.case, stored.findings if stored else ())
        parts = [{"part": each.part, "places": list(map(_place, each.places))} for each in told.parts]
        answer = {"damage": damage, "first": list(map(_place, told.first)), "suspects": parts}
        return Response(SuspectsAnswer(answer).data)


def _place(place: Place) -> dict[str, object]:
    return {
        "name": place.name,
        "asked": place.asked,
        "answers": {answered.key: answered.answer.document() for answered in place.answers},
        "findings": [finding.document() for finding in place.findings],
    }
