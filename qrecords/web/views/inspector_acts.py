"""The inspector acts on one record: own reading, release, looked, sign. Each is one call, then back to it."""

import uuid

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_POST

from qrecords.ledger.queries import entries_of
from qrecords.mountings.actions.recording import Typed
from qrecords.mountings.actions.recording import record as record_step
from qrecords.mountings.errors import ChangedMeanwhileError
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.permissions import Action
from qrecords.refusals import status_of
from qrecords.signoff import actions as signoff
from qrecords.signoff import reviewing
from qrecords.web.door import ACTION_ERRORS, acting_of, door, entry_id_of, shown_of
from qrecords.web.heading import title_block
from qrecords.web.inspector.asked import asked_back
from qrecords.web.inspector.entries import lines
from qrecords.web.inspector.reader import mounting_of, page, sealed_on, zone_for
from qrecords.web.names import hold_name
from qrecords.web.showing import FIGURES
from qrecords.web.views.inspector import show_record


def _back(mounting: Mounting) -> HttpResponse:
    return redirect("inspect", mounting=mounting.id)


@door(Action.CHECK)
@require_POST
def own_reading(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """The marking as the inspector reads it off the ring: a check entry beside the fitter's. Read again, it
    is a new entry that names the one it replaces, with its reason."""
    found = mounting_of(request, mounting, Action.CHECK)
    try:
        record_step(
            acting=acting_of(request),
            mounting=found,
            entry_id=entry_id_of(request),
            step_id="identification",
            given={"marking": Typed(request.POST.get("marking", ""))},
            check=True,
            reason=request.POST.get("marking_reason", ""),
        )
    except ACTION_ERRORS as error:
        return _asked_back(request, found, error)
    case = case_of(found)
    typed, read = case.value_of("identification", "marking"), case.checks["identification"]["marking"]
    facts = {"read": read.word, "typed": typed.word if typed else gettext("nothing yet")}
    messages.success(request, gettext("You read %(read)s. The fitter typed %(typed)s.") % facts)
    return _back(found)


@door(Action.RELEASE)
@require_POST
def release(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """Release a hold point on one's own device."""
    found = mounting_of(request, mounting, Action.RELEASE)
    hold = request.POST.get("hold", "")
    try:
        signoff.release(
            acting=acting_of(request),
            mounting=found,
            entry_id=entry_id_of(request),
            hold=hold,
            shown=shown_of(request),
            alone=request.POST.get("alone", ""),
        )
    except ChangedMeanwhileError as error:
        return _changed(request, found, error, gettext("Not released"))
    messages.success(request, gettext("Released: %(hold)s.") % {"hold": hold_name(hold)})
    return _back(found)


@door(Action.CLOSE_QUERY)
@require_POST
def look(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """*Looked, explained by…*"""
    found = mounting_of(request, mounting, Action.CLOSE_QUERY)
    try:
        signoff.close_query(
            acting=acting_of(request),
            mounting=found,
            entry_id=entry_id_of(request),
            digest=request.POST.get("about", ""),
            explanation=request.POST.get("explanation", ""),
        )
    except ACTION_ERRORS as error:
        return _asked_back(request, found, error)
    messages.success(request, gettext("Looked. It is closed."))
    return _back(found)


@door(Action.SIGN)
@require_POST
def sign(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """Sign exactly what the form showed; if anything came since, say what and lead back to it."""
    found = mounting_of(request, mounting, Action.SIGN)
    try:
        signoff.sign(
            acting=acting_of(request),
            mounting=found,
            entry_id=entry_id_of(request),
            shown=shown_of(request),
            alone=request.POST.get("alone", ""),
        )
    except ChangedMeanwhileError as error:
        return _changed(request, found, error, gettext("Not signed"))
    except ACTION_ERRORS as error:
        return _asked_back(request, found, error)
    messages.success(request, gettext("Signed off. The record is frozen."))
    return _back(found)


@door(Action.REVIEW)
@require_POST
def review_again(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """Look again at what was signed with reduced independence."""
    found = mounting_of(request, mounting, Action.REVIEW)
    try:
        reviewing.review(
            acting=acting_of(request),
            mounting=found,
            entry_id=entry_id_of(request),
            agreed=request.POST.get("agreed", "") == "yes",
            words=request.POST.get("words", ""),
            shown=shown_of(request),
        )
    except ChangedMeanwhileError as error:
        return _changed(request, found, error, gettext("Not recorded"))
    messages.success(request, gettext("Looked again. It stands in the record."))
    return _back(found)


def _asked_back(request: HttpRequest, mounting: Mounting, error: Exception) -> HttpResponse:
    """The record page again, the words beside the field they are about; what no field mends is refused."""
    asked = asked_back(error, request.POST.dict())
    if asked is None:
        raise error
    answer = show_record(request, mounting, asked)
    answer.status_code = status_of(error)
    return answer


def _changed(
    request: HttpRequest, mounting: Mounting, error: ChangedMeanwhileError, outcome: str
) -> HttpResponse:
    """What came since; its values too, unless the reader has still to read for himself."""
    new = [said for said in entries_of(mounting.id) if str(said.id) in error.new_entries]
    case = case_of(mounting)
    sealed = sealed_on(request, mounting, case)
    context = page(
        request,
        mounting=mounting,
        outcome=outcome,
        new=lines(new, zone_for(request)),
        told=not sealed,
        title_block=title_block(mounting, case, FIGURES, blind=sealed.marking),
    )
    return render(request, "inspector/changed.html", context, status=409)
