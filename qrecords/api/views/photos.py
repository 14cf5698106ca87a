"""The bytes of photographs: in as a stream, out as small pictures or, to be saved only, the original."""

import uuid

from django.http import FileResponse
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api.bodies import PhotoBody
from qrecords.api.door import Resource
from qrecords.api.errors import UnknownAddressError
from qrecords.api.operations import Operation
from qrecords.api.receipts import Receipt
from qrecords.api.views.arriving import digest_of, received
from qrecords.api.views.mountings import mounting_of
from qrecords.evidence import queries as evidence
from qrecords.evidence.intake import take_in, take_in_paper
from qrecords.people.permissions import Action

SIZES = {"320": 320, "1600": 1600}


class PhotoBytes(Resource):
    parser_classes = [PhotoBody]
    operations = {
        "PUT": Operation(
            "send a photo", (Action.ATTACH,), Receipt, write=True, takes="application/octet-stream"
        )
    }

    def put(self, request: Request, mounting: uuid.UUID, sha256: str) -> Response:
        """The bytes of a photo whose SHA-256 is in the address. What is no photo is refused, and kept in mind
        as refused; the entry that announced it stays."""
        return received(request, mounting, sha256, take_in)


class PaperBytes(Resource):
    parser_classes = [PhotoBody]
    operations = {
        "PUT": Operation(
            "send a paper", (Action.ATTACH,), Receipt, write=True, takes="application/octet-stream"
        ),
        "GET": Operation("save a paper", (Action.READ,), gives="application/octet-stream"),
    }

    def put(self, request: Request, mounting: uuid.UUID, sha256: str) -> Response:
        """The bytes of a paper whose SHA-256 is in the address: a whole PDF or a photograph of the sheet, up
        to 10 MB. What is neither is refused, and kept in mind as refused."""
        return received(request, mounting, sha256, take_in_paper)

    def get(self, request: Request, mounting: uuid.UUID, sha256: str) -> FileResponse:
        """The untouched file, to be saved, never shown."""
        found = mounting_of(request, mounting)
        return _sent(evidence.original(digest_of(sha256), mounting=found.id), sha256)


class PhotoPicture(Resource):
    operations = {"GET": Operation("look at a photo", (Action.READ,), gives="image/jpeg")}

    def get(self, request: Request, mounting: uuid.UUID, sha256: str, size: str) -> FileResponse | Response:
        """A small picture, its longer edge 320 or 1600 px; 404 until it is made."""
        found = mounting_of(request, mounting)
        if size not in SIZES:
            raise UnknownAddressError("size of a photo", size)
        return _sent(evidence.picture(digest_of(sha256), mounting=found.id, edge_px=SIZES[size]), sha256)


class PhotoOriginal(Resource):
    operations = {
        "GET": Operation("save the original", (Action.READ,), gives="application/octet-stream"),
    }

    def get(self, request: Request, mounting: uuid.UUID, sha256: str) -> FileResponse | Response:
        """The untouched file, to be saved, never shown."""
        found = mounting_of(request, mounting)
        return _sent(evidence.original(digest_of(sha256), mounting=found.id), sha256)


def _sent(held: evidence.Held | None, sha256: str) -> FileResponse:
    if held is None:
        raise UnknownAddressError("photo", sha256)
    media = "application/octet-stream" if held.attachment else held.media
    response = FileResponse(
        held.path.open("rb"), content_type=media, as_attachment=held.attachment, filename=sha256
    )
    response["Content-Security-Policy"] = "sandbox; default-src 'none'"
    response["Cache-Control"] = "private, max-age=31536000, immutable"
    return response
