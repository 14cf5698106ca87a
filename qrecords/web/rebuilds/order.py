"""One work order: its machines, the places of the one that is open, what is still open before release."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.urls import reverse
from django.utils.translation import gettext, ngettext

from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import open_findings
from qrecords.signoff.rebuild_queries import mountings_of, with_standing
from qrecords.steps.rebuild import RebuildState
from qrecords.steps.transitions import CLOSED, LIVE, State
from qrecords.web.moments import day
from qrecords.web.parts import Cell, Verdict
from qrecords.workshop.models import Journal, Rebuild
from qrecords.workshop.queries import of_one_order


@dataclass(frozen=True)
class MachineLine:
    """One machine of the order and where it stands."""

    name: str
    owner: str
    mark: str
    href: str
    standing: str
    places: str
    here: bool


@dataclass(frozen=True)
class AttemptLine:
    """One mounting of a place; `counts`: its open findings. `last`: the one that counts."""

    number: str
    href: str
    state: str
    counts: tuple[tuple[Verdict, int], ...]
    last: bool


@dataclass(frozen=True)
class PlaceLine:
    shaft: str
    position: str
    attempts: tuple[AttemptLine, ...]
    standing: Mounting | None
    """The newest that was not opened by mistake."""

    @property
    def carried(self) -> bool:
        return self.standing is not None and self.standing.state == State.SIGNED_OFF.value


def machines_of(rebuild: Rebuild) -> list[MachineLine]:
    """Every machine under the order; one query."""
    return [
        MachineLine(
            name=row.machine.name,
            owner=row.machine.owner,
            mark=row.machine.mark,
            href=reverse("rebuild", args=[row.id]),
            standing=gettext(row.standing),
            places=open_words(row),
            here=row.id == rebuild.id,
        )
        for row in with_standing(of_one_order(rebuild))
    ]


def open_words(row: Any) -> str:
    """`3 signed off, 1 still open, 1 place without a mounting`, of a rebuild with its standing."""
    said = [
        (row.signed, ngettext("%(n)s signed off", "%(n)s signed off", row.signed)),
        (row.live, ngettext("%(n)s still open", "%(n)s still open", row.live)),
    ]
    words = [text % {"n": n} for n, text in said if n]
    bare = row.empty - row.live
    if row.standing != RebuildState.RELEASED and bare > 0:
        text = ngettext("%(n)s place without a mounting", "%(n)s places without a mounting", bare)
        words.append(text % {"n": bare})
    return ", ".join(words) or gettext("nothing mounted yet")


def places_of(rebuild: Rebuild, *, page: str) -> list[PlaceLine]:
    """Every journal of the machine with its mountings under this order; two queries."""
    by_journal: dict[Any, list[Any]] = {}
    for mounting in open_findings(mountings_of(rebuild)):
        by_journal.setdefault(mounting.journal_id, []).append(mounting)
    journals = Journal.objects.filter(machine=rebuild.machine_id).order_by("shaft", "position", "id")
    return [_place(journal, by_journal.get(journal.id, []), page) for journal in journals]


def _place(journal: Journal, mountings: Sequence[Any], page: str) -> PlaceLine:
    meant = [m for m in mountings if m.state != State.WITHDRAWN.value]
    standing = meant[-1] if meant else None
    attempts = tuple(
        AttemptLine(
            number=m.number,
            href=reverse(page, args=[m.id]),
            state=gettext(m.state),
            counts=_counts(m),
            last=m is standing,
        )
        for m in mountings
    )
    return PlaceLine(journal.shaft, journal.position, attempts, standing)


def _counts(row: Any) -> tuple[tuple[Verdict, int], ...]:
    """The open findings of a mounting that is not closed. While the work goes on, what is missing is mostly
    to come and calls nobody."""
    state = State(row.state)
    if state in CLOSED:
        return ()
    counts = (
        (Verdict("nonconforming", iso=True), row.out),
        (Verdict("not-proven", iso=True), row.close),
        (Verdict("missing", iso=True), 0 if state in LIVE else row.missing),
        (Verdict("query"), row.queries),
    )
    return tuple((verdict, count) for verdict, count in counts if count)


def title_block(rebuild: Rebuild, standing: str, zone: str) -> tuple[Cell, ...]:
    machine = rebuild.machine
    return (
        Cell(gettext("work order"), rebuild.work_order, strong=True),
        Cell(gettext("machine"), f"{machine.owner} · {machine.name}", own_row=True),
        Cell(gettext("workshop mark"), machine.mark),
        Cell(gettext("opened"), day(rebuild.opened_at, zone)),
        Cell(gettext("state"), gettext(standing), strong=True),
    )


def shafts_of(places: Sequence[PlaceLine]) -> Mapping[str, list[Mounting]]:
    """By shaft the mountings that count on it, in the order of the places."""
    found: dict[str, list[Mounting]] = {}
    for place in places:
        if place.standing is not None:
            found.setdefault(place.shaft, []).append(place.standing)
    return found
