"""One entry as it is stored, with what proves its place in the log."""

import uuid

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api.door import Resource, reach_of
from qrecords.api.fields import Answer
from qrecords.api.operations import Operation
from qrecords.ledger.errors import NotRecordedError
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import proved
from qrecords.people.permissions import Action
from qrecords.proof.merkle import leaf_hash


class EntryProved(Answer):
    """`payload` is the very text whose bytes (UTF-8) are hashed and signed; hashes are in hex."""

    id = serializers.UUIDField()
    kind = serializers.CharField()
    subject = serializers.UUIDField()
    payload = serializers.CharField()
    signature = serializers.CharField()
    leaf = serializers.CharField()
    index = serializers.IntegerField()
    size = serializers.IntegerField()
    root = serializers.CharField()  # type: ignore[assignment]  # the field names it so, DRF keeps them apart
    proof = serializers.ListField(child=serializers.CharField())


class OneEntry(Resource):
    operations = {"GET": Operation("read an entry", (Action.READ,), EntryProved)}

    def get(self, request: Request, entry: uuid.UUID) -> Response:
        """The stored bytes of an entry, its leaf hash, and the path from it to the root of the log."""
        where = reach_of(request, Action.READ)
        rows = Entry.objects.filter(id=entry)
        found = (rows if where.everywhere else rows.filter(site__in=where.sites)).first()
        if found is None:
            raise NotRecordedError(entry)
        shown = proved(found.id)
        return Response(
            {
                "id": found.id,
                "kind": found.kind,
                "subject": found.subject,
                "payload": shown.payload.decode(),
                "signature": shown.signature.hex(),
                "leaf": leaf_hash(shown.payload).hex(),
                "index": shown.index,
                "size": shown.size,
                "root": shown.root.hex(),
                "proof": [node.hex() for node in shown.proof],
            }
        )
