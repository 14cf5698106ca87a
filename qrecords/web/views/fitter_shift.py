"""Shift start: once per shift what is at hand, so that every mounting of the day finds it put forward."""

import uuid
from datetime import UTC, datetime

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from qrecords.people.permissions import Action
from qrecords.people.queries import rights_of
from qrecords.steps.errors import FieldError, SlipError
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.fitter.page import moment_of, strip
from qrecords.web.fitter.questions import asked_sentence
from qrecords.web.fitter.shift import CLIMATE_LABELS, asked, climate_of, named, on_master, standing_words
from qrecords.web.parts import Safety
from qrecords.workshop.errors import RegisterFieldError, UnknownObjectError
from qrecords.workshop.shifts import read_climate, shift_of, start_shift


@door(Action.RECORD)
@require_http_methods(["GET", "POST"])
def shift_start(request: HttpRequest) -> HttpResponse:
    """What was used last is put forward, and nothing is taken for said before it is sent; numbers are always
    typed."""
    person, now = person_of(request), datetime.now(UTC)
    sites = sorted(rights_of(person.id, now).where(Action.RECORD).sites)
    site = _site(request, sites)
    if request.method == "POST":
        return _start(request, site)
    return _show(request, site, {})


def _site(request: HttpRequest, sites: list[uuid.UUID]) -> uuid.UUID:
    named = request.POST.get("site", request.GET.get("site", ""))
    chosen = [site for site in sites if str(site) == named]
    if named and not chosen:
        raise UnknownObjectError("site", named)
    return (chosen or sites)[0]


def _start(request: HttpRequest, site: uuid.UUID) -> HttpResponse:
    typed = climate_of(request.POST)
    sure = frozenset(name for name in typed if request.POST.get(f"sure:{name}") == typed[name][0])
    try:
        start_shift(
            acting=acting_of(request),
            site=site,
            shift_id=entry_id_of(request),
            gear=named(request.POST.getlist("gear")),
            climate=read_climate(typed, sure),
        )
    except FieldError as error:
        return _show(request, site, {error.field: error})
    except RegisterFieldError as error:
        messages.error(request, gettext("Not recorded. It wants {allowed}.").format(allowed=error.allowed))
        return _show(request, site, {}, status=422)
    messages.info(request, gettext("Shift start recorded. Mountings of the next 12 h put it forward."))
    return redirect("my-mountings")


def _asked_back(name: str, error: FieldError) -> tuple[str, bool, str]:
    """The question, whether the number can be confirmed as it stands, and as it was typed."""
    words = asked_sentence(gettext(CLIMATE_LABELS[name]), error)
    return words, isinstance(error, SlipError), error.typed


def _show(
    request: HttpRequest, site: uuid.UUID, errors: dict[str, FieldError], status: int = 200
) -> HttpResponse:
    person, now, moment = person_of(request), datetime.now(UTC), moment_of(request)
    before = shift_of(person.id, site, now)
    wrong = [
        (
            name,
            asked_sentence(gettext(CLIMATE_LABELS[name]), error),
            isinstance(error, SlipError),
            error.typed,
        )
        for name, error in errors.items()
    ]
    context = {
        "strip": strip(person, now, moment),
        "asked": asked(site, person, now, request.POST.getlist("gear") if request.method == "POST" else None),
        "climate": [
            (name, gettext(label), *climate_of(request.POST)[name]) for name, label in CLIMATE_LABELS.items()
        ],
        "before": standing_words(before, moment) if before else "",
        "on_master": on_master(before) if before else (),
        "wrong": wrong,
        "site": site,
        "entry_id": request.POST.get("entry_id", ""),
        "safety": Safety(worked_out=False),
        "theme": request.COOKIES.get("theme", ""),
    }
    return render(request, "fitter/shift_start.html", context, status=422 if errors else status)
