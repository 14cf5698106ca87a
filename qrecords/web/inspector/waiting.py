"""*Waiting for you*: who waits, in the order in which waiting costs most."""

from collections.abc import Sequence, Set
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from django.urls import reverse
from django.utils.translation import gettext

from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import for_person
from qrecords.people.bounds import zone_of
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import rights_of
from qrecords.signoff import queries
from qrecords.steps.transitions import LIVE
from qrecords.web.heading import place
from qrecords.web.moments import calendar_day, moment
from qrecords.web.parts import Verdict

A_PAGE = 50


@dataclass(frozen=True)
class Row:
    """One mounting that waits, with how many findings of each verdict are open; `hot`: it was heated.
    `hidden`: the bearing is kept back until the reader has read the ring himself."""

    href: str
    number: str
    machine: str
    place: str
    bearing: str
    work_order: str
    opened: str
    counts: tuple[tuple[Verdict, int], ...]
    hot: bool = False
    hidden: bool = False
    until: str = ""
    """Of what is looked at again: by which day, or that the day has passed."""


@dataclass(frozen=True)
class Group:
    """One reason to wait: `rows` is one page of `total`; `next` the number of the page after it, or 0."""

    id: str
    title: str
    why: str
    total: int
    rows: tuple[Row, ...]
    next: int


def waiting_for(person: Person, at: datetime, zone: str, words: str = "", page: int = 1) -> list[Group]:
    """The lists this person's roles give, own work left out, filtered by words, each cut to a page.

    The number of queries does not hang on how many wait.
    """
    rights = rights_of(person.id, at)
    found: dict[str, list[Mounting]] = {}
    if rights.somewhere(Action.RELEASE):
        releasable = for_person(person, Action.RELEASE, at)
        found |= {hold: queries.waiting_for_release(releasable, hold) for hold in ("fit", "cold")}
    if rights.somewhere(Action.SIGN):
        found["ready"] = queries.ready_for_inspection(for_person(person, Action.SIGN, at))
    if rights.somewhere(Action.CONCEDE):
        found["engineer"] = queries.for_the_engineer(for_person(person, Action.CONCEDE, at))
    if rights.somewhere(Action.REVIEW):
        found["review"] = queries.to_look_at_again(for_person(person, Action.REVIEW, at), person)
    listed = {m.id: m for mountings in found.values() for m in mountings}
    own = queries.worked_on(person, sorted(listed))
    checks = rights.where(Action.CHECK)
    due = [id for id, m in listed.items() if id not in own and (checks.everywhere or m.site in checks.sites)]
    sealed = queries.marking_unread(sorted(due))
    today = at.astimezone(zone_of(zone)).date()
    return [
        _group(id, [m for m in ms if m.id not in own and _says(m, words, sealed)], zone, today, page, sealed)
        for id, ms in found.items()
    ]


def _says(mounting: Mounting, words: str, sealed: Set[UUID]) -> bool:
    """Whether every word stands somewhere in the row as it is shown: a search tells nothing sealed."""
    text = " ".join(
        (
            mounting.number,
            mounting.journal.machine.name,
            mounting.journal.machine.owner,
            mounting.journal.position,
            "" if mounting.id in sealed else mounting.bearing.designation,
            mounting.rebuild.work_order,
        )
    )
    return all(word in text.casefold() for word in words.casefold().split())


def _group(
    id: str, mountings: Sequence[Mounting], zone: str, today: date, page: int, sealed: Set[UUID]
) -> Group:
    titles = {
        "fit": (gettext("Hold point before heat"), gettext("the heater waits for your release")),
        "cold": (gettext("Hold point, cold check"), gettext("it stays uncovered until you release it")),
        "ready": (gettext("Ready for inspection"), gettext("the fitter has signed: performed")),
        "engineer": (gettext("For the engineer"), gettext("a concession may answer it")),
        "review": (
            gettext("Signed with reduced independence"),
            gettext("somebody stood in: an inspector looks at it again"),
        ),
    }
    title, why = titles[id]
    start = (page - 1) * A_PAGE
    rows = tuple(
        _row(mounting, zone, today, mounting.id in sealed) for mounting in mountings[start : start + A_PAGE]
    )
    return Group(id, title, why, len(mountings), rows, page + 1 if len(mountings) > start + A_PAGE else 0)


def _until(mounting: Mounting, today: date) -> str:
    due = mounting.review_due
    if due is None:
        return ""
    if today > due:
        return gettext("overdue since {day}").format(day=calendar_day(due))
    return gettext("until {day}").format(day=calendar_day(due))


def _row(mounting: Mounting, zone: str, today: date, hidden: bool) -> Row:
    """One row. While the work goes on, what is missing is mostly to come and calls nobody."""
    live = mounting.state in LIVE
    counts = (
        (Verdict("nonconforming", iso=True), getattr(mounting, "out", 0)),
        (Verdict("not-proven", iso=True), getattr(mounting, "close", 0)),
        (Verdict("missing", iso=True), 0 if live else getattr(mounting, "missing", 0)),
        (Verdict("query"), getattr(mounting, "queries", 0)),
    )
    return Row(
        href=reverse("inspect", kwargs={"mounting": mounting.id}),
        number=mounting.number,
        machine=f"{mounting.journal.machine.owner} · {mounting.journal.machine.name}",
        place=place(mounting),
        bearing=gettext("read it off the ring") if hidden else mounting.bearing.designation,
        work_order=mounting.rebuild.work_order,
        opened=moment(mounting.opened_at, zone),
        counts=tuple((verdict, count) for verdict, count in counts if count),
        hot=queries.is_hot(mounting),
        hidden=hidden,
        until=_until(mounting, today),
    )
