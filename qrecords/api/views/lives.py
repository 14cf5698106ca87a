"""Where a bearing is, and what is said of it."""

import uuid

from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api.door import Resource, acting_of, reach_of
from qrecords.api.lives import BearingNow, LifeAct
from qrecords.api.operations import Operation, Operations
from qrecords.api.receipts import Receipt, write
from qrecords.api.rows import one
from qrecords.mountings.bearings import whereabouts
from qrecords.mountings.models import BearingEvent
from qrecords.people.permissions import Action
from qrecords.workshop.models import Bearing


class Now(Resource):
    operations = {"GET": Operation("where a bearing is", (Action.READ,), BearingNow)}

    def get(self, request: Request, id: uuid.UUID) -> Response:
        """In stock, in a mounting, mounted, removed, quarantined or scrapped."""
        bearing = one(Bearing, id, reach_of(request, Action.READ))
        now = whereabouts(bearing.id)
        events = BearingEvent.objects.filter(bearing=bearing).order_by("on", "at", "id")
        told = {"where": now.where.value, "mounting": now.mounting, "number": now.number, "events": events}
        return Response(BearingNow(told).data)


class Say(Resource):
    """One act about a bearing; which one is given with the address."""

    act: LifeAct | None = None

    def own_operations(self) -> Operations:
        act = self.act
        if act is None:
            return {}
        return {"POST": Operation(act.name, (act.right,), Receipt, act.body, write=True)}

    def post(self, request: Request, id: uuid.UUID) -> Response:
        """Say it of this bearing. The same sent again is the same."""
        act = self.act
        assert act is not None  # noqa: S101 - every address names its act
        bearing = one(Bearing, id, reach_of(request, act.right))
        said = self.said(request)
        acting = acting_of(request, said)
        return write(
            said["entry_id"],
            act.kind,
            bearing.id,
            lambda: act.do(bearing, said, acting=acting, entry_id=said["entry_id"]),
        ).response()
