"""Photos of a mounting: taken in with the form or by themselves, shown as derivatives, kept as they came."""

import hashlib
import uuid
from datetime import UTC, datetime
from typing import Any, cast

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import FileResponse, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_POST

from qrecords.evidence import queries as evidence
from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.intake import take_in
from qrecords.mountings.actions.attaching import announce_file, receive_file, refuse_file
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import mounting_for
from qrecords.people.permissions import Action
from qrecords.proof.identifiers import following
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.fitter.words import REFUSED_FILE
from qrecords.web.names import SHOTS
from qrecords.web.photographs import sandboxed

CAMERA, GALLERY = "shot.", "gallery."


@door(Action.ATTACH)
@require_POST
def photos(request: HttpRequest, mounting_id: uuid.UUID) -> HttpResponse:
    """Take in the photos of one form; back to where it came from, or what became of each as JSON."""
    mounting = mounting_for(person_of(request), mounting_id, Action.ATTACH, datetime.now(UTC))
    refused = take_photos(request, mounting, quiet=_wants_json(request))
    if _wants_json(request):
        return JsonResponse({"refused": refused}, status=422 if refused else 200)
    return redirect("mounting", mounting.id)


def _wants_json(request: HttpRequest) -> bool:
    return request.headers.get("Accept", "") == "application/json"


def take_photos(request: HttpRequest, mounting: Mounting, *, quiet: bool = False) -> list[str]:
    """Every photo of a form: kept, announced and received, or refused with its reason in words."""
    refused = []
    for field, files in request.FILES.lists():
        for prefix in (CAMERA, GALLERY):
            shot = field.removeprefix(prefix)
            if field.startswith(prefix) and shot in SHOTS:
                for file in files:
                    sentence = _take(request, mounting, shot, file, camera=prefix == CAMERA)
                    refused += [sentence] if sentence else []
    for sentence in refused if not quiet else ():
        messages.error(request, sentence)
    return refused


def _take(
    request: HttpRequest, mounting: Mounting, shot: str, file: "UploadedFile[Any]", *, camera: bool
) -> str:
    """One photo; '' or why it was not kept. The bytes are read and decoded before the transaction."""
    acting = acting_of(request)
    try:
        taken = take_in(file.chunks())
    except FileRefusedError as error:
        file.seek(0)
        digest = hashlib.sha256()
        for chunk in file.chunks():
            digest.update(chunk)
        refuse_file(acting=acting, mounting=mounting, sha256=digest.hexdigest(), error=error)
        why = gettext(REFUSED_FILE.get(error.code, error.code))
        return gettext("Photo of {shot} not kept: {why}").format(shot=gettext(SHOTS[shot]), why=why)
    announce_file(
        acting=acting,
        mounting=mounting,
        entry_id=following(entry_id_of(request), f"photo {shot} {taken.sha256}"),
        shot=shot,
        sha256=taken.sha256,
        size=taken.size,
        media=taken.photo.media,
        camera=camera,
    )
    receive_file(acting=acting, mounting=mounting, taken=taken)
    return ""


@door(Action.READ)
@require_GET
def photo(request: HttpRequest, mounting_id: uuid.UUID, sha256: str, size: str) -> HttpResponse:
    """A picture of 1600 or 320 px to look at, or the original as it came, which is only handed out."""
    mounting = mounting_for(person_of(request), mounting_id, Action.READ, datetime.now(UTC))
    if size == "original":
        held = evidence.original(sha256, mounting=mounting.id)
    else:
        held = evidence.picture(sha256, mounting=mounting.id, edge_px=int(size))
    if held is None:
        here = size != "original" and evidence.is_here(sha256, mounting=mounting.id)
        words = gettext("This picture is being made.") if here else gettext("No such photo in this mounting.")
        return HttpResponse(words, status=404, content_type="text/plain; charset=utf-8")
    response = FileResponse(
        held.path.open("rb"),
        content_type=held.media,
        as_attachment=held.attachment,
        filename=f"{mounting.number}-{sha256[:12]}{'' if held.attachment else '.jpg'}",
    )
    sandboxed(response)
    return cast(HttpResponse, response)  # a file response is one that streams
