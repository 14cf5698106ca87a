"""A bearing besides its mountings: where it came from, what became of it, where its shaft went."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import reduce
from operator import or_

from django.db.models import Q, QuerySet

from qrecords.mountings.bearings import Whereabouts, whereabouts
from qrecords.mountings.models import BearingEvent, Mounting, NameRead, PartUse
from qrecords.steps.bearing_life import Event
from qrecords.tracing.shared import NUMBER_OF_DELIVERY
from qrecords.workshop.models import Bearing, Delivery, Move


@dataclass(frozen=True)
class Origin:
    """A delivery that a bearing came with: said to be it, or only one whose number is written at the bearing.
    `listed` says whether the note lists its designation and lot."""

    delivery: Delivery
    said: bool
    listed: bool


@dataclass(frozen=True)
class Life:
    now: Whereabouts
    events: tuple[BearingEvent, ...]
    origins: tuple[Origin, ...]
    moves: tuple[Move, ...]
    """Of its shaft and its machine, since the day it was mounted there."""


def life_besides(bearing: Bearing) -> Life:
    """Everything that is known of one bearing but its mountings; six queries."""
    events = tuple(
        BearingEvent.objects.filter(bearing=bearing)
        .select_related("mounting", "for_mounting", "journal__machine", "delivery")
        .order_by("on", "at", "id")
    )
    return Life(whereabouts(bearing.id), events, _origins(bearing, events), tuple(_moves(bearing)))


def _origins(bearing: Bearing, events: Sequence[BearingEvent]) -> tuple[Origin, ...]:
    said = [e.delivery for e in events if e.what == Event.DELIVERED and e.delivery]
    if said:
        return (Origin(said[-1], True, _lists(said[-1], bearing)),)
    told = NameRead.objects.filter(NUMBER_OF_DELIVERY, mounting__bearing=bearing)
    notes = {bearing.delivery, *told.values_list("text", flat=True)} - {""}
    named = reduce(or_, (Q(note__iexact=note) for note in notes), Q(pk__in=()))
    rows = Delivery.objects.filter(named, site=bearing.site).order_by("on", "id")
    return tuple(Origin(row, False, _lists(row, bearing)) for row in rows[:10])


def _lists(delivery: Delivery, bearing: Bearing) -> bool:
    """Whether a line of the note is of this designation, and of this lot where both name one."""
    return any(
        _plain(line["designation"]) == _plain(bearing.designation)
        and (not line["lot"] or not bearing.lot or _plain(line["lot"]) == _plain(bearing.lot))
        for line in delivery.lines
    )


def _plain(text: str) -> str:
    return "".join(sign for sign in text.upper() if sign.isalnum())


def _moves(bearing: Bearing) -> QuerySet[Move]:
    """What happened to shafts and machines on which this bearing was ever mounted."""
    places = Mounting.objects.filter(bearing=bearing).values_list("journal__machine_id", "journal__shaft")
    moved = Q(pk__in=())
    for machine, shaft in places:
        moved |= Q(machine_id=machine, shaft__in=("", shaft))
    return Move.objects.filter(moved).select_related("machine", "to_machine").order_by("on", "at", "id")


def parts_of(mounting: uuid.UUID) -> list[PartUse]:
    """The parts that went into a mounting; one query."""
    return list(PartUse.objects.filter(mounting=mounting).select_related("part").order_by("id"))


def came_off_for(mounting: uuid.UUID) -> list[BearingEvent]:
    """What came off so that this mounting takes its place; one query."""
    rows = BearingEvent.objects.filter(for_mounting=mounting, what=Event.REMOVED)
    return list(rows.select_related("bearing").order_by("at", "id"))


def removed_on(events: Sequence[BearingEvent], mounting: uuid.UUID) -> date | None:
    """The day on which the bearing came off this mounting."""
    days = [event.on for event in events if event.what == Event.REMOVED and event.mounting_id == mounting]
    return days[0] if days else None
