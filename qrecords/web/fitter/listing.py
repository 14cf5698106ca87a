"""My mountings: what is open here, where each stands, what comes next. Fixed number of queries."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Q, QuerySet
from django.urls import reverse
from django.utils.translation import gettext

from qrecords.ledger.models import Entry
from qrecords.mountings.models import FindingRow, Mounting
from qrecords.mountings.queries import for_person, open_findings
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.findings import Verdict
from qrecords.steps.rules import Stage
from qrecords.steps.standard import RULES
from qrecords.steps.transitions import State
from qrecords.steps.waiting import NOT_TAKEN, ending, tells_what_is_to_come
from qrecords.web import parts
from qrecords.web.fitter.page import place
from qrecords.web.fitter.screens import SCREENS, label
from qrecords.web.fitter.verdicts import counts

MOST = 50
WORKED_ON = (State.OPEN, State.RETURNED, State.READY)


@dataclass(frozen=True)
class Line:
    """One mounting in the list. `next` is the next step in words, `href` where it is done."""

    number: str
    bearing: str
    place: str
    href: str
    next: str
    state: str
    verdicts: tuple[tuple[parts.Verdict, int], ...]
    mine: bool
    waits: bool
    returned: tuple[tuple[str, str], ...]
    """What the inspector gave back, item by item in his words, while it is not answered by *ready*."""


def open_here(person: Person, at: datetime) -> QuerySet[Mounting]:
    """What is open at the sites where this person records work, the newest first."""
    rows = for_person(person, Action.RECORD, at).filter(state__in=[state.value for state in WORKED_ON])
    return open_findings(rows).order_by("-opened_at", "-id")


def lines(person: Person, rows: Iterable[Mounting]) -> list[Line]:
    """Mine first. Seven queries, however many there are."""
    found = list(rows)
    ids = [mounting.id for mounting in found]
    coming = _to_come(ids)
    mine = _mine(person, ids)
    returned = _returned([each.id for each in found if each.state == State.RETURNED.value])
    shown = [
        _line(
            mounting,
            coming.get(mounting.id, set()),
            set(mounting.released.split()),
            mine,
            returned.get(mounting.id, ()),
        )
        for mounting in found
    ]
    return sorted(shown, key=lambda line: not line.mine)


def _line(
    mounting: Mounting,
    coming: set[Stage],
    released: set[str],
    mine: set[uuid.UUID],
    returned: tuple[tuple[str, str], ...],
) -> Line:
    step, waits = _next(coming, released)
    href, words = reverse(f"fit-{step}", args=[mounting.id]), label(SCREENS[step])
    if waits:
        words = gettext("waits for the inspector")
    if mounting.state == State.READY.value:
        words, href = gettext("with the inspector"), reverse("sheet", args=[mounting.id])
    verdicts = counts(
        getattr(mounting, "out", 0), getattr(mounting, "close", 0), getattr(mounting, "queries", 0)
    )
    state = "" if mounting.state == State.OPEN.value else gettext(mounting.state)
    return Line(
        mounting.number,
        mounting.bearing.designation,
        place(mounting),
        href,
        words,
        state,
        verdicts,
        mounting.id in mine,
        waits,
        returned,
    )


def _next(coming: set[Stage], released: set[str]) -> tuple[str, bool]:
    """(screen, whether a hold point waits there)."""
    for screen in SCREENS.values():
        if screen.stage in coming:
            return screen.name, False
        if screen.hold and screen.hold not in released and _after_is_open(screen.name, coming):
            return screen.name, True
    return "close", False


def _after_is_open(name: str, coming: set[Stage]) -> bool:
    """A hold point waits only while the work behind it has not begun to be finished."""
    after = {"measure": Stage.HEAT, "cold": Stage.CLOSE}[name]
    return after in coming


def _to_come(ids: list[uuid.UUID]) -> dict[uuid.UUID, set[Stage]]:
    """The stages in which something is still to come, from the findings."""
    rows = FindingRow.objects.filter(mounting__in=ids, verdict=Verdict.MISSING.value)
    found: dict[uuid.UUID, set[Stage]] = {}
    for id, rule, document in rows.values_list("mounting_id", "rule", "document"):
        message = str(document["message"])
        if tells_what_is_to_come(rule, message) and ending(message) != NOT_TAKEN and rule in RULES:
            found.setdefault(id, set()).add(RULES[rule].stage)
    return found


def _returned(ids: list[uuid.UUID]) -> dict[uuid.UUID, tuple[tuple[str, str], ...]]:
    """The items of the newest return of each mounting."""
    rows = Entry.objects.filter(kind="return", subject__in=ids).order_by("leaf__index")
    found: dict[uuid.UUID, tuple[tuple[str, str], ...]] = {}
    for subject, payload in rows.values_list("subject", "payload"):
        items = parse_canonical(bytes(payload))["body"]["said"]["items"]
        found[subject] = tuple((item["about"], item["reason"]) for item in items)
    return found


def _mine(person: Person, ids: list[uuid.UUID]) -> set[uuid.UUID]:
    """Those this person opened or recorded something in."""
    opened = Mounting.objects.filter(id__in=ids, opened_by=person.id).values_list("id", flat=True)
    worked = Entry.objects.filter(Q(kind="capture"), subject__in=ids).values_list("subject", "payload")
    own = {
        subject
        for subject, payload in worked
        if parse_canonical(bytes(payload))["author"]["person"] == str(person.id)
    }
    return set(opened) | own
