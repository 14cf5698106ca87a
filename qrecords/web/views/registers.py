"""The lists of the registers: filtered, sorted, paged, exported."""

from datetime import UTC, datetime, timedelta
from typing import Any

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET

from qrecords.mountings.queries import for_person
from qrecords.people.permissions import Action
from qrecords.people.queries import Reach, reach
from qrecords.web.door import door, may, person_of
from qrecords.web.listing.table import Columns, exported, listing
from qrecords.web.registers import lists
from qrecords.workshop.queries import due_equipment, equipment_now, sites


def reach_of(request: HttpRequest, action: Action = Action.READ) -> Reach:
    return reach(person_of(request).id, action, datetime.now(UTC))


def zone_within(where: Reach) -> str:
    """The zone of the asker's first site."""
    return next((site.zone for site in sites(where)), "UTC")


def _list(
    request: HttpRequest,
    title: str,
    name: str,
    columns: Columns,
    rows: "QuerySet[Any]",
    new: str = "",
    sheet: str = "",
) -> HttpResponse:
    """One register as a page, or as CSV. `new` is the address of its form, `sheet` of taking one in."""
    answer = exported(request, columns, rows, name)
    if answer is not None:
        return answer
    context = {
        "title": title,
        "here": name,
        "listing": listing(request, columns, rows),
        "new": new,
        "sheet": sheet,
    }
    return render(request, "registers/list.html", context)


@door(Action.READ)
@require_GET
def registers(request: HttpRequest) -> HttpResponse:
    """The registers begin with what is due first."""
    return redirect("equipment")


@door(Action.READ)
@require_GET
def machines(request: HttpRequest) -> HttpResponse:
    new = "machine-new" if may(request, Action.REGISTER) else ""
    rows = lists.machines(reach_of(request))
    return _list(request, gettext("Machines"), "machines", lists.machine_columns(), rows, new)


@door(Action.READ)
@require_GET
def rebuilds(request: HttpRequest) -> HttpResponse:
    where = reach_of(request)
    columns = lists.rebuild_columns(zone_within(where))
    sheet = "import-orders" if may(request, Action.REGISTER) else ""
    return _list(request, gettext("Rebuilds"), "rebuilds", columns, lists.rebuilds(where), sheet=sheet)


@door(Action.READ)
@require_GET
def bearings(request: HttpRequest) -> HttpResponse:
    rows = lists.bearings(reach_of(request))
    sheet = "import-bearings" if may(request, Action.REGISTER) else ""
    return _list(request, gettext("Bearings"), "bearings", lists.bearing_columns(), rows, sheet=sheet)


@door(Action.READ)
@require_GET
def equipment(request: HttpRequest) -> HttpResponse:
    equips = may(request, Action.EQUIP)
    today = datetime.now(UTC).date()
    columns = lists.equipment_columns(
        today,
        traces=may(request, Action.TRACE),
        equips=equips,
        checks=may(request, Action.CHECK_GAUGE),
        damages=may(request, Action.DAMAGE),
    )
    rows = equipment_now(reach_of(request))
    new = "equipment-new" if equips else ""
    sheet = "import-gauges" if equips else ""
    return _list(request, gettext("Gauges, meters and heaters"), "equipment", columns, rows, new, sheet)


DUE_WITHIN = timedelta(days=60)


@door(Action.READ)
@require_GET
def due(request: HttpRequest) -> HttpResponse:
    """What is in use and due within sixty days, over it, or without a due day."""
    today = datetime.now(UTC).date()
    rows = due_equipment(reach_of(request), today + DUE_WITHIN)
    title = gettext("Due within %(n)s days") % {"n": DUE_WITHIN.days}
    return _list(request, title, "due", lists.due_columns(today), rows)


@door(Action.READ)
@require_GET
def all_mountings(request: HttpRequest) -> HttpResponse:
    rows = for_person(person_of(request), Action.READ, datetime.now(UTC))
    columns = lists.mounting_columns(zone_within(reach_of(request)), traces=may(request, Action.TRACE))
    new = "new-mounting" if may(request, Action.OPEN) else ""
    return _list(request, gettext("All mountings"), "all-mountings", columns, lists.mountings(rows), new)
