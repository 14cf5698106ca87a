"""Deliveries, parts with a number, and moves: their lists and forms."""

from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_http_methods

from qrecords.people.permissions import Action
from qrecords.web.door import acting_of, door, entry_id_of, may
from qrecords.web.listing.table import exported, listing
from qrecords.web.registers import lists_materials as lists
from qrecords.web.registers.asking import Ask, Reading, WrongFields, typed, wrong
from qrecords.web.registers.bearing_page import day_ask
from qrecords.web.views.registers import reach_of
from qrecords.web.views.registers_forms import GET_POST, show_form, site_ask, site_of
from qrecords.workshop import material_actions as actions
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import Journal, Machine
from qrecords.workshop.queries import within

LINES = 8
"""How many lines a form of a delivery has; what is longer comes by the API."""


def _shown(
    request: HttpRequest, title: str, name: str, columns: Any, rows: Any, new: str, template: str = "list"
) -> HttpResponse:
    answer = exported(request, columns, rows, name)
    if answer is not None:
        return answer
    says = may(request, Action.REGISTER)
    context = {"title": title, "here": name, "listing": listing(request, columns, rows), "may_say": says}
    return render(request, f"registers/{template}.html", {**context, "new": new if says else ""})


@door(Action.READ)
@require_GET
def deliveries(request: HttpRequest) -> HttpResponse:
    columns = lists.delivery_columns(traces=may(request, Action.TRACE))
    rows = lists.deliveries(reach_of(request))
    return _shown(request, gettext("Deliveries"), "deliveries", columns, rows, "delivery-new")


@door(Action.READ)
@require_GET
def parts(request: HttpRequest) -> HttpResponse:
    today = datetime.now(UTC).date()
    columns = lists.part_columns(today, traces=may(request, Action.TRACE))
    rows = lists.parts(reach_of(request))
    return _shown(request, gettext("Parts with a number"), "parts", columns, rows, "part-new")


@door(Action.READ)
@require_GET
def moves(request: HttpRequest) -> HttpResponse:
    columns, rows = lists.move_columns(), lists.moves(reach_of(request))
    return _shown(request, gettext("Moves"), "moves", columns, rows, "", "moves")


def _today() -> str:
    return datetime.now(UTC).date().isoformat()


def _delivery_asks(site_asks: Sequence[Ask]) -> list[Ask]:
    asks = [
        *site_asks,
        Ask("supplier", gettext("supplier"), required=True),
        Ask("note", gettext("number of the delivery note"), required=True),
        Ask("order", gettext("purchase order")),
        day_ask(_today()),
    ]
    pieces = gettext("1…%(most)s pieces") % {"most": actions.MOST_PIECES}
    for number in range(1, LINES + 1):
        named = {"n": number}
        asks += [
            Ask(f"designation.{number}", gettext("line %(n)s: designation") % named, required=number == 1),
            Ask(f"lot.{number}", gettext("line %(n)s: lot") % named),
            Ask(f"quantity.{number}", gettext("line %(n)s: how many") % named, numeric=True, hint=pieces),
        ]
    return asks


@door(Action.REGISTER)
@require_http_methods(GET_POST)
def delivery_new(request: HttpRequest) -> HttpResponse:
    """What came on a delivery note, with its lots."""
    found, site_asks = site_ask(request, Action.REGISTER)
    asks = _delivery_asks(site_asks)

    def act(given: Mapping[str, str]) -> str:
        reading = Reading(given)
        day, lines = reading.day("on"), []
        for n in range(1, LINES + 1):
            if n == 1 or any(given[f"{name}.{n}"] for name in ("designation", "lot", "quantity")):
                quantity = reading.whole(f"quantity.{n}", 1, actions.MOST_PIECES, gettext("pieces"))
                lines.append(
                    {
                        "designation": reading.text(f"designation.{n}", 60),
                        "lot": given[f"lot.{n}"],
                        "quantity": quantity,
                    }
                )
        reading.done()
        assert day is not None  # noqa: S101 - done() has raised without one
        told = {name: given[name] for name in ("supplier", "note", "order")}
        actions.deliver(
            acting=acting_of(request), site=site_of(found, given).id, delivery_id=entry_id_of(request),
            on=day, lines=lines, **told,
        )  # fmt: skip
        return "deliveries"

    return _form(request, gettext("New delivery"), asks, act, "deliveries")


def part_asks() -> list[Ask]:
    kinds = [("", gettext("choose")), *((kind, gettext(kind)) for kind in actions.PART_KINDS)]
    return [
        Ask("kind", gettext("kind"), "select", kinds, required=True),
        Ask("name", gettext("name"), required=True, hint=gettext("what it is: product, drawing, size")),
        Ask("lot", gettext("lot, heat, batch or job number"), required=True),
        Ask("supplier", gettext("supplier")),
        Ask("delivery", gettext("number of the delivery note")),
        Ask("use_by", gettext("use by"), "date", hint=gettext("of grease and paste")),
    ]


@door(Action.REGISTER)
@require_http_methods(GET_POST)
def part_new(request: HttpRequest) -> HttpResponse:
    """A spacer, sleeve, nut, plating job or batch of grease, by its number."""
    found, site_asks = site_ask(request, Action.REGISTER)

    def act(given: Mapping[str, str]) -> str:
        reading = Reading(given)
        kind, use_by = reading.one_of("kind", actions.PART_KINDS), reading.day("use_by", optional=True)
        reading.done()
        told = {name: given[name] for name in ("name", "lot", "supplier", "delivery")}
        actions.register_part(
            acting=acting_of(request), site=site_of(found, given).id, part_id=entry_id_of(request),
            kind=kind, use_by=use_by, **told,
        )  # fmt: skip
        return "parts"

    return _form(request, gettext("New part"), [*site_asks, *part_asks()], act, "parts")


def _machines(request: HttpRequest) -> dict[str, str]:
    rows = within(Machine.objects.order_by("owner", "name"), reach_of(request, Action.REGISTER))
    return {str(row.id): f"{row.owner} · {row.name}" for row in rows}


def _machine_of(given: Mapping[str, str], name: str, machines: Mapping[str, str], reading: Reading) -> None:
    if given[name] not in machines:
        reading.errors[name] = wrong(given[name], gettext("a machine of the register"))


@door(Action.REGISTER)
@require_http_methods(GET_POST)
def machine_moved(request: HttpRequest) -> HttpResponse:
    """A machine stands elsewhere, or belongs to somebody else."""
    machines = _machines(request)
    options = [("", gettext("choose")), *machines.items()]
    asks = [
        Ask("machine", gettext("machine"), "select", options, required=True),
        day_ask(_today()),
        Ask("to_place", gettext("where to"), required=True),
        Ask("to_owner", gettext("new owner"), hint=gettext("only if it was sold")),
        Ask("reason", gettext("why")),
    ]

    def act(given: Mapping[str, str]) -> str:
        reading = Reading(given)
        day = reading.day("on")
        _machine_of(given, "machine", machines, reading)
        reading.done()
        assert day is not None  # noqa: S101 - done() has raised without one
        told = {name: given[name] for name in ("to_place", "to_owner", "reason")}
        actions.move_machine(
            acting=acting_of(request), move_id=entry_id_of(request), on=day,
            machine=Machine.objects.get(id=given["machine"]), **told,
        )  # fmt: skip
        return "moves"

    return _form(request, gettext("A machine went elsewhere"), asks, act, "moves")


@door(Action.REGISTER)
@require_http_methods(GET_POST)
def shaft_moved(request: HttpRequest) -> HttpResponse:
    """A shaft with all that sits on it went into another machine."""
    machines = _machines(request)
    rows = Journal.objects.filter(machine__in=list(machines)).values_list("machine_id", "shaft").distinct()
    shafts = {f"{machine} {shaft}": f"{machines[str(machine)]}: {shaft}" for machine, shaft in rows}
    choose = ("", gettext("choose"))
    asks = [
        Ask("shaft", gettext("shaft"), "select", [choose, *shafts.items()], required=True),
        Ask(
            "to_machine", gettext("into which machine"), "select", [choose, *machines.items()], required=True
        ),
        day_ask(_today()),
        Ask("reason", gettext("why")),
    ]

    def act(given: Mapping[str, str]) -> str:
        reading = Reading(given)
        day, (machine, _space, shaft) = reading.day("on"), given["shaft"].partition(" ")
        _machine_of(given, "to_machine", machines, reading)
        if given["shaft"] not in shafts:
            reading.errors["shaft"] = wrong(given["shaft"], gettext("a shaft of the register"))
        elif machine == given["to_machine"]:
            reading.errors["to_machine"] = wrong(machines[machine], gettext("another machine"))
        reading.done()
        assert day is not None  # noqa: S101 - done() has raised without one
        actions.move_shaft(
            acting=acting_of(request), move_id=entry_id_of(request), on=day, reason=given["reason"],
            machine=Machine.objects.get(id=machine), shaft=shaft,
            to_machine=Machine.objects.get(id=given["to_machine"]),
        )  # fmt: skip
        return "moves"

    return _form(request, gettext("A shaft went into another machine"), asks, act, "moves")


def _form(
    request: HttpRequest, title: str, asks: Sequence[Ask], act: Callable[[Mapping[str, str]], str], here: str
) -> HttpResponse:
    """Show a form, or do what it says; a wrong field is named and everything typed stays."""
    if request.method == "GET":
        return show_form(request, title, asks, here=here)
    given = typed(request, asks)
    try:
        where = act(given)
    except WrongFields as error:
        return show_form(request, title, asks, given, error.errors, here=here)
    except RegisterFieldError as error:
        return show_form(
            request, title, asks, given, {error.field: wrong(error.value, error.allowed)}, here=here
        )
    messages.info(request, gettext("Recorded."))
    return redirect(where)
