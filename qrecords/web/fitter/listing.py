"""My mountings: what is open here, where each stands, what comes next. Fixed number of queries."""

import uuid
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.db.models import Exists, OuterRef, Q, QuerySet
from django.urls import reverse
from django.utils.translation import gettext

from qrecords.ledger.models import Entry
from qrecords.mountings.models import FindingRow, Mounting
from qrecords.mountings.queries import for_person, open_findings
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import names
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.findings import Verdict
from qrecords.steps.rules import Stage
from qrecords.steps.standard import RULES
from qrecords.steps.transitions import ACCEPTING, State
from qrecords.steps.waiting import NOT_TAKEN, ending, tells_what_is_to_come
from qrecords.web import parts
from qrecords.web.fitter.decided import WORDS, named
from qrecords.web.fitter.page import place
from qrecords.web.fitter.screens import SCREENS, label
from qrecords.web.fitter.verdicts import counts
from qrecords.web.names import amendment_name, name

MOST = 50
WORKED_ON = (State.OPEN, State.RETURNED, State.AMENDING, State.READY)
ENDED = (State.REWORKED, State.SCRAPPED)
"""Closed by a decision: another ring is to go onto the seat."""
SHOWN_ENDED = timedelta(days=30)


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
    told: "Told"
    order: str
    order_href: str


@dataclass(frozen=True)
class Told:
    """What the inspector gave back, item by item in his words, while it is not answered by *ready*; and what
    was decided and is to be done: what, about what, and why."""

    returned: tuple[tuple[str, str], ...] = ()
    decided: tuple[tuple[str, str, str], ...] = ()
    handed: str = ""
    """From whom to whom it was handed over last, and with which note."""


def open_here(person: Person, at: datetime) -> QuerySet[Mounting]:
    """What is open at the sites where this person records work, the newest first; and what a decision closed
    lately, until the next mounting of its seat begins."""
    worked_on = Q(state__in=[state.value for state in WORKED_ON])
    ended = Q(
        state__in=[state.value for state in ENDED],
        closed_at__gte=at - SHOWN_ENDED,
    )
    # Asked apart: a join of the later attempts would count every finding once for each of them.
    begun_again = Exists(Mounting.objects.filter(attempt_of=OuterRef("pk")))
    rows = for_person(person, Action.RECORD, at).filter(worked_on | (ended & ~begun_again))
    return open_findings(rows).order_by("-opened_at", "-id")


def lines(person: Person, rows: Iterable[Mounting]) -> list[Line]:
    """Mine first. Eight queries, however many there are."""
    found = list(rows)
    ids = [mounting.id for mounting in found]
    coming = _to_come(ids)
    mine = _mine(person, ids)
    told = _told(found)
    shown = [
        _line(
            mounting,
            coming.get(mounting.id, set()),
            set(mounting.released.split()),
            mine,
            told.get(mounting.id, Told()),
        )
        for mounting in found
    ]
    return sorted(shown, key=lambda line: not line.mine)


def _line(
    mounting: Mounting,
    coming: set[Stage],
    released: set[str],
    mine: set[uuid.UUID],
    told: Told,
) -> Line:
    step, waits = _next(coming, released)
    href, words = reverse(f"fit-{step}", args=[mounting.id]), label(SCREENS[step])
    if waits:
        words = gettext("waits for the inspector")
    if mounting.state == State.READY.value:
        words, href = gettext("with the inspector"), reverse("sheet", args=[mounting.id])
    if mounting.state in ENDED:
        words, waits, href = gettext("start again"), False, reverse("sheet", args=[mounting.id])
    verdicts = counts(
        getattr(mounting, "out", 0), getattr(mounting, "close", 0), getattr(mounting, "queries", 0)
    )
    plain = (State.OPEN, State.READY)  # open needs no word, and *with the inspector* says ready already
    state = "" if mounting.state in plain else gettext(mounting.state)
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
        told,
        mounting.rebuild.work_order,
        reverse("rebuild", args=[mounting.rebuild_id]),
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


def _told(mountings: Iterable[Mounting]) -> dict[uuid.UUID, Told]:
    """The newest return of each mounting that is returned, what is to be amended, and the work that was
    decided."""
    state = {mounting.id: mounting.state for mounting in mountings}
    kinds = ("return", "decision", "hand over", "amendment")
    rows = Entry.objects.filter(kind__in=kinds, subject__in=state).order_by("leaf__index")
    handed: dict[uuid.UUID, dict[str, Any]] = {}
    returned: dict[uuid.UUID, tuple[tuple[str, str], ...]] = {}
    decisions: list[tuple[uuid.UUID, dict[str, Any]]] = []
    for subject, kind, payload in rows.values_list("subject", "kind", "payload"):
        entry = parse_canonical(bytes(payload))
        if kind == "hand over":
            handed[subject] = entry
        elif kind == "decision":
            decisions.append((subject, entry))
        elif kind == "amendment":
            if state[subject] == State.AMENDING.value:
                named = amendment_name(entry["body"]["seen"]["number"])
                returned[subject] = ((named, entry["reason"]),)
        elif state[subject] == State.RETURNED.value:
            items = entry["body"]["said"]["items"]
            returned[subject] = tuple((name(item["about"]), item["reason"]) for item in items)
    work = _work(decisions)
    words = _handed(handed)
    return {
        subject: Told(returned.get(subject, ()), tuple(work.get(subject, ())), words.get(subject, ""))
        for subject in {*returned, *work, *words}
    }


def _handed(entries: Mapping[uuid.UUID, Mapping[str, Any]]) -> dict[uuid.UUID, str]:
    """The last hand-over of each, in words; one query where there is any."""
    people = {
        person
        for entry in entries.values()
        for person in (entry["author"]["person"], entry["body"]["said"]["to"])
    }
    called = names(people) if people else {}
    found = {}
    for subject, entry in entries.items():
        said = entry["body"]["said"]
        words = gettext("{who} hands it over to {to}").format(
            who=called[entry["author"]["person"]], to=called[said["to"]]
        )
        found[subject] = f"{words}: {said['note']}" if said.get("note") else f"{words}."
    return found


def _work(
    decisions: Sequence[tuple[uuid.UUID, dict[str, Any]]],
) -> dict[uuid.UUID, list[tuple[str, str, str]]]:
    """What is to be done, about what, and why: of decisions in the order they were taken, the newest about
    each finding that stands. What is accepted is no work. One query."""
    newest = {
        (subject, digest): entry
        for subject, entry in decisions
        for digest in entry["body"]["said"]["findings"]
    }
    standing = FindingRow.objects.filter(
        mounting__in={subject for subject, _ in newest}, digest__in={digest for _, digest in newest}
    ).values_list("mounting_id", "digest", "characteristic")
    found: dict[uuid.UUID, list[tuple[str, str, str]]] = {}
    about = [(newest.get((subject, digest)), characteristic) for subject, digest, characteristic in standing]
    for subject, entry in decisions:
        kind = entry["body"]["said"]["decision"]
        characteristics = [characteristic for decision, characteristic in about if decision is entry]
        if characteristics and kind not in ACCEPTING:
            found.setdefault(subject, []).append(
                (gettext(WORDS[kind]), named(characteristics), entry["reason"])
            )
    return found


def _mine(person: Person, ids: list[uuid.UUID]) -> set[uuid.UUID]:
    """Those this person opened, was handed, or recorded something in."""
    mine = Q(opened_by=person.id) | Q(handed_to=person.id)
    opened = Mounting.objects.filter(mine, id__in=ids).values_list("id", flat=True)
    worked = Entry.objects.filter(Q(kind="capture"), subject__in=ids).values_list("subject", "payload")
    own = {
        subject
        for subject, payload in worked
        if parse_canonical(bytes(payload))["author"]["person"] == str(person.id)
    }
    return set(opened) | own
