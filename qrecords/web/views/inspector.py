"""The inspector reads: who waits, one record whole, and the pictures in it."""

import uuid
from datetime import UTC, datetime
from typing import cast

from django.contrib import messages
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_POST

from qrecords.engineering import units
from qrecords.engineering.errors import EngineeringError
from qrecords.evidence.queries import original, picture
from qrecords.mountings.displays import DISPLAYS, with_heard
from qrecords.mountings.models import Mounting
from qrecords.people.permissions import Action
from qrecords.web.door import door, person_of
from qrecords.web.inspector.asked import AskedBack
from qrecords.web.inspector.blind import UNREADABLE
from qrecords.web.inspector.reader import heard_on, mounting_of, page, zone_for
from qrecords.web.inspector.record import record_of
from qrecords.web.inspector.waiting import waiting_for
from qrecords.web.photographs import sandboxed
from qrecords.web.showing import FIGURES


@door(Action.CLOSE_QUERY)
@require_GET
def waiting(request: HttpRequest) -> HttpResponse:
    """*Waiting for you*, holds before heat first."""
    words = request.GET.get("q", "")[:80]
    number = request.GET.get("page", "1")
    groups = waiting_for(
        person_of(request),
        datetime.now(UTC),
        zone_for(request),
        words,
        max(1, int(number)) if number.isdecimal() and len(number) < 6 else 1,
    )
    return render(request, "inspector/waiting.html", page(request, groups=groups, words=words))


@door(Action.READ)
@require_GET
def record(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """One record: what needs you, then the rest."""
    return show_record(request, mounting_of(request, mounting, Action.READ))


def show_record(request: HttpRequest, found: Mounting, asked: AskedBack | None = None) -> HttpResponse:
    """The record page; a form that was `asked` back stands on it as it was sent."""
    shown = record_of(
        person_of(request),
        found,
        datetime.now(UTC),
        zone_for(request),
        heard_on(request, found),
        FIGURES,
    )
    context = page(request, record=shown, title_block=shown.title_block, safety=shown.safety, asked=asked)
    return render(request, "inspector/record.html", context)


@door(Action.CHECK)
@require_POST
def read_display(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """What the reader sees on the photographed display, before the typed readings are shown. Nothing is
    recorded: it is a comparison, kept in the reader's own session."""
    found = mounting_of(request, mounting, Action.CHECK)
    heard = UNREADABLE if "unreadable" in request.POST else request.POST.get("display", "").strip()
    try:
        if heard != UNREADABLE:
            units.read(heard, "length", "mm")
    except EngineeringError as error:
        messages.error(request, gettext("%(error)s. Type the size in mm.") % {"error": error})
    else:
        request.session[DISPLAYS] = with_heard(request.session, found.id, heard)
    return redirect("inspect", mounting=found.id)


@door(Action.READ)
@require_GET
def photo(request: HttpRequest, mounting: uuid.UUID, sha256: str, edge_px: int) -> HttpResponse:
    """The picture made from a photo of this mounting, upright, without its private data."""
    found = mounting_of(request, mounting, Action.READ)
    held = picture(sha256, mounting=found.id, edge_px=edge_px)
    if held is None:
        raise Http404
    answer = HttpResponse(held.path.read_bytes(), content_type=held.media)
    sandboxed(answer)
    return answer


@door(Action.READ)
@require_GET
def original_photo(request: HttpRequest, mounting: uuid.UUID, sha256: str) -> HttpResponse:
    """The untouched original, to keep and to check against its digest; never shown inline."""
    found = mounting_of(request, mounting, Action.READ)
    held = original(sha256, mounting=found.id)
    if held is None:
        raise Http404
    file = FileResponse(held.path.open("rb"), content_type=held.media, as_attachment=True, filename=sha256)
    sandboxed(file)
    return cast(HttpResponse, file)  # it streams; every view is an HttpResponse to the door
