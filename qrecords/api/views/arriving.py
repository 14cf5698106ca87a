"""The bytes of a file that an entry names, as they arrive: photographs and heating logs alike."""

import uuid
from collections.abc import Callable, Iterator
from typing import cast

from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api.door import acting_of
from qrecords.api.errors import UnknownAddressError
from qrecords.api.facts import SHA256
from qrecords.api.receipts import receipt_document
from qrecords.api.views.mountings import mounting_of
from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.intake import TakenIn
from qrecords.mountings.actions.attaching import receive_file, refuse_file
from qrecords.people.acting import require
from qrecords.people.permissions import Action


def digest_of(sha256: str) -> str:
    if not SHA256.fullmatch(sha256):
        raise UnknownAddressError("photo", sha256)
    return sha256


def received(request: Request, mounting: uuid.UUID, sha256: str, take: Callable[..., TakenIn]) -> Response:
    """Take the bytes in by their kind's own intake; what it refuses is kept in mind as refused."""
    found, acting = mounting_of(request, mounting), acting_of(request, {})
    require(acting, Action.ATTACH, found.site)
    try:
        taken = take(cast(Iterator[bytes], request.data), expected_sha256=digest_of(sha256))
    except FileRefusedError as error:
        refuse_file(acting=acting, mounting=found, sha256=sha256, error=error)
        raise
    entry, new = receive_file(acting=acting, mounting=found, taken=taken)
    return Response(receipt_document(entry.id), status=201 if new else 200)
