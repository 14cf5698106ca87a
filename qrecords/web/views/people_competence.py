"""Competence: what the quality manager records of whom, and until when."""

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.db.models import OuterRef, QuerySet, Subquery
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_http_methods

from qrecords.people import actions
from qrecords.people.errors import NotForOneselfError
from qrecords.people.models import Competence, Person, PersonVersion, RoleGrant
from qrecords.people.permissions import Action
from qrecords.people.queries import Reach, names
from qrecords.steps.standard import STEPS
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.listing.table import Choice, Column, Columns, exported, listing
from qrecords.web.moments import calendar_day
from qrecords.web.registers.asking import Ask, Reading, WrongFields, typed, wrong
from qrecords.web.registers.lists import due_mark, due_words
from qrecords.web.views.registers import reach_of
from qrecords.web.views.registers_forms import GET_POST, show_form, site_ask, site_of
from qrecords.workshop.models import Site

TASKS = tuple(dict.fromkeys(step.task for step in STEPS.values() if step.task))
USUAL_LIFE = timedelta(days=2 * 365)
"""Two years, common practice, no source."""
MOST_MM = 3_000


def _competences(where: Reach) -> "QuerySet[Any]":
    def name_of(person: str) -> Subquery:
        versions = PersonVersion.objects.filter(person=OuterRef(person)).order_by("-valid_from", "-id")
        return Subquery(versions.values("name")[:1])

    rows = Competence.objects.annotate(name=name_of("person"), by=name_of("assessor"))
    return rows if where.everywhere else rows.filter(site__in=where.sites)


def _columns(today: date) -> Columns:
    return Columns(
        columns=(
            Column(gettext("person"), lambda c: c.name or "", "name", strong=True),
            Column(gettext("task"), lambda c: gettext(c.task), "task"),
            Column(gettext("from mm"), lambda c: f"{c.from_mm.normalize():f}", "from_mm", number=True),
            Column(gettext("to mm"), lambda c: f"{c.to_mm.normalize():f}", "to_mm", number=True),
            Column(gettext("basis"), lambda c: c.basis),
            Column(gettext("assessed by"), lambda c: c.by or "", "by"),
            Column(
                gettext("valid from"),
                lambda c: calendar_day(c.valid_from),
                "valid_from",
                filed=lambda c: c.valid_from.isoformat(),
            ),
            Column(
                gettext("valid to"),
                lambda c: due_words(c.valid_to, today),
                "valid_to",
                mark=lambda c: due_mark(c.valid_to, today),
                filed=lambda c: c.valid_to.isoformat(),
            ),
        ),
        searched=("name", "basis"),
        default=("valid_to", "id"),
        choices=(Choice("task", gettext("task"), "task", [(task, gettext(task)) for task in TASKS]),),
    )


@door(Action.ASSESS)
@require_GET
def competence(request: HttpRequest) -> HttpResponse:
    """Who may do what, what runs out first on top."""
    columns, rows = _columns(datetime.now(UTC).date()), _competences(reach_of(request, Action.ASSESS))
    answer = exported(request, columns, rows, "competence")
    if answer is not None:
        return answer
    context = {"title": gettext("Competence"), "listing": listing(request, columns, rows)}
    return render(request, "registers/list.html", {**context, "new": "competence-new"})


def _asks(request: HttpRequest, found: Sequence[Site], site_asks: Sequence[Ask]) -> list[Ask]:
    today = datetime.now(UTC).date()
    held = RoleGrant.objects.filter(site__in=[site.id for site in found], valid_to__isnull=True)
    people = sorted(names(set(held.values_list("person", flat=True))).items(), key=lambda pair: pair[1])
    choose = ("", gettext("choose"))
    me = str(person_of(request).id)
    size = gettext("0…%(most)s mm") % {"most": MOST_MM}
    return [
        *site_asks,
        Ask("person", gettext("person"), "select", [choose, *people], required=True),
        Ask("task", gettext("task"), "select", [choose, *((t, gettext(t)) for t in TASKS)], required=True),
        Ask("basis", gettext("basis"), required=True, hint=gettext("training, supervised jobs and how many")),
        Ask("assessor", gettext("assessed by"), "select", people, required=True, value=me),
        Ask("from_mm", gettext("from size"), unit="mm", numeric=True, required=True, hint=size),
        Ask("to_mm", gettext("to size"), unit="mm", numeric=True, required=True, hint=size),
        Ask("valid_from", gettext("valid from"), "date", required=True, value=today.isoformat()),
        Ask("valid_to", gettext("valid to"), "date", required=True, value=(today + USUAL_LIFE).isoformat()),
    ]


@door(Action.ASSESS)
@require_http_methods(GET_POST)
def competence_new(request: HttpRequest) -> HttpResponse:
    """Record that somebody was assessed for a task, a range of sizes and a time."""
    found, site_asks = site_ask(request, Action.ASSESS)
    asks, title = _asks(request, found, site_asks), gettext("Record competence")
    if request.method == "GET":
        return show_form(request, title, asks)
    given = typed(request, asks)
    try:
        site, said = site_of(found, given), _read(given, asks)
    except WrongFields as error:
        return show_form(request, title, asks, given, error.errors)
    try:
        actions.assess(acting=acting_of(request), site=site.id, competence_id=entry_id_of(request), **said)
    except NotForOneselfError:
        words = gettext("Nobody assesses himself, and nobody records his own competence.")
        return show_form(request, title, asks, given, {"person": words})
    messages.info(request, gettext("Recorded: %(task)s.") % {"task": gettext(said["task"])})
    return redirect("competence")


def _read(given: Mapping[str, str], asks: Sequence[Ask]) -> dict[str, Any]:
    reading = Reading(given)
    options = {ask.name: dict(ask.options) for ask in asks}
    sizes = [
        reading.quantity(name, "length", "mm", 0, MOST_MM * 1_000_000) or 0 for name in ("from_mm", "to_mm")
    ]
    days = [reading.day("valid_from"), reading.day("valid_to")]
    said: dict[str, Any] = {"task": reading.one_of("task", TASKS), "basis": reading.text("basis", 200)}
    for name in ("person", "assessor"):
        if not given[name] or given[name] not in options[name]:
            reading.errors[name] = wrong(given[name], gettext("somebody with a role here"))
    if sizes[0] > sizes[1] and "to_mm" not in reading.errors:
        reading.errors["to_mm"] = wrong(given["to_mm"], gettext("not less than the smaller size"))
    if days[0] and days[1] and days[1] < days[0]:
        reading.errors["valid_to"] = wrong(given["valid_to"], gettext("not before it begins"))
    reading.done()
    people = Person.objects.in_bulk({given["person"], given["assessor"]})
    by_id = {str(id): person for id, person in people.items()}
    return said | {
        "person": by_id[given["person"]],
        "assessor": by_id[given["assessor"]],
        "from_mm": Decimal(sizes[0]).scaleb(-6).normalize(),
        "to_mm": Decimal(sizes[1]).scaleb(-6).normalize(),
        "valid_from": days[0],
        "valid_to": days[1],
    }
