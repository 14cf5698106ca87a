"""The inspector measures a journal himself: his readings are a check, each place as he measured it."""

import uuid

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from qrecords.mountings.actions.recording import Given, Typed
from qrecords.mountings.actions.recording import record as record_step
from qrecords.mountings.errors import FieldsError, NeedsReasonError, NothingSaidError
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.people.permissions import Action
from qrecords.steps.case import Case
from qrecords.steps.gauges import STEP_ID
from qrecords.steps.measurement import wanted_places
from qrecords.web.door import acting_of, door, entry_id_of
from qrecords.web.fitter.questions import asked_sentence
from qrecords.web.fitter.sent import GIVEN_BACK
from qrecords.web.fitter.words import field_label
from qrecords.web.heading import title_block
from qrecords.web.inspector.reader import mounting_of, page, sealed_on
from qrecords.web.showing import FIGURES
from qrecords.workshop.queries import equipment_of


@door(Action.CHECK)
@require_http_methods(["GET", "POST"])
def own_measurement(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """His own readings of the journal. They stand in place of those that were there, with the reason; both
    stay readable."""
    found = mounting_of(request, mounting, Action.CHECK)
    case = case_of(found)
    if request.method == "GET":
        return _form(request, found, case)
    try:
        record_step(
            acting=acting_of(request),
            mounting=found,
            entry_id=entry_id_of(request),
            step_id=STEP_ID,
            given=_given(request, case),
            check=True,
            reason=request.POST.get("reason", ""),
        )
    except FieldsError as error:
        asked = {key: asked_sentence(field_label(f"{STEP_ID}.{key}"), e) for key, e in error.errors.items()}
        return _form(request, found, case, asked, status=422)
    except (NothingSaidError, NeedsReasonError):
        words = gettext(
            "Give your readings, and why they are taken: after which rework, or what was in doubt."
        )
        return _form(request, found, case, {"": words}, status=422)
    messages.success(request, gettext("Your readings stand now."))
    return redirect("inspect", mounting=found.id)


def _given(request: HttpRequest, case: Case) -> dict[str, Given]:
    unit = _unit(request, case)
    typed = zip(_places(case), request.POST.getlist("reading"), strict=False)
    given: dict[str, Given] = {key: Typed(text, unit) for key, text in typed if text.strip()}
    if not given:
        return {_places(case)[0]: Typed("", unit)}  # asked back at its place, with its range
    gauge = request.POST.get("gauge", "")
    return given | {"gauge": Typed(gauge)} if gauge else given


def _places(case: Case) -> list[str]:
    return [f"journal.{plane}.{direction}" for plane, direction in wanted_places(case)]


def _units(case: Case) -> list[str]:
    return [f"um from {case.requirement.nominal_mm} mm", "mm", "in"]


def _unit(request: HttpRequest, case: Case) -> str:
    sent = request.POST.get("unit", "")
    return sent if sent in _units(case) else _units(case)[0]


def _form(
    request: HttpRequest,
    mounting: Mounting,
    case: Case,
    asked: dict[str, str] | None = None,
    status: int = 200,
) -> HttpResponse:
    typed = [text[:GIVEN_BACK] for text in request.POST.getlist("reading")]
    typed += [""] * (len(_places(case)) - len(typed))
    asked = asked or {}
    rows = [
        (key, field_label(f"{STEP_ID}.{key}"), text, asked.get(key, ""))
        for key, text in zip(_places(case), typed, strict=False)
    ]
    standing = case.value_of(STEP_ID, "gauge")
    context = page(
        request,
        mounting=mounting,
        title_block=title_block(mounting, case, FIGURES, blind=sealed_on(request, mounting, case).marking),
        rows=rows,
        wrong=asked.get("", ""),
        units=[
            (unit, gettext("µm from {size}").format(size=unit[8:]) if "um" in unit else unit)
            for unit in _units(case)
        ],
        unit=_unit(request, case),
        gauges=[(str(g.id), g.mark) for g in equipment_of(mounting.site, ["outside micrometer"])],
        gauge=request.POST.get("gauge", standing.word if standing else ""),
        reason=request.POST.get("reason", ""),
    )
    return render(request, "inspector/own_measurement.html", context, status=status)
