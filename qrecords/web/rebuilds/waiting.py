"""Rebuilds that wait for their release, for whoever may give it."""

from dataclasses import dataclass
from datetime import datetime

from django.urls import reverse

from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import rights_of
from qrecords.signoff.rebuild_queries import ready_for_release
from qrecords.web.rebuilds.order import open_words
from qrecords.workshop.models import Rebuild
from qrecords.workshop.queries import within

MOST = 50


@dataclass(frozen=True)
class WaitingLine:
    href: str
    work_order: str
    machine: str
    words: str


@dataclass(frozen=True)
class Waiting:
    """The first of `total`, oldest first."""

    lines: tuple[WaitingLine, ...]
    total: int


def rebuilds_waiting(person: Person, at: datetime, words: str) -> Waiting | None:
    """None for who may not release any. Five queries."""
    rights = rights_of(person.id, at)
    if not rights.somewhere(Action.RELEASE_REBUILD):
        return None
    rows = ready_for_release(person, within(Rebuild.objects.all(), rights.where(Action.RELEASE_REBUILD)))
    asked = words.casefold().split()
    lines = [
        WaitingLine(
            href=reverse("rebuild", args=[row.id]),
            work_order=row.work_order,
            machine=f"{row.machine.owner} · {row.machine.name}",
            words=open_words(row),
        )
        for row in rows
    ]
    found = [
        line for line in lines if all(w in f"{line.work_order} {line.machine}".casefold() for w in asked)
    ]
    return Waiting(tuple(found[:MOST]), len(found))
