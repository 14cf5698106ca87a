"""Photos of a mounting, taken in with the form or by themselves."""

import uuid
from datetime import UTC, datetime
from typing import Any

from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.utils.translation import gettext
from django.views.decorators.http import require_POST

from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.intake import take_in
from qrecords.mountings.actions.attaching import announce_file, receive_file
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import mounting_for
from qrecords.people.permissions import Action
from qrecords.proof.identifiers import following
from qrecords.steps.acts import LOG_SHOT
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.fitter.words import REFUSED_FILE
from qrecords.web.names import SHOTS
from qrecords.web.taking_in import taken_in

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
            if field.startswith(prefix) and shot in SHOTS and shot != LOG_SHOT:
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
        taken = taken_in(request, mounting, file, take_in)
    except FileRefusedError as error:
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
