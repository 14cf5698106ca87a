"""One rebuild whole, with what keeps it from being released; its release."""

import uuid
from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api.door import Resource, acting_of, person_of, reach_of
from qrecords.api.facts import Authority
from qrecords.api.fields import Answer, Body, Text
from qrecords.api.operations import Operation
from qrecords.api.receipts import Receipt, write
from qrecords.people.permissions import Action
from qrecords.signoff.rebuild_actions import LONGEST_REASON, release_rebuild
from qrecords.signoff.rebuild_queries import releases_of, shown_of_rebuild, whole_of, with_standing
from qrecords.steps.rebuild import Place, refuse_rebuild_release
from qrecords.steps.shown import WRITTEN, read_extent
from qrecords.workshop.models import Rebuild
from qrecords.workshop.queries import of_one_order
from qrecords.workshop.queries import rebuild as rebuild_for


class AttemptLine(Answer):
    mounting = serializers.UUIDField()
    number = serializers.CharField()
    state = serializers.CharField()


class PlaceLine(Answer):
    """`carried`: its newest mounting is signed off, and its bearing still on. `may_be_left_out`: nothing
    was done to it."""

    journal = serializers.UUIDField()
    shaft = serializers.CharField()
    position = serializers.CharField()
    carried = serializers.BooleanField()
    may_be_left_out = serializers.BooleanField()
    attempts = AttemptLine(many=True)


class OrderLine(Answer):
    """One machine of the order."""

    id = serializers.UUIDField()
    machine = serializers.UUIDField(source="machine_id")
    standing = serializers.CharField()


class WholeRebuild(Answer):
    """`shown` goes into the release; `refused` is the code that keeps this caller from giving it now, were
    every place left out that may be; empty where nothing does."""

    id = serializers.UUIDField()
    work_order = serializers.CharField()
    scheme = serializers.CharField()
    standing = serializers.CharField()
    order = OrderLine(many=True)
    places = PlaceLine(many=True)
    release = serializers.UUIDField(allow_null=True)
    shown = serializers.CharField()
    refused = serializers.CharField(allow_blank=True)


class LeftOut(Body):
    journal = serializers.UUIDField()
    reason = Text(max_length=LONGEST_REASON)


class ReleaseBody(Authority):
    """What a rebuild's release says."""

    shown = serializers.RegexField(WRITTEN)
    left_out = LeftOut(many=True, required=False)
    remark = Text(required=False, allow_blank=True, max_length=LONGEST_REASON)


class Places(Resource):
    operations = {"GET": Operation("read a whole rebuild", (Action.READ,), WholeRebuild)}

    def get(self, request: Request, id: uuid.UUID) -> Response:
        """Every place of the machine with its mountings under this order, and the order's other machines."""
        found = rebuild_for(id, reach_of(request, Action.READ))
        order = list(with_standing(of_one_order(found)))
        whole, release = whole_of(found), releases_of([found.id]).get(found.id)
        excused = {place.journal: "-" for place in whole.places if place.may_be_left_out}
        stop = refuse_rebuild_release(
            whole.places, excused, str(person_of(request).id), released=release is not None
        )
        answer = {
            "id": found.id,
            "work_order": found.work_order,
            "scheme": found.machine.scheme,
            "standing": next(row.standing for row in order if row.id == found.id),
            "order": order,
            "places": [_place(place, whole.journals[place.journal]) for place in whole.places],
            "release": release and release.entry_id,
            "shown": str(shown_of_rebuild(found)),
            "refused": stop.code if stop else "",
        }
        return Response(WholeRebuild(answer).data)


def _place(place: Place, journal: Any) -> dict[str, Any]:
    return {
        "journal": place.journal,
        "shaft": journal.shaft,
        "position": journal.position,
        "carried": place.carried,
        "may_be_left_out": place.may_be_left_out,
        "attempts": place.attempts,
    }


class Release(Resource):
    operations = {
        "POST": Operation("release a rebuild", (Action.RELEASE_REBUILD,), Receipt, ReleaseBody, write=True)
    }

    def post(self, request: Request, id: uuid.UUID) -> Response:
        """The inspector's release of one machine of an order, over exactly what was shown."""
        found: Rebuild = rebuild_for(id, reach_of(request, Action.RELEASE_REBUILD))
        said = self.said(request)
        return write(
            said["entry_id"],
            "rebuild release",
            found.id,
            lambda: release_rebuild(
                acting=acting_of(request, said),
                rebuild=found,
                entry_id=said["entry_id"],
                shown=read_extent(said["shown"]),
                left_out={left["journal"]: left["reason"] for left in said.get("left_out", [])},
                remark=said.get("remark", ""),
            ),
        ).response()
