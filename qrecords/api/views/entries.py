"""One entry as it is stored, with what proves its place in the log."""

import json
import uuid

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api.door import Resource, person_of, reach_of
from qrecords.api.fields import Answer
from qrecords.api.operations import Operation
from qrecords.api.sealing import sealed_on
from qrecords.ledger.errors import NotRecordedError
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import proved
from qrecords.mountings.errors import SealedError
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
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
        """The stored bytes of an entry, its leaf hash, and the path from it to the root of the log. What
        the caller has still to read for himself is refused (*sealed*)."""
        where = reach_of(request, Action.READ)
        rows = Entry.objects.filter(id=entry)
        found = (rows if where.everywhere else rows.filter(site__in=where.sites)).first()
        if found is None:
            raise NotRecordedError(entry)
        _refuse_sealed(request, found)
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


def _refuse_sealed(request: Request, entry: Entry) -> None:
    """SealedError for an entry of a mounting that gives away what the caller has still to read."""
    mounting = Mounting.objects.filter(id=entry.subject).first()
    if mounting is None:
        return
    payload = json.loads(bytes(entry.payload))
    if sealed_on(request, mounting, case_of(mounting)).entry(entry.kind, payload, str(person_of(request).id)):
        raise SealedError(mounting.id)
