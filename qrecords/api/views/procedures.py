"""The procedure: what is in force at a site, a document by its digest, and putting a revision in force."""

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api import door
from qrecords.api.documents import ProcedureDocument
from qrecords.api.door import Resource, acting_of, reach_of, site_of
from qrecords.api.errors import UnknownAddressError
from qrecords.api.fields import Answer, Body, Text
from qrecords.api.operations import Operation
from qrecords.api.receipts import Receipt, write
from qrecords.api.registers import AtSite
from qrecords.people.permissions import Action
from qrecords.workshop.actions import put_in_force
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import ProcedureVersion
from qrecords.workshop.queries import procedure_at


class ProcedureRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    name = serializers.CharField()
    revision = serializers.CharField()
    digest = serializers.CharField()
    document = serializers.DictField()
    valid_from = serializers.DateTimeField()


class InForce(AtSite):
    document = ProcedureDocument()
    password = Text(required=False, max_length=200)


class SiteQuery(Body):
    site = serializers.UUIDField(required=False)


class Procedures(Resource):
    operations = {
        "GET": Operation("read the procedure in force", (Action.READ,), ProcedureRow, query=SiteQuery),
        "POST": Operation("put in force", (Action.PROCEDURE,), Receipt, InForce, write=True),
    }

    def get(self, request: Request) -> Response:
        """The one in force now at a site."""
        site, where = site_of(request, Action.READ, self.asked(request)), reach_of(request, Action.READ)
        if not where.everywhere and site not in where.sites:
            raise UnknownObjectError("procedure in force", site)
        return Response(ProcedureRow(procedure_at(site, door.now())).data)

    def post(self, request: Request) -> Response:
        """Put a revision in force from now; mountings begun before keep theirs."""
        said = self.said(request)
        site, acting = site_of(request, Action.PROCEDURE, said), acting_of(request, said)
        return write(
            said["entry_id"],
            "procedure",
            said["entry_id"],
            lambda: put_in_force(
                acting=acting, procedure_id=said["entry_id"], site=site, document=said["document"]
            ),
        ).response()


class OneProcedure(Resource):
    operations = {"GET": Operation("read a procedure", (Action.READ,), ProcedureRow)}

    def get(self, request: Request, digest: str) -> Response:
        """The very document that a mounting pinned."""
        where = reach_of(request, Action.READ)
        rows = ProcedureVersion.objects.filter(digest=digest).order_by("valid_from", "id")
        found = (rows if where.everywhere else rows.filter(site__in=where.sites)).first()
        if found is None:
            raise UnknownAddressError("procedure", digest)
        return Response(ProcedureRow(found).data)
