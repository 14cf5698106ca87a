"""Competence: what the quality manager records of whom, and until when."""

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from typing import Any, cast

from django.contrib import messages
from django.db.models import OuterRef, QuerySet, Subquery
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext, ngettext
from django.views.decorators.http import require_GET, require_http_methods

from qrecords.mountings.competence import standing_of, with_last_done
from qrecords.people import actions
from qrecords.people.competence import FEWEST_JOBS, Range
from qrecords.people.errors import NotForOneselfError
from qrecords.people.models import Competence, Eyesight, Person, PersonVersion, RoleGrant
from qrecords.people.permissions import Action
from qrecords.people.queries import Reach, names
from qrecords.steps.tasks import KINDS, TASKS
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.listing.table import Choice, Column, Columns, exported, listing
from qrecords.web.moments import calendar_day
from qrecords.web.registers.asking import Ask, Reading, WrongFields, typed, wrong
from qrecords.web.registers.lists import due_mark, due_words
from qrecords.web.views.registers import reach_of
from qrecords.web.views.registers_forms import GET_POST, show_form, site_ask, site_of
from qrecords.workshop.models import Site

USUAL_LIFE = timedelta(days=2 * 365)
"""Two years, common practice, no source."""
MOST_MM, MOST_JOBS, LONGEST_POSITION = 3_000, 1_000, 40


def _competences(where: Reach) -> "QuerySet[Any]":
    def name_of(person: str) -> Subquery:
        versions = PersonVersion.objects.filter(person=OuterRef(person)).order_by("-valid_from", "-id")
        return Subquery(versions.values("name")[:1])

    rows = Competence.objects.annotate(name=name_of("person"), by=name_of("assessor"))
    return with_last_done(rows if where.everywhere else rows.filter(site__in=where.sites))


def _until(row: Any, today: date) -> date:
    """The last day on which it holds: its own, or a year after its task was last done."""
    return standing_of(row, today).until or cast(date, row.valid_to)


def _limits(row: Any) -> str:
    """What it is limited to beside sizes; every kind and position where nothing is said."""
    return ", ".join([*(gettext(kind) for kind in row.kinds), *row.positions]) or gettext("every kind")


def _basis(row: Any) -> str:
    jobs = ngettext("%(n)s supervised job", "%(n)s supervised jobs", row.jobs or 0) % {"n": row.jobs}
    return f"{row.basis}, {jobs}" if row.jobs else str(row.basis)


def _columns(today: date) -> Columns:
    return Columns(
        columns=(
            Column(gettext("person"), lambda c: c.name or "", "name", strong=True),
            Column(gettext("task"), lambda c: gettext(c.task), "task"),
            Column(gettext("from mm"), lambda c: f"{c.from_mm.normalize():f}", "from_mm", number=True),
            Column(gettext("to mm"), lambda c: f"{c.to_mm.normalize():f}", "to_mm", number=True),
            Column(gettext("for"), _limits),
            Column(gettext("basis"), _basis),
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
            Column(
                gettext("last done"),
                lambda c: calendar_day(c.done_at.date()) if c.done_at else gettext("never here"),
                "done_at",
                filed=lambda c: c.done_at.date().isoformat() if c.done_at else "",
            ),
            Column(
                gettext("holds until"),
                lambda c: due_words(_until(c, today), today),
                mark=lambda c: due_mark(_until(c, today), today),
                filed=lambda c: _until(c, today).isoformat(),
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
    where, today = reach_of(request, Action.ASSESS), datetime.now(UTC).date()
    context = {"title": gettext("Competence"), "listing": listing(request, columns, rows)}
    context["eyesight"] = eyesight_rows(where, today)
    return render(request, "registers/competence.html", {**context, "new": "competence-new"})


def _people(found: Sequence[Site]) -> list[tuple[str, str]]:
    """Everybody who holds a role at these sites, by name."""
    held = RoleGrant.objects.filter(site__in=[site.id for site in found], valid_to__isnull=True)
    called = names(set(held.values_list("person", flat=True)))
    return sorted(called.items(), key=lambda pair: pair[1])


def _asks(request: HttpRequest, found: Sequence[Site], site_asks: Sequence[Ask]) -> list[Ask]:
    today = datetime.now(UTC).date()
    people = _people(found)
    choose = ("", gettext("choose"))
    me = str(person_of(request).id)
    size = gettext("0…%(most)s mm") % {"most": MOST_MM}
    jobs = gettext("%(least)s…%(most)s, where it rests on such") % {"least": FEWEST_JOBS, "most": MOST_JOBS}
    kinds = [("", gettext("every kind")), *((kind, gettext(kind)) for kind in KINDS)]
    return [
        *site_asks,
        Ask("person", gettext("person"), "select", [choose, *people], required=True),
        Ask("task", gettext("task"), "select", [choose, *((t, gettext(t)) for t in TASKS)], required=True),
        Ask("basis", gettext("basis"), required=True, hint=gettext("training, supervised jobs")),
        Ask("jobs", gettext("supervised jobs"), numeric=True, hint=jobs),
        Ask("assessor", gettext("assessed by"), "select", people, required=True, value=me),
        Ask("from_mm", gettext("from size"), unit="mm", numeric=True, required=True, hint=size),
        Ask("to_mm", gettext("to size"), unit="mm", numeric=True, required=True, hint=size),
        Ask("kinds", gettext("for one kind of bearing only"), "select", kinds),
        Ask("positions", gettext("for these positions only"), hint=gettext("as DE, NDE; none: for all")),
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
    jobs = (
        reading.whole("jobs", FEWEST_JOBS, MOST_JOBS, gettext("supervised jobs")) if given["jobs"] else None
    )
    kinds = (reading.one_of("kinds", KINDS),) if given["kinds"] else ()
    positions = tuple(each.strip() for each in given["positions"].split(",") if each.strip())
    if any(len(each) > LONGEST_POSITION for each in positions):
        reading.errors["positions"] = wrong(given["positions"], gettext("positions of 1 to 40 characters"))
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
        "range": Range(kinds, positions, jobs),
    }


def _eyesight_asks(request: HttpRequest, found: Sequence[Site], site_asks: Sequence[Ask]) -> list[Ask]:
    today = datetime.now(UTC).date()
    return [
        *site_asks,
        Ask("person", gettext("person"), "select", [("", gettext("choose")), *_people(found)], required=True),
        Ask("tested_on", gettext("tested on"), "date", required=True, value=today.isoformat()),
        Ask("valid_to", gettext("valid to"), "date", required=True, value=(today + USUAL_LIFE).isoformat()),
    ]


@door(Action.ASSESS)
@require_http_methods(GET_POST)
def eyesight_new(request: HttpRequest) -> HttpResponse:
    """Record that somebody's eyesight was tested to the employer's requirement; nothing of what was found."""
    found, site_asks = site_ask(request, Action.ASSESS)
    asks = _eyesight_asks(request, found, site_asks)
    title = gettext("Eyesight tested to the employer's requirement")
    if request.method == "GET":
        return show_form(request, title, asks)
    given, reading = typed(request, asks), Reading(typed(request, asks))
    first, last = reading.day("tested_on"), reading.day("valid_to")
    if not given["person"] or given["person"] not in dict(_people(found)):
        reading.errors["person"] = wrong(given["person"], gettext("somebody with a role here"))
    if first and last and last < first:
        reading.errors["valid_to"] = wrong(given["valid_to"], gettext("not before it begins"))
    try:
        reading.done()
        assert first is not None and last is not None  # noqa: S101 - done() has raised without them
        actions.record_eyesight(
            acting=acting_of(request), site=site_of(found, given).id, eyesight_id=entry_id_of(request),
            person=Person.objects.get(id=given["person"]), tested_on=first, valid_to=last,
        )  # fmt: skip
    except WrongFields as error:
        return show_form(request, title, asks, given, error.errors)
    except NotForOneselfError:
        words = gettext("Nobody records the test of his own eyes.")
        return show_form(request, title, asks, given, {"person": words})
    messages.info(request, gettext("Recorded."))
    return redirect("competence")


def eyesight_rows(where: Reach, today: date) -> list[dict[str, str]]:
    """The newest test of each person at these sites, what runs out first on top; two queries."""
    rows = Eyesight.objects.order_by("person", "-valid_to")
    newest: dict[Any, Eyesight] = {}
    for row in rows if where.everywhere else rows.filter(site__in=where.sites):
        newest.setdefault(row.person_id, row)
    called = names(newest)
    return [
        {
            "name": called[str(row.person_id)],
            "tested": calendar_day(row.tested_on),
            "until": due_words(row.valid_to, today),
            "mark": due_mark(row.valid_to, today),
            "entry": str(row.id),
        }
        for row in sorted(newest.values(), key=lambda row: row.valid_to)
    ]
