"""The inspector reads: who waits, one record whole, the display in its photo."""

import uuid
from collections.abc import Mapping
from datetime import UTC, datetime

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_POST

from qrecords.mountings.displays import DISPLAYS, with_heard
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.permissions import Action
from qrecords.web.door import door, person_of
from qrecords.web.inspector.asked import AskedBack
from qrecords.web.inspector.blind import UNREADABLE, NoSizeError, read_display_nm
from qrecords.web.inspector.reader import heard_on, mounting_of, page, zone_for
from qrecords.web.inspector.record import record_of
from qrecords.web.inspector.rejudged import rejudged
from qrecords.web.inspector.waiting import waiting_for
from qrecords.web.rebuilds.waiting import rebuilds_waiting
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
    rebuilds = rebuilds_waiting(person_of(request), datetime.now(UTC), words)
    context = page(request, groups=groups, words=words, rebuilds=rebuilds)
    return render(request, "inspector/waiting.html", context)


@door(Action.READ)
@require_GET
def record(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """One record: what needs you, then the rest."""
    return show_record(request, mounting_of(request, mounting, Action.READ))


def show_record(
    request: HttpRequest,
    found: Mounting,
    asked: AskedBack | None = None,
    display: Mapping[str, str] | None = None,
    status: int = 200,
) -> HttpResponse:
    """The record page; a form that was `asked` back, or a `display` read as no size, stands on it as sent."""
    shown = record_of(
        person_of(request),
        found,
        datetime.now(UTC),
        zone_for(request),
        heard_on(request, found),
        FIGURES,
    )
    sealed = shown.kept.marking or shown.kept.readings
    again = () if sealed else rejudged(found, zone_for(request))
    context = page(
        request, again=again, record=shown, title_block=shown.title_block, safety=shown.safety, asked=asked
    )
    return render(request, "inspector/record.html", {**context, "display": display}, status=status)


@door(Action.CHECK)
@require_POST
def read_display(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """What the reader sees on the photographed display, before the typed readings are shown. Nothing is
    recorded: it is a comparison, kept in the reader's own session."""
    found = mounting_of(request, mounting, Action.CHECK)
    heard = UNREADABLE if "unreadable" in request.POST else request.POST.get("display", "").strip()
    try:
        if heard != UNREADABLE:
            read_display_nm(heard, case_of(found).requirement.nominal_nm)
    except NoSizeError as error:
        return show_record(request, found, display={"typed": heard[:40], "wrong": str(error)}, status=422)
    request.session[DISPLAYS] = with_heard(request.session, found.id, heard)
    return redirect("inspect", mounting=found.id)
