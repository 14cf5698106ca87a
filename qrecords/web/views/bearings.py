"""One bearing of the register, and what is said of it: removed, failed, set aside, cleared, scrapped."""

import uuid
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_http_methods

from qrecords.mountings.actions import bearing_life as life
from qrecords.mountings.errors import BearingStateError
from qrecords.mountings.models import Mounting
from qrecords.people.permissions import Action
from qrecords.steps.bearing_life import METHODS
from qrecords.steps.damage import BY_ID, UNKNOWN
from qrecords.tracing.history import bearing as bearing_within
from qrecords.tracing.lives import life_besides
from qrecords.web.auditor.saying_lives import damage_name
from qrecords.web.door import acting_of, door, entry_id_of, may, person_of
from qrecords.web.refused import refused_words
from qrecords.web.registers.asking import Ask, Reading, WrongFields, typed, wrong
from qrecords.web.registers.bearing_page import ACTS, bearing_page, day_ask, titles
from qrecords.web.views.registers import reach_of, zone_within
from qrecords.web.views.registers_forms import GET_POST, show_form
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import Bearing, Delivery, Journal

DECIDED = {Action.ACCEPT, Action.SCRAP}
"""What nobody does who worked on a mounting of the bearing, so it is not offered to him."""


@door(Action.READ)
@require_GET
def bearing(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """What it is, where it is, what became of it, and what can be said of it."""
    where = reach_of(request)
    found = bearing_within(id, where)
    rights = {action for action, _page in ACTS.values() if may(request, action)}
    if rights & DECIDED and life.worked_on(person_of(request), found):
        rights -= DECIDED
    page = bearing_page(
        found, life_besides(found), rights, zone_within(where), traces=may(request, Action.TRACE)
    )
    return render(request, "registers/bearing.html", {"bearing": found, "page": page, "here": "bearings"})


def _today() -> str:
    return datetime.now(UTC).date().isoformat()


def seen_asks() -> list[Ask]:
    damages = [("", gettext("nothing seen")), *((id, damage_name(id)) for id in (*BY_ID, UNKNOWN))]
    return [
        Ask("damage", gettext("damage"), "select", damages),
        Ask("looks", gettext("what is seen, in words")),
    ]


def removal_asks() -> list[Ask]:
    methods = [("", gettext("choose")), *((method, gettext(method)) for method in METHODS)]
    return [
        day_ask(_today()),
        Ask("why", gettext("why it came off"), required=True),
        Ask("method", gettext("how it came off"), "select", methods, required=True),
        Ask("by", gettext("taken off by"), hint=gettext("only if it was not you")),
        Ask("kept", gettext("where it is kept"), hint=gettext("bag and shelf")),
        *seen_asks(),
    ]


def _asks(what: str, found: Bearing) -> list[Ask]:
    reason = Ask("why", gettext("why"), required=True)
    match what:
        case "removal":
            return [*_journal_ask(found), *removal_asks()]
        case "failure":
            return [
                day_ask(_today()),
                Ask("what", gettext("what failed, as it was told"), required=True),
                Ask("by", gettext("reported by")),
                Ask("ran", gettext("how long it ran, as it was told")),
                *seen_asks(),
            ]
        case "quarantine":
            return [day_ask(_today()), reason, Ask("kept", gettext("where it is kept"))]
        case "delivery":
            rows = Delivery.objects.filter(site=found.site).order_by("-on", "id")[:200]
            notes = [(str(row.id), f"{row.supplier} · {row.note}") for row in rows]
            return [
                day_ask(_today()),
                Ask(
                    "delivery",
                    gettext("delivery"),
                    "select",
                    [("", gettext("choose")), *notes],
                    required=True,
                ),
            ]
    return [day_ask(_today()), reason]


def _journal_ask(found: Bearing) -> list[Ask]:
    """The places where it was ever mounted, the newest first."""
    rows = Mounting.objects.filter(bearing=found).select_related("journal__machine").order_by("-opened_at")
    places = {
        str(
            m.journal_id
        ): f"{m.journal.machine.name}, {gettext('shaft')} {m.journal.shaft}, {m.journal.position}"
        for m in rows
    }
    options = [*places.items(), ("", gettext("another"))]
    return [Ask("journal", gettext("from which place"), "select", options, value=options[0][0])]


def cautions() -> list[str]:
    """What hurts people and rings when a bearing is taken off (common practice, no source)."""
    return [
        gettext("Pull on the inner ring only, with a rated, guarded puller under the local procedure."),
        gettext("Never hammer and never use a flame; stand clear of what is under load."),
        gettext("Cutting and grinding: only who is qualified for it; sparks, splinters, hot work permit."),
        gettext("Photograph track, bore and seat before anybody wipes them."),
    ]


@door(Action.REGISTER)
@require_http_methods(GET_POST)
def bearing_event(request: HttpRequest, id: uuid.UUID, what: str) -> HttpResponse:
    """A fact of one bearing: removed, failed, set aside, or which delivery it came with."""
    if what not in ACTS or ACTS[what][1] != "bearing-event":
        raise Http404(what)
    return _form(request, id, what, Action.REGISTER)


@door(Action.ACCEPT)
@require_http_methods(GET_POST)
def bearing_clear(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """End a quarantine."""
    return _form(request, id, "clear", Action.ACCEPT)


@door(Action.SCRAP)
@require_http_methods(GET_POST)
def bearing_scrap(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """Scrap a bearing that lies somewhere."""
    return _form(request, id, "scrap", Action.SCRAP)


def _form(request: HttpRequest, id: uuid.UUID, what: str, right: Action) -> HttpResponse:
    found = bearing_within(id, reach_of(request, right))
    asks, title = _asks(what, found), f"{found.designation}: {titles()[what]}"
    more: dict[str, Any] = {"here": "bearings", "template": "bearing_form"}
    more["cautions"] = cautions() if what == "removal" else []
    if request.method == "GET":
        return show_form(request, title, asks, **more)
    given = typed(request, asks)
    try:
        _act(request, found, what, given, asks)
    except WrongFields as error:
        return show_form(request, title, asks, given, error.errors, **more)
    except RegisterFieldError as error:
        return show_form(
            request, title, asks, given, {error.field: wrong(error.value, error.allowed)}, **more
        )
    except BearingStateError as error:
        return show_form(request, title, asks, given, {"on": refused_words(error)}, **more)
    messages.info(request, gettext("Recorded: %(what)s.") % {"what": titles()[what]})
    return redirect("bearing", id=found.id)


def _act(
    request: HttpRequest, found: Bearing, what: str, given: Mapping[str, str], asks: Sequence[Ask]
) -> None:
    reading = Reading(given)
    day = reading.day("on")
    chosen = {ask.name: dict(ask.options) for ask in asks if ask.kind == "select"}
    for name, options in chosen.items():
        if given[name] not in options or (name in ("method", "delivery") and not given[name]):
            words = ", ".join(str(option) for value, option in options.items() if value)
            reading.errors[name] = wrong(given[name], words)
    reading.done()
    said: dict[str, Any] = {
        "acting": acting_of(request), "entry_id": entry_id_of(request), "bearing": found, "on": day,
    }  # fmt: skip
    match what:
        case "removal":
            journal = Journal.objects.filter(id=given["journal"]).first() if given["journal"] else None
            life.remove(journal=journal, **said, **removal_said(given))
        case "failure":
            told: dict[str, Any] = {name: given[name] for name in ("what", "by", "ran")}
            life.fail(**said, **told, seen=life.Seen(given["damage"], given["looks"]))
        case "quarantine":
            life.set_aside(**said, why=given["why"], kept=given["kept"])
        case "delivery":
            life.delivered(**said, delivery=Delivery.objects.get(id=given["delivery"]))
        case "clear":
            life.clear(**said, why=given["why"])
        case "scrap":
            life.scrap(**said, why=given["why"])


def removal_said(given: Mapping[str, str]) -> dict[str, Any]:
    """What a form of a removal says besides bearing, place and day."""
    told = {name: given[name] for name in ("why", "method", "by", "kept")}
    return told | {"seen": life.Seen(given["damage"], given["looks"])}
