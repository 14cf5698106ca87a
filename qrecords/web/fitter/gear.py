"""Gear at hand: what a site has, what this person used last in this shift, and the air measured lately."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils.translation import gettext

from qrecords.engineering.units import show
from qrecords.ledger.models import Entry
from qrecords.mountings.models import EquipmentUse, Mounting, Reading
from qrecords.people.models import Person
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.gear import KINDS
from qrecords.workshop.models import Equipment
from qrecords.workshop.queries import equipment_of

AIR_GOOD_FOR = timedelta(hours=2)
SHIFT = timedelta(hours=12)
"""*Today* as a night shift means it."""
LOOKED_THROUGH = 40
"""How many of the shift's uses are looked through for the person's own."""


@dataclass(frozen=True)
class AtHand:
    """`last` are the pieces this person used in this shift at this site, newest first; `air` is (typed, unit,
    note) of an air temperature under two hours old. Prefilled, never pre-accepted."""

    pieces: tuple[Equipment, ...] = ()
    last: tuple[uuid.UUID, ...] = ()
    air: tuple[str, str, str] | None = None

    def of(self, kinds: Iterable[str]) -> list[Equipment]:
        wanted = tuple(kinds)
        return [piece for piece in self.pieces if piece.kind in wanted]

    def offered(self, kinds: Iterable[str]) -> tuple[str, str]:
        """(id, note): what was used last in this shift, else the only piece there is; ('', '') else."""
        known = self.of(kinds)
        for id in self.last:
            if any(piece.id == id for piece in known):
                return str(id), gettext("used last")
        if len(known) == 1:
            return str(known[0].id), gettext("the only one here")
        return "", ""


def at_hand(mounting: Mounting, person: Person, now: datetime) -> AtHand:
    """What is at hand for one mounting; four queries at most."""
    pieces = tuple(equipment_of(mounting.site, KINDS))
    return AtHand(pieces, _last_this_shift(mounting.site, person, now), _air(mounting, now))


def _last_this_shift(site: uuid.UUID, person: Person, now: datetime) -> tuple[uuid.UUID, ...]:
    rows = EquipmentUse.objects.filter(mounting__site=site, at__gte=now - SHIFT, at__lte=now)
    uses = list(rows.order_by("-at", "entry").values_list("equipment_id", "entry")[:LOOKED_THROUGH])
    payloads = Entry.objects.in_bulk({entry for _, entry in uses})
    own = {
        id
        for id, entry in payloads.items()
        if parse_canonical(bytes(entry.payload))["author"]["person"] == str(person.id)
    }
    return tuple(dict.fromkeys(piece for piece, entry in uses if entry in own))


def _air(mounting: Mounting, now: datetime) -> tuple[str, str, str] | None:
    rows = Reading.objects.filter(mounting__site=mounting.site, step="measurement", key="air")
    newest = rows.exclude(mounting=mounting).order_by("-mounting__opened_at", "-id").first()
    if newest is None:
        return None
    entry = Entry.objects.get(id=newest.entry)
    at = datetime.fromisoformat(parse_canonical(bytes(entry.payload))["at_device"])
    if not timedelta(0) <= now - at <= AIR_GOOD_FOR:
        return None
    minutes = int((now - at).total_seconds() // 60)
    return show(newest.base, "temperature", "°C"), "°C", gettext("from {n} min ago").format(n=minutes)
