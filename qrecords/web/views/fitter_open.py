"""Opening a mounting from its work order and drawing."""

import uuid
from datetime import UTC, datetime
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from qrecords.engineering.tables import Tables
from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.opening import open_from_order
from qrecords.people.permissions import Action
from qrecords.people.queries import Reach, reach
from qrecords.steps.designated import GROUPS
from qrecords.steps.errors import DocumentError
from qrecords.steps.requirement import TAKEN_FROM
from qrecords.web import parts
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.fitter import order as orders
from qrecords.web.fitter.order import Form
from qrecords.web.fitter.order_faults import faults
from qrecords.web.fitter.page import moment_of, strip
from qrecords.web.names import field_name
from qrecords.web.registers.asking import wrong
from qrecords.workshop.actions import SCHEMES
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import Machine
from qrecords.workshop.procedures import in_force_at
from qrecords.workshop.queries import machine as machine_within
from qrecords.workshop.queries import sites, within
from qrecords.workshop.tables import in_force

MOST_MACHINES = 200


@door(Action.OPEN)
@require_http_methods(["GET", "POST"])
def new_mounting(request: HttpRequest) -> HttpResponse:
    """The order of one mounting. *look up* fills in what the designation says; *begin* opens it."""
    person, now = person_of(request), datetime.now(UTC)
    within_reach = reach(person.id, Action.OPEN, now)
    told = request.POST or request.GET  # a plan leads here with what it knows
    typed = {name: value for name, value in told.items() if isinstance(value, str)}
    kinds = tuple(kind for kind in told.getlist("kinds") if kind in orders.KINDS)
    machine = _machine(typed, within_reach)
    site = _site(typed, machine, within_reach)
    tables = in_force(site)
    form, known = _looked_up(typed, kinds, tables)
    if request.method == "GET" or "look_up" in typed:
        return _page(request, form, within_reach)
    # What the tables know was filled in just now: it is shown before it is accepted.
    if known and form.typed.get("outside") != typed.get("outside"):
        return _page(request, form, within_reach)
    chosen = typed.get("procedure", "")
    if chosen and site and chosen not in [each.name for each in in_force_at(site, now)]:
        words = wrong(chosen, gettext("a procedure in force at this site"))
        return _page(request, Form(form.typed, kinds, {"procedure": words}, form.found), within_reach, 422)
    asks = faults(form, tables, machine_known=machine is not None, site_known=site is not None)
    if asks or site is None:
        return _page(request, Form(form.typed, kinds, {**form.asks, **asks}, form.found), within_reach, 422)
    try:
        order = orders.order(form, machine)
        opened = open_from_order(
            acting=acting_of(request), site=site, mounting_id=entry_id_of(request), order=order
        )
    except DocumentError as error:
        name = orders.DOCUMENT_FIELDS.get(error.field, error.field)
        return _page(request, Form(form.typed, kinds, {name: error.why}, form.found), within_reach, 422)
    except RegisterFieldError as error:
        name = {"name": "machine_name"}.get(error.field, error.field)
        return _page(
            request,
            Form(form.typed, kinds, {name: wrong(error.value, error.allowed)}, form.found),
            within_reach,
            422,
        )
    return redirect("fit-receive", opened.id)


def _looked_up(typed: dict[str, str], kinds: tuple[str, ...], tables: Tables) -> tuple[Form, bool]:
    text = typed.get("designation", "").strip()
    if not text:
        return Form(typed, kinds), False
    found, why = orders.find(text, tables)
    asks = {"designation": why} if why and "look_up" in typed else {}
    return Form(orders.prefilled(typed, found), kinds, asks, found), found is not None


def _machine(typed: dict[str, str], within_reach: Reach) -> Machine | None:
    try:
        id = uuid.UUID(typed.get("machine", ""))
    except ValueError:
        return None
    return machine_within(id, within_reach)


def _site(typed: dict[str, str], machine: Machine | None, within_reach: Reach) -> uuid.UUID | None:
    if machine is not None:
        return machine.site
    here = {str(site.id): site.id for site in sites(within_reach)}
    if len(here) == 1:
        return next(iter(here.values()))
    return here.get(typed.get("site", ""))


def _procedures(within_reach: Reach, now: datetime) -> list[tuple[str, str]]:
    """What can be chosen beside the workshop's own: (name, words), where there is anything to choose."""
    here = [each for site in sites(within_reach) for each in in_force_at(site.id, now)]
    words = {each.name: " · ".join(filter(None, (each.name, each.contract))) for each in here}
    return list(words.items()) if len(words) > 1 else []


def _page(request: HttpRequest, form: Form, within_reach: Reach, status: int = 200) -> HttpResponse:
    person, now = person_of(request), datetime.now(UTC)
    machines = within(Machine.objects.all(), within_reach).order_by("owner", "name")[:MOST_MACHINES]
    context: dict[str, Any] = {
        "strip": strip(person, now, moment_of(request)),
        "form": form,
        "value": orders.given_back(form),
        "asks": form.asks,
        "asked": [(name, field_name(name), why) for name, why in form.asks.items()],
        "first_ask": next(iter(form.asks), ""),
        "machines": machines,
        "procedures": _procedures(within_reach, now),
        "sites": sites(within_reach),
        "schemes": SCHEMES,
        "kinds": [(kind, gettext(kind.replace("_", " ")), kind in form.kinds) for kind in orders.KINDS],
        "clearance_kinds": orders.clearance_tables(),
        "groups": GROUPS,
        "taken_from": [(origin, gettext(origin)) for origin in TAKEN_FROM[1:]],
        "sources": orders.sources(form),
        "entry_id": request.POST.get("entry_id") or new_id(),
        "safety": parts.Safety(worked_out=False),
        "theme": request.COOKIES.get("theme", ""),
    }
    return render(request, "fitter/open.html", context, status=status)
