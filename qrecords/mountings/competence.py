"""The competence of who acts, worked out at the act and frozen beside it."""

import uuid
from datetime import UTC, date, datetime
from typing import Any

from django.db.models import Max, OuterRef, QuerySet, Subquery

from qrecords.mountings.models import Mounting, TaskDone
from qrecords.people.acting import Acting
from qrecords.people.bounds import Bounds, held_throughout
from qrecords.people.competence import (
    NONE,
    Asked,
    Standing,
    eyesight_on,
    one_of_both,
    rows_for,
    standing_on,
)
from qrecords.people.models import Competence
from qrecords.steps.requirement import Requirement
from qrecords.steps.tasks import kind_of


def asked_of(requirement: Requirement, task: str, position: str = "") -> Asked:
    """What this journal and bearing ask of who does a task on them."""
    return Asked(task, requirement.nominal_mm, kind_of(requirement), position)


def last_done(person: uuid.UUID, task: str, until: datetime) -> date | None:
    """When a person last did a task, in whichever mounting; one query."""
    rows = TaskDone.objects.filter(person=person, task=task, at__lte=until)
    found: datetime | None = rows.aggregate(last=Max("at"))["last"]
    return found.astimezone(UTC).date() if found else None


def with_last_done(rows: "QuerySet[Competence]") -> "QuerySet[Any]":
    """Competences, each with when its person last did its task, as `done_at`; no query of its own."""
    done = TaskDone.objects.filter(person=OuterRef("person_id"), task=OuterRef("task"))
    newest = done.order_by().values("person").annotate(last=Max("at")).values("last")
    return rows.annotate(done_at=Subquery(newest))


def standing_of(row: Any, today: date) -> Standing:
    """What a row, annotated by `with_last_done`, says today, whatever the size and kind."""
    done = row.done_at.astimezone(UTC).date() if row.done_at else None
    asked = Asked(row.task, row.from_mm, row.kinds[0] if row.kinds else "")
    return standing_on([row], asked, today, done)


def competence_between(
    acting: Acting,
    mounting: Mounting,
    requirement: Requirement,
    task: str,
    bounds: Bounds,
    position: str = "",
) -> Standing:
    """Of an act that was done between two moments; two queries, and two more for the roles."""
    rows = rows_for(acting.author.id, mounting.site, task)
    done = last_done(acting.author.id, task, bounds.last)
    asked = asked_of(requirement, task, position)
    states = [standing_on(rows, asked, day, done) for day in bounds.days]
    return one_of_both(states, same_role=held_throughout(acting, bounds, mounting.site))


def eyesight_between(acting: Acting, mounting: Mounting, bounds: Bounds) -> Standing:
    return one_of_both(eyesight_on(acting.author.id, mounting.site, bounds.days))


def frozen(standing: Standing, name: str = "competence") -> dict[str, Any]:
    """As it stands beside an entry. Until when it held, and since when the task was not done, where known."""
    seen: dict[str, Any] = {name: standing.state}
    told = {"until": standing.until, "not_done_since": standing.not_done_since}
    kept = {key: day.isoformat() for key, day in told.items() if day}
    return seen | ({f"{name}_of": kept} if kept else {})


def frozen_eyesight(standing: Standing) -> dict[str, Any]:
    """Nothing where no test is recorded: then this site does not keep it here."""
    return {} if standing.state == NONE else frozen(standing, "eyesight")
