"""Where bearings are now, worked out from their mountings and from what became of them besides."""

import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.db.models import Exists, OuterRef

from qrecords.mountings.models import BearingEvent, Mounting, Reading
from qrecords.steps.bearing_life import Became, Event, Stood, Where, last_of, where_is
from qrecords.steps.transitions import State


@dataclass(frozen=True)
class Whereabouts:
    """`number` and `mounting` are of the newest mounting that counts, '' and None where there is none."""

    where: Where
    mounting: uuid.UUID | None = None
    number: str = ""


def where_are(bearings: Iterable[uuid.UUID]) -> Mapping[uuid.UUID, Whereabouts]:
    """The state of each of these bearings now; two queries, however many there are."""
    wanted = list(bearings)
    heated = Reading.objects.filter(mounting=OuterRef("pk"), step="heating", key__startswith="heater on.")
    rows = Mounting.objects.filter(bearing__in=wanted).annotate(heated=Exists(heated))
    stood: dict[uuid.UUID, list[Stood]] = {id: [] for id in wanted}
    numbers: dict[str, tuple[uuid.UUID, str]] = {}
    for id, bearing, state, at, hot, number, amendments in rows.values_list(
        "id", "bearing_id", "state", "opened_at", "heated", "number", "amendments"
    ):
        stood[bearing].append(Stood(str(id), State(state), at, bool(hot), amendments > 0))
        numbers[str(id)] = (id, number)
    became: dict[uuid.UUID, list[Became]] = {id: [] for id in wanted}
    events = BearingEvent.objects.filter(bearing__in=wanted)
    for bearing, what, at, mounting in events.values_list("bearing_id", "what", "at", "mounting_id"):
        became[bearing].append(Became(Event(what), at, str(mounting or "")))
    found = {}
    for id in wanted:
        last = last_of(stood[id])
        where = where_is(stood[id], became[id])
        found[id] = Whereabouts(where, *numbers[last.mounting]) if last else Whereabouts(where)
    return found


def whereabouts(bearing: uuid.UUID) -> Whereabouts:
    """The state of one bearing now; two queries."""
    return where_are([bearing])[bearing]
