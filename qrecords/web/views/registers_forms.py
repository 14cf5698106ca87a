"""Forms of the registers: a new machine, a new piece of equipment, its next calibration."""

import uuid
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from qrecords.evidence.intake import TakenIn
from qrecords.ledger.identifiers import new_id
from qrecords.people.permissions import Action
from qrecords.proof.identifiers import following
from qrecords.steps.gear import KINDS
from qrecords.web.door import acting_of, door, entry_id_of
from qrecords.web.registers.asking import Ask, Reading, WrongFields, asked, typed, wrong
from qrecords.web.registers.certificates import certificate_ask, certificate_sent, file_named
from qrecords.web.registers.gear_form import identity_asks, read_version, version_asks
from qrecords.web.views.registers import reach_of
from qrecords.workshop import actions
from qrecords.workshop.care_actions import receive_certificate
from qrecords.workshop.errors import RegisterFieldError, UnknownObjectError
from qrecords.workshop.models import Equipment, Site
from qrecords.workshop.queries import equipment as equipment_for
from qrecords.workshop.queries import sites

GET_POST = ["GET", "POST"]
GEAR: dict[str, Any] = {"here": "equipment", "multipart": True}


def show_form(
    request: HttpRequest,
    title: str,
    asks: Sequence[Ask],
    given: Mapping[str, str] | None = None,
    errors: Mapping[str, str] | None = None,
    **more: Any,
) -> HttpResponse:
    """A form as first shown, or with what was typed and what is wrong at each field."""
    context: dict[str, Any] = {
        "title": title,
        "fields": asked(asks, given, errors),
        "entry_id": request.POST.get("entry_id", "") or str(new_id()),
        "wrong": bool(errors),
        **more,
    }
    template = f"registers/{context.pop('template', 'form')}.html"
    return render(request, template, context, status=422 if errors else 200)


def site_ask(request: HttpRequest, action: Action) -> tuple[list[Site], list[Ask]]:
    """The sites a person may do this at, and the question which, where there are several."""
    found = sites(reach_of(request, action))
    if len(found) < 2:
        return found, []
    options = [(str(site.id), site.name) for site in found]
    return found, [Ask("site", gettext("site"), "select", options, required=True)]


def site_of(found: Sequence[Site], given: Mapping[str, str]) -> Site:
    """The site chosen; the only one where there is one and none is named. Nothing is done at one's own site
    that was said of another."""
    named = given.get("site", "")
    chosen = [site for site in found if str(site.id) == named]
    if chosen or (len(found) == 1 and not named):
        return (chosen or list(found))[0]
    if len(found) == 1:
        raise UnknownObjectError("site", named)
    raise WrongFields({"site": wrong(named, ", ".join(site.name for site in found))})


@door(Action.REGISTER)
@require_http_methods(GET_POST)
def machine_new(request: HttpRequest) -> HttpResponse:
    """A machine; its workshop mark is made here unless the plate already bears one."""
    found, site_asks = site_ask(request, Action.REGISTER)
    schemes = [(scheme, gettext(scheme)) for scheme in actions.SCHEMES]
    asks = [
        *site_asks,
        Ask("name", gettext("machine"), required=True, hint=gettext("as people call it, e.g. hoist motor 2")),
        Ask("owner", gettext("owner"), required=True),
        Ask("scheme", gettext("statutory scheme"), "select", schemes, value="none"),
        Ask("released_by", gettext("who releases it there"), hint=gettext("an office or body, no name")),
        Ask("mark", gettext("workshop mark"), hint=gettext("only if the plate already bears one")),
    ]
    title = gettext("New machine")
    if request.method == "GET":
        return show_form(request, title, asks, here="machines")
    given = typed(request, asks)
    try:
        machine = actions.register_machine(
            acting=acting_of(request),
            site=site_of(found, given).id,
            machine_id=entry_id_of(request),
            name=given["name"],
            owner=given["owner"],
            scheme=given["scheme"],
            mark=given["mark"],
            released_by=given["released_by"],
        )
    except RegisterFieldError as error:
        errors = {error.field: wrong(given[error.field], error.allowed)}
        return show_form(request, title, asks, given, errors, here="machines")
    except WrongFields as error:
        return show_form(request, title, asks, given, error.errors, here="machines")
    words = gettext("%(name)s has the workshop mark %(mark)s.") % {"name": machine.name, "mark": machine.mark}
    messages.info(request, words)
    return redirect("machines")


@door(Action.EQUIP)
@require_http_methods(GET_POST)
def equipment_new(request: HttpRequest) -> HttpResponse:
    """A gauge, master, meter, feeler set or heater with its first calibration."""
    found, site_asks = site_ask(request, Action.EQUIP)
    zone = found[0].zone if found else "UTC"
    asks = [*site_asks, *identity_asks(), *version_asks("", datetime.now(UTC), zone), certificate_ask()]
    title = gettext("New gauge, meter or heater")
    if request.method == "GET":
        return show_form(request, title, asks, **GEAR)
    given = typed(request, asks)
    try:
        piece = _registered(request, found, given)
    except RegisterFieldError as error:
        errors = {error.field: wrong(given[error.field], error.allowed)}
        return show_form(request, title, asks, given, errors, **GEAR)
    except WrongFields as error:
        return show_form(request, title, asks, given, error.errors, **GEAR)
    messages.info(request, gettext("%(mark)s is registered.") % {"mark": piece.mark})
    return redirect("equipment")


def _registered(request: HttpRequest, found: Sequence[Site], given: Mapping[str, str]) -> Equipment:
    site, reading = site_of(found, given), Reading(given)
    kind = reading.one_of("kind", KINDS)
    mark = reading.text("mark", 30)
    document, valid_from = read_version(kind, reading, site.zone)
    reading.done()
    id, taken = entry_id_of(request), certificate_sent(request)
    piece = actions.register_equipment(
        acting=acting_of(request),
        site=site.id,
        equipment_id=id,
        version_id=following(id, "first calibration"),
        kind=kind,
        mark=mark,
        document={**document, **file_named(taken, document, None)},
        valid_from=valid_from,
    )
    _keep(request, piece, taken)
    return piece


def _keep(request: HttpRequest, piece: Equipment, taken: TakenIn | None) -> None:
    if taken is not None:
        receive_certificate(acting=acting_of(request), equipment=piece, taken=taken)


@door(Action.EQUIP)
@require_http_methods(GET_POST)
def calibration_new(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """The next version of a piece: calibrated, quarantined, dropped, lost. The ones before stay."""
    piece = equipment_for(id, reach_of(request, Action.EQUIP))
    standing = piece.versions.order_by("-valid_from", "-id").first()
    zone = Site.objects.filter(id=piece.site).values_list("zone", flat=True).first() or "UTC"
    known = standing.document if standing else None
    asks = [*version_asks(piece.kind, datetime.now(UTC), zone, known), certificate_ask()]
    title = gettext("%(mark)s: calibration or status") % {"mark": piece.mark}
    if request.method == "GET":
        return show_form(request, title, asks, **GEAR)
    given = typed(request, asks)
    reading = Reading(given)
    document, valid_from = read_version(piece.kind, reading, zone)
    try:
        reading.done()
        taken = certificate_sent(request)
        actions.calibrate(
            acting=acting_of(request),
            version_id=entry_id_of(request),
            equipment=piece,
            document={**document, **file_named(taken, document, known)},
            valid_from=valid_from,
        )
        _keep(request, piece, taken)
    except RegisterFieldError as error:
        errors = {error.field: wrong(given[error.field], error.allowed)}
        return show_form(request, title, asks, given, errors, **GEAR)
    except WrongFields as error:
        return show_form(request, title, asks, given, error.errors, **GEAR)
    messages.info(request, gettext("%(mark)s has a new version.") % {"mark": piece.mark})
    return redirect("equipment")
