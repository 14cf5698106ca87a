"""What happens to a gauge between two calibrations: read on its master, dropped, damaged."""

import uuid
from collections.abc import Mapping
from typing import cast

from django.contrib import messages
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _
from django.views.decorators.http import require_GET, require_http_methods

from qrecords.evidence.papers import PDF
from qrecords.evidence.queries import original
from qrecords.people.permissions import Action
from qrecords.steps.errors import FieldError, SlipError
from qrecords.steps.gear import DAMAGES, SETTING_MASTER
from qrecords.web.door import acting_of, door, entry_id_of
from qrecords.web.photographs import sandboxed
from qrecords.web.registers.asking import Ask, typed, wrong
from qrecords.web.views.registers import reach_of
from qrecords.web.views.registers_forms import GET_POST, show_form
from qrecords.workshop.care_actions import OFF, ON_MASTER, SHIFT, check_on_master, report_damage
from qrecords.workshop.errors import RegisterFieldError, UnknownObjectError
from qrecords.workshop.models import Equipment
from qrecords.workshop.queries import equipment as equipment_for
from qrecords.workshop.queries import equipment_of

WHEN = {"before": _("before the shift"), "after": _("after the shift")}
OFF_LIMIT = _("%(mark)s is off by more than its limit: what was read since its last good check is in doubt.")


def _again(
    request: HttpRequest, title: str, asks: list[Ask], given: Mapping[str, str], errors: Mapping[str, str]
) -> HttpResponse:
    return show_form(request, title, asks, given, errors, here="equipment")


def _check_asks(masters: list[Equipment]) -> list[Ask]:
    named = [("", gettext("choose")), *((str(master.id), master.mark) for master in masters)]
    shifts = [(when, gettext(WHEN[when])) for when in SHIFT]
    hint = gettext("0 where it reads the size of its master; too low is −")
    return [
        Ask("master", gettext("setting master"), "select", named, required=True),
        Ask("when", gettext("when"), "select", shifts, required=True),
        Ask("off", gettext("off its master"), unit="µm", numeric=True, required=True, hint=hint),
    ]


@door(Action.CHECK_GAUGE)
@require_http_methods(GET_POST)
def gauge_check(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """A gauge read on its master before the shift or after it."""
    gauge = equipment_for(id, reach_of(request, Action.CHECK_GAUGE))
    if gauge.kind not in ON_MASTER:
        raise UnknownObjectError("gauge that is read on a master", id)
    masters = equipment_of(gauge.site, [SETTING_MASTER])
    asks, title = _check_asks(masters), gettext("%(mark)s on its master") % {"mark": gauge.mark}
    if request.method == "GET":
        return show_form(request, title, asks, here="equipment")
    given = {**typed(request, asks), "sure": request.POST.get("sure", "")}
    master = next((master for master in masters if str(master.id) == given["master"]), None)
    if master is None:
        errors = {"master": wrong(given["master"], ", ".join(master.mark for master in masters))}
        return _again(request, title, asks, given, errors)
    try:
        row = check_on_master(
            acting=acting_of(request),
            check_id=entry_id_of(request),
            equipment=gauge,
            master=master,
            when=given["when"],
            off=OFF.parse(given["off"], "um", sure=bool(given["sure"])),
        )
    except RegisterFieldError as error:
        return _again(request, title, asks, given, {error.field: wrong(error.value, error.allowed)})
    except SlipError as error:
        said = {"value": given["off"], "allowed": error.allowed.replace("um", "µm").replace("-", "−")}
        errors = {"off": gettext("%(value)s µm: expected %(allowed)s. Look again, or say it is so.") % said}
        sure = Ask("sure", gettext("read again: it is so"), "checkbox")
        return _again(request, title, [*asks, sure], given, errors)
    except FieldError:
        errors = {"off": wrong(given["off"], OFF.range_in("um").replace("um", "µm").replace("-", "−"))}
        return _again(request, title, asks, given, errors)
    words = gettext("%(mark)s is within its limit.") if row.within else gettext(OFF_LIMIT)
    messages.info(request, words % {"mark": gauge.mark})
    return redirect("equipment")


@door(Action.DAMAGE)
@require_http_methods(GET_POST)
def gauge_damage(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """Dropped or damaged: out of use from now, until it is calibrated anew."""
    piece = equipment_for(id, reach_of(request, Action.DAMAGE))
    kinds = [(damage, gettext(damage)) for damage in DAMAGES]
    asks = [
        Ask("what", gettext("what happened"), "select", kinds, required=True),
        Ask("note", gettext("note"), hint=gettext("how, from what height, onto what")),
    ]
    title = gettext("%(mark)s dropped or damaged") % {"mark": piece.mark}
    if request.method == "GET":
        return show_form(request, title, asks, here="equipment")
    given = typed(request, asks)
    try:
        report_damage(
            acting=acting_of(request),
            damage_id=entry_id_of(request),
            equipment=piece,
            what=given["what"],
            note=given["note"],
        )
    except RegisterFieldError as error:
        return _again(request, title, asks, given, {error.field: wrong(error.value, error.allowed)})
    words = gettext("%(mark)s is out of use until it is calibrated.") % {"mark": piece.mark}
    messages.info(request, words)
    return redirect("equipment")


@door(Action.TRACE)
@require_GET
def certificate_file(request: HttpRequest, id: uuid.UUID, sha256: str) -> HttpResponse:
    """The certificate as it came, to be saved."""
    piece = equipment_for(id, reach_of(request, Action.TRACE))
    held = original(sha256, mounting=piece.id)
    if held is None:
        raise Http404
    name = f"{piece.mark}-{sha256[:12]}{'.pdf' if held.media == PDF else ''}"
    response = FileResponse(held.path.open("rb"), content_type=held.media, as_attachment=True, filename=name)
    sandboxed(response)
    return cast(HttpResponse, response)  # a file response is one that streams
