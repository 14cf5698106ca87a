"""What every write answers: the receipt of its entry, 201 the first time, 200 when it was sent before."""

import uuid
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from rest_framework import serializers
from rest_framework.response import Response

from qrecords.api.fields import Answer
from qrecords.ledger.append import receipt
from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.models import Entry


class Receipt(Answer):
    """What the sender may keep as proof: the entry's place in the log, its leaf hash, the server's time."""

    entry = serializers.UUIDField()
    index = serializers.IntegerField()
    leaf = serializers.CharField()
    at_server = serializers.CharField()


@dataclass(frozen=True)
class Written:
    """A receipt, and whether the entry was new."""

    receipt: dict[str, Any]
    new: bool

    def response(self) -> Response:
        return Response(self.receipt, status=201 if self.new else 200)


def write(entry_id: uuid.UUID, kind: str, subject: uuid.UUID, act: Callable[[], object]) -> Written:
    """Do an act under an entry id and fetch its receipt.

    An id that was used for another kind or about something else raises DifferentContentError, whatever the
    act itself compares: a receipt is given only for what the caller asked.
    """
    known = Entry.objects.filter(id=entry_id).values_list("kind", "subject").first()
    if known is not None and known != (kind, subject):
        raise DifferentContentError(entry_id)
    act()
    return Written(receipt_document(entry_id), known is None)


def receipt_document(entry_id: uuid.UUID) -> dict[str, Any]:
    found = receipt(entry_id)
    given = {"entry": found.id, "index": found.index, "leaf": found.leaf, "at_server": found.at_server}
    return dict(Receipt(given).data)
