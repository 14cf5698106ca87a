"""From a damage to its suspects, and from one thing to every mounting that shares it."""

import uuid
from datetime import UTC, datetime

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET

from qrecords.mountings.queries import for_person, mounting_for, open_findings
from qrecords.people.permissions import Action
from qrecords.people.queries import names
from qrecords.steps.damage import BY_ID, Damage
from qrecords.tracing.record import record_of
from qrecords.tracing.shared import shared, touched
from qrecords.web.auditor.besides import KINDS
from qrecords.web.auditor.saying_lives import damage_name
from qrecords.web.auditor.suspects import damage_page, groups
from qrecords.web.door import door, person_of
from qrecords.web.inspector.reader import refuse_sealed
from qrecords.web.listing.table import exported, listing
from qrecords.web.registers.lists import mounting_columns
from qrecords.web.views.registers import reach_of, zone_within
from qrecords.workshop.models import Delivery, Part


def _damage(damage: str) -> Damage:
    if damage not in BY_ID:
        raise Http404(damage)
    return BY_ID[damage]


@door(Action.TRACE)
@require_GET
def damages(request: HttpRequest) -> HttpResponse:
    """The table of damages: by what is seen."""
    return render(request, "auditor/damages.html", {"groups": groups(None)})


@door(Action.TRACE)
@require_GET
def damage(request: HttpRequest, damage: str) -> HttpResponse:
    """One damage: what it looks like, which parts of the work are suspected, what else makes it."""
    context = {"page": damage_page(_damage(damage), None), "mounting": None}
    return render(request, "auditor/suspects.html", context)


@door(Action.TRACE)
@require_GET
def choose(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """What is seen of the bearing of this mounting?"""
    mounting = mounting_for(person_of(request), id, Action.TRACE, datetime.now(UTC))
    return render(request, "auditor/damages.html", {"groups": groups(mounting), "mounting": mounting})


@door(Action.TRACE)
@require_GET
def suspected(request: HttpRequest, id: uuid.UUID, damage: str) -> HttpResponse:
    """What this very mounting says of the suspects of a damage: what tells most comes first."""
    mounting = mounting_for(person_of(request), id, Action.TRACE, datetime.now(UTC))
    record = record_of(mounting)
    refuse_sealed(request, mounting, record.case)
    context = {"page": damage_page(_damage(damage), record), "mounting": mounting}
    return render(request, "auditor/suspects.html", context)


@door(Action.TRACE)
@require_GET
def shared_by(request: HttpRequest, what: str, of: str) -> HttpResponse:
    """Every mounting that shares a lot, part, delivery, person, damage or day; as CSV with `?as=csv`."""
    reachable = for_person(person_of(request), Action.TRACE, datetime.now(UTC))
    rows = shared(reachable, what, of)
    columns = mounting_columns(zone_within(reach_of(request, Action.TRACE)), traces=True)
    answer = exported(request, columns, open_findings(rows), f"shared-{what}")
    if answer is not None:
        return answer
    title = f"{gettext(KINDS[what])}: {_named(what, of)}"
    context = {
        "title": title,
        "touched": touched(rows),
        "listing": listing(request, columns, open_findings(rows)),
    }
    return render(request, "auditor/shared.html", {**context, "here": "", "new": ""})


def _named(what: str, of: str) -> str:
    """What is shared, as people call it."""
    match what:
        case "person":
            return names([of])[of]
        case "damage":
            return damage_name(of)
        case "delivery":
            row = Delivery.objects.get(id=of)
            return f"{row.note}, {row.supplier}"
        case "part":
            part = Part.objects.filter(id=of).first()
            return f"{part.name}, {part.lot}" if part else of
    return of
