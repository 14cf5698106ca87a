"""Answers to findings: decide several with one cause, or return them item by item."""

import uuid
from datetime import UTC, datetime
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.permissions import Action
from qrecords.refusals import status_of
from qrecords.signoff import actions as signoff
from qrecords.signoff.amending import amend
from qrecords.signoff.errors import ReasonNeededError
from qrecords.steps.deciding import NOTE
from qrecords.steps.granting import offers
from qrecords.steps.transitions import undecided
from qrecords.web.door import ACTION_ERRORS, acting_of, door, entry_id_of, person_of
from qrecords.web.heading import safety_of, title_block
from qrecords.web.inspector.asked import asked_back
from qrecords.web.inspector.choosing import choosable, kinds, returnable, states
from qrecords.web.inspector.conceding import letters, saying_of
from qrecords.web.inspector.reader import mounting_of, page, sealed_on
from qrecords.web.inspector.rights import rights_at
from qrecords.web.refused import refused_words
from qrecords.web.showing import FIGURES


@door(Action.MEASURE_AGAIN)
@require_http_methods(["GET", "POST"])
def decide(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """One decision about one or several findings. What was typed stays if it is refused."""
    return _decided(request, mounting_of(request, mounting, Action.MEASURE_AGAIN))


@door(Action.NOTE)
@require_http_methods(["GET", "POST"])
def note(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """The same for who keeps the gauges: a gauge that was found right afterwards is noted."""
    found = mounting_of(request, mounting, Action.NOTE)
    judged = judged_now(found)
    noted = (offer.kind for f in undecided(judged.case, judged.findings) for offer in offers(f, judged.case))
    if NOTE not in noted:
        raise Http404("nothing to note")
    return _decided(request, found)


def _decided(request: HttpRequest, found: Mounting) -> HttpResponse:
    if request.method == "GET":
        return _decision_form(request, found, request.GET.getlist("about"))
    kind = request.POST.get("kind", "")
    try:
        if kind not in signoff.DECISIONS or not request.POST.getlist("about"):
            raise ReasonNeededError("decision")
        signoff.decide(
            acting=acting_of(request),
            mounting=found,
            entry_id=entry_id_of(request),
            kind=kind,
            digests=request.POST.getlist("about"),
            reason=request.POST.get("reason", ""),
            conditions=request.POST.get("conditions", ""),
            saying=saying_of(request.POST),
        )
    except ACTION_ERRORS as error:
        return _decision_form(request, found, request.POST.getlist("about"), error)
    messages.success(request, gettext("Decided."))
    return redirect("inspect", mounting=found.id)


def _decision_form(
    request: HttpRequest, mounting: Mounting, chosen: list[str], error: Exception | None = None
) -> HttpResponse:
    judged = judged_now(mounting)
    sealed = sealed_on(request, mounting, judged.case)
    findings = choosable(judged, FIGURES, chosen, sealed)
    rights = rights_at(person_of(request), mounting.site, datetime.now(UTC), judged.case.procedure)
    return _form(
        request,
        "inspector/decide.html",
        error,
        mounting=mounting,
        title_block=title_block(mounting, judged.case, FIGURES, blind=sealed.marking),
        findings=findings,
        kinds=kinds(findings, rights, request.POST.get("kind", "")),
        concedes=rights.may(Action.CONCEDE),
        states=states(findings, rights),
        letters=letters(judged.case),
        stated=request.POST.getlist("states"),
        typed=request.POST,
        asked=asked_back(error, request.POST.dict()) if error else None,
        safety=safety_of(mounting),
    )


@door(Action.RETURN)
@require_http_methods(["GET", "POST"])
def give_back(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """Return the record to the fitter: each item with its own reason, never the whole without one."""
    found = mounting_of(request, mounting, Action.RETURN)
    reasons = dict(zip(request.POST.getlist("about"), request.POST.getlist("reason"), strict=False))
    if request.method == "GET":
        return _return_form(request, found, reasons)
    other = request.POST.get("other", "").strip()
    items = [(about, reason) for about, reason in reasons.items() if reason.strip()]
    items += [(gettext("the record"), other)] if other else []
    try:
        signoff.give_back(
            acting=acting_of(request), mounting=found, entry_id=entry_id_of(request), items=items
        )
    except ACTION_ERRORS as error:
        return _return_form(request, found, reasons, error)
    messages.success(request, gettext("Returned to the fitter."))
    return redirect("inspect", mounting=found.id)


def _return_form(
    request: HttpRequest, mounting: Mounting, reasons: dict[str, str], error: Exception | None = None
) -> HttpResponse:
    judged = judged_now(mounting)
    sealed = sealed_on(request, mounting, judged.case)
    return _form(
        request,
        "inspector/return.html",
        error,
        mounting=mounting,
        title_block=title_block(mounting, judged.case, FIGURES, blind=sealed.marking),
        findings=returnable(judged, FIGURES, reasons, request.GET.get("about", ""), sealed),
        typed=request.POST,
    )


@door(Action.AMEND)
@require_http_methods(["GET", "POST"])
def amend_record(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """Open a signed record for its next numbered amendment."""
    found = mounting_of(request, mounting, Action.AMEND)
    if request.method == "GET":
        return _amend_form(request, found)
    try:
        amend(
            acting=acting_of(request),
            mounting=found,
            entry_id=entry_id_of(request),
            reason=request.POST.get("reason", ""),
        )
    except ACTION_ERRORS as error:
        return _amend_form(request, found, error)
    words = gettext("Open for an amendment. The fitter records what changes, and says ready.")
    messages.success(request, words)
    return redirect("inspect", mounting=found.id)


def _amend_form(request: HttpRequest, mounting: Mounting, error: Exception | None = None) -> HttpResponse:
    return _form(
        request,
        "inspector/amend.html",
        error,
        mounting=mounting,
        title_block=title_block(mounting, case_of(mounting), FIGURES),
        asked=asked_back(error, request.POST.dict()) if error else None,
    )


def _form(request: HttpRequest, template: str, error: Exception | None, **context: Any) -> HttpResponse:
    status = status_of(error) if error else 200
    words = refused_words(error) if error else ""
    return render(request, template, page(request, error=words, **context), status=status)
