"""Rebuilds as whole things: their places, what is still open, who may release them. Fixed query counts."""

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.db.models import Case as Cases
from django.db.models import (
    CharField,
    Count,
    Exists,
    IntegerField,
    OuterRef,
    Q,
    QuerySet,
    Subquery,
    Value,
    When,
)
from django.db.models.functions import Coalesce

from qrecords.ledger.models import Leaf
from qrecords.mountings.bearings import Whereabouts, where_are
from qrecords.mountings.models import BearingEvent, Mounting
from qrecords.mountings.queries import cases_of
from qrecords.people.models import Person
from qrecords.signoff.models import RebuildRelease
from qrecords.signoff.queries import worked_on
from qrecords.steps.bearing_life import Event, Where
from qrecords.steps.case import Case
from qrecords.steps.rebuild import Attempt, Place, RebuildState
from qrecords.steps.shown import Extent, extent_of
from qrecords.steps.transitions import CLOSED, State, state_of
from qrecords.workshop.models import Journal, Rebuild

CLOSED_STATES = [state.value for state in CLOSED]


@dataclass(frozen=True)
class Whole:
    """One machine under one order: its places as the records say, its journals and mountings by id."""

    places: tuple[Place, ...]
    journals: Mapping[str, Journal]
    mountings: Mapping[str, Mounting]
    cases: Mapping[str, Case]

    @property
    def signed(self) -> dict[str, str]:
        """By mounting the leaf hash of the signature under *inspected*."""
        found = {}
        for id, case in self.cases.items():
            inspected = [s.entry for s in case.signatures if s.meaning == "inspected"]
            if inspected:
                found[id] = case.leaves[inspected[-1]]
        return found


def place_name(journal: Journal) -> str:
    """`1, DE`: the shaft and the place on it."""
    return f"{journal.shaft}, {journal.position}"


def whole_of(rebuild: Rebuild) -> Whole:
    """Folded from the entries, for an act of authority rests on nothing else; where the bearings are, as
    every other act asks it. Six queries."""
    mountings = list(mountings_of(rebuild))
    now = where_are({mounting.bearing_id for mounting in mountings})
    cases = {str(id): case for id, case in cases_of(mountings).items()}
    journals = list(Journal.objects.filter(machine=rebuild.machine_id).order_by("shaft", "position", "id"))
    by_journal: dict[uuid.UUID, list[Mounting]] = {}
    for mounting in mountings:
        by_journal.setdefault(mounting.journal_id, []).append(mounting)
    places = tuple(
        Place(
            str(journal.id),
            place_name(journal),
            tuple(_attempt(m, cases[str(m.id)], now[m.bearing_id]) for m in by_journal.get(journal.id, ())),
        )
        for journal in journals
    )
    return Whole(places, {str(j.id): j for j in journals}, {str(m.id): m for m in mountings}, cases)


def mountings_of(rebuild: Rebuild) -> QuerySet[Mounting]:
    """All mountings under this order, oldest first."""
    rows = Mounting.objects.select_related("journal__machine", "bearing", "rebuild")
    return rows.filter(rebuild=rebuild).order_by("opened_at", "id")


def _attempt(mounting: Mounting, case: Case, now: Whereabouts) -> Attempt:
    signed = {s.author for s in case.signatures if s.meaning == "performed"}
    on = now.where == Where.MOUNTED and now.mounting == mounting.id
    return Attempt(str(mounting.id), mounting.number, state_of(case), case.worked_by | signed, off=not on)


def shown_of_rebuild(rebuild: Rebuild) -> Extent:
    """All entries of the rebuild's mountings as they stand now, in the order of the log; one query."""
    return extent_of(leaf for _id, leaf in _leaves(rebuild))


def entries_beyond(rebuild: Rebuild, shown: Extent) -> list[uuid.UUID]:
    """The entries that lie outside what was shown: all, where the root is of something else. One query."""
    leaves = _leaves(rebuild)
    covered = extent_of(leaf for _id, leaf in leaves[: shown.entries]) == shown
    return [id for id, _leaf in (leaves[shown.entries :] if covered else leaves)]


def _leaves(rebuild: Rebuild) -> list[tuple[uuid.UUID, str]]:
    of = Mounting.objects.filter(rebuild=rebuild).values("id")
    rows = Leaf.objects.filter(entry__subject__in=of).order_by("index").values_list("entry_id", "hash")
    return [(id, bytes(digest).hex()) for id, digest in rows]


def with_standing(rows: "QuerySet[Rebuild]") -> "QuerySet[Any]":
    """Rebuilds with what lists ask: how many mountings are not closed (`live`) and signed off (`signed`), how
    many places of the machine carry none that is signed (`empty`), and where it stands (`standing`)."""
    mountings = Mounting.objects.filter(rebuild=OuterRef("pk"))
    # Asked by journal: written so that no database asks it by rebuild, once for each mounting of an order.
    later = Mounting.objects.annotate(under=Coalesce("rebuild_id", "rebuild_id"))
    later = later.filter(
        journal=OuterRef("journal"), under=OuterRef("rebuild_id"), opened_at__gt=OuterRef("opened_at")
    )
    carried = mountings.filter(~Exists(later.exclude(state=State.WITHDRAWN.value)))
    carried = carried.filter(~_bearing_off(), state=State.SIGNED_OFF.value)
    ready = Q(live=0, signed__gt=0, empty=0)
    return rows.annotate(
        released=Exists(RebuildRelease.objects.filter(rebuild=OuterRef("pk"))),
        live=_counted(mountings.exclude(state__in=CLOSED_STATES), "rebuild"),
        signed=_counted(mountings.filter(state=State.SIGNED_OFF.value), "rebuild"),
        empty=_counted(Journal.objects.filter(machine=OuterRef("machine")), "machine")
        - _counted(carried, "rebuild"),
    ).annotate(
        standing=Cases(
            When(released=True, then=Value(RebuildState.RELEASED.value)),
            When(ready, then=Value(RebuildState.READY.value)),
            default=Value(RebuildState.OPEN.value),
            output_field=CharField(),
        )
    )


def _bearing_off() -> Any:
    """Of a signed mounting: its bearing was taken off, scrapped, set aside or mounted again since."""
    events = BearingEvent.objects.filter(bearing=OuterRef("bearing"))
    of_it = Q(mounting=OuterRef("pk")) | Q(mounting=None, at__gte=OuterRef("opened_at"))
    cleared = BearingEvent.objects.filter(
        bearing=OuterRef("bearing"), what=Event.CLEARED.value, at__gt=OuterRef("at")
    )
    apart = events.filter(~Exists(cleared), what=Event.QUARANTINED.value)
    again = Mounting.objects.filter(bearing=OuterRef("bearing"), opened_at__gt=OuterRef("opened_at"))
    return (
        Exists(events.filter(of_it, what=Event.REMOVED.value))
        | Exists(events.filter(what=Event.SCRAPPED.value))
        | Exists(apart)
        | Exists(again.exclude(state=State.WITHDRAWN.value))
    )


def _counted(rows: "QuerySet[Any]", by: str) -> Any:
    counted = rows.order_by().values(by).annotate(n=Count("pk")).values("n")
    return Coalesce(Subquery(counted, output_field=IntegerField()), 0)


def ready_for_release(person: Person, rows: "QuerySet[Rebuild]") -> list[Any]:
    """Rebuilds with nothing left but their release, oldest first; without those this person worked on. Four
    queries."""
    ready = with_standing(rows).filter(standing=RebuildState.READY.value)
    found = list(ready.select_related("machine").order_by("opened_at", "id"))
    of = dict(Mounting.objects.filter(rebuild__in=[r.id for r in found]).values_list("id", "rebuild_id"))
    own = {of[id] for id in worked_on(person, sorted(of))}
    return [rebuild for rebuild in found if rebuild.id not in own]


def releases_of(rebuilds: Sequence[uuid.UUID]) -> dict[uuid.UUID, RebuildRelease]:
    """The release of each that has one, with its entry; one query."""
    rows = RebuildRelease.objects.filter(rebuild__in=rebuilds).select_related("entry__leaf")
    return {row.rebuild_id: row for row in rows}
