"""The bytes of a heating log in, and its samples out as they are judged."""

import uuid

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api.bodies import JsonBody, PhotoBody
from qrecords.api.door import Resource
from qrecords.api.errors import UnknownAddressError
from qrecords.api.fields import Answer
from qrecords.api.operations import Operation
from qrecords.api.receipts import Receipt
from qrecords.api.views.arriving import digest_of, received
from qrecords.api.views.mountings import mounting_of
from qrecords.evidence.intake import take_in_log
from qrecords.mountings.queries import case_of
from qrecords.people.permissions import Action
from qrecords.steps.errors import LogUnreadableError


class Logged(Answer):
    """One column of temperature as the file writes it; null where none was read."""

    place = serializers.IntegerField()
    name = serializers.CharField(allow_blank=True)
    unit = serializers.CharField(allow_blank=True)
    values = serializers.ListField(child=serializers.FloatField(allow_null=True))


class Samples(Answer):
    """Every sample of a log, or as `unread` why there is none: reason, line, column and value. Seconds count
    from the first sample, whose moment is `started` where the file tells it."""

    times_s = serializers.ListField(child=serializers.FloatField())
    started = serializers.CharField(allow_blank=True)
    columns = Logged(many=True)
    unread = serializers.DictField(allow_null=True)


class OneLog(Resource):
    parser_classes = [PhotoBody, JsonBody]
    operations = {
        "PUT": Operation(
            "send a heating log", (Action.ATTACH,), Receipt, write=True, takes="application/octet-stream"
        ),
        "GET": Operation("read the samples of a heating log", (Action.READ,), Samples),
    }

    def put(self, request: Request, mounting: uuid.UUID, sha256: str) -> Response:
        """The bytes of a heating log whose SHA-256 is in the address, up to 2 MB. They are kept whatever they
        are; what cannot be read is told as *unread*."""
        return received(request, mounting, sha256, take_in_log)

    def get(self, request: Request, mounting: uuid.UUID, sha256: str) -> Response:
        """The samples of a log that was handed in and is here."""
        table = case_of(mounting_of(request, mounting)).logs.get(digest_of(sha256))
        if table is None:
            raise UnknownAddressError("log", sha256)
        if isinstance(table, LogUnreadableError):
            why = {"reason": table.reason, "line": table.line, "column": table.column, "value": table.value}
            return Response({"times_s": [], "started": "", "columns": [], "unread": why})
        columns = [
            {"place": c.place, "name": c.name, "unit": c.unit, "values": c.values} for c in table.columns
        ]
        told = {"times_s": table.times_s, "started": table.started, "columns": columns, "unread": None}
        return Response(told)
