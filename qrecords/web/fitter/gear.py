"""Gear at hand: what a site has, what this person used last in this shift, and the air measured lately."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.utils.translation import gettext

from qrecords.ledger.models import Entry
from qrecords.mountings.models import EquipmentUse, Mounting, Reading
from qrecords.people.models import Person
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.gear import KINDS, GearRecord, read_gear
from qrecords.steps.stated import told_at
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import ELLIPSIS, with_unit
from qrecords.workshop.models import ShiftStart
from qrecords.workshop.queries import equipment_of, frozen_gear
from qrecords.workshop.shifts import SHIFT, air_of, shift_of

AIR_GOOD_FOR = timedelta(hours=2)
Air = tuple[datetime, str, str, str]
"""When it was read, what was typed, its unit, and where it comes from in words."""
LOOKED_THROUGH = 40
"""How many of the shift's uses are looked through for the person's own."""


@dataclass(frozen=True)
class Offered:
    """A piece as it is offered: its mark, what it measures, until when it is in date; `doubt` where it would
    prove nothing today or does not hold the size. It can be named all the same: that is a fact."""

    id: str
    kind: str
    mark: str
    words: str
    doubt: str = ""

    @property
    def label(self) -> str:
        return " · ".join(part for part in (self.mark, self.words, self.doubt) if part)


def offered(gear: GearRecord, size_nm: int | None, day: date) -> Offered:
    span = ""
    if gear.range_nm is not None:
        low, high = gear.range_nm
        span = with_unit(f"{FIGURES.mm(low)}{ELLIPSIS}{FIGURES.mm(high)}", "mm")
    due = gear.due.isoformat() if gear.due else ""
    fault, doubt = gear.fault(day), ""
    if fault == "expired":
        doubt = gettext("out of date since {day}").format(day=due) if due else gettext("no calibration")
    elif fault:
        doubt = gettext(gear.status)
    elif size_nm is not None and not gear.holds(size_nm):
        doubt = gettext("does not hold this size")
    due_words = gettext("to {day}").format(day=due) if due and not doubt else ""
    return Offered(gear.id, gear.kind, gear.mark, " · ".join(w for w in (span, due_words) if w), doubt)


@dataclass(frozen=True)
class AtHand:
    """`last` are the pieces this person used in this shift at this site, newest first; `air` is (typed, unit,
    note) of an air temperature under two hours old. Prefilled, never pre-accepted."""

    pieces: tuple[Offered, ...] = ()
    last: tuple[uuid.UUID, ...] = ()
    shift: tuple[str, ...] = ()
    """What was named at the start of this shift."""
    air: tuple[str, str, str] | None = None

    def of(self, kinds: Iterable[str]) -> list[Offered]:
        """What fits first; what proves nothing last."""
        wanted = tuple(kinds)
        return sorted((piece for piece in self.pieces if piece.kind in wanted), key=lambda p: bool(p.doubt))

    def offered(self, kinds: Iterable[str]) -> tuple[str, str]:
        """(id, note): what was used last in this shift, else the one named at its start, else the only piece
        there is; ('', '') else. What is in doubt is never put forward."""
        known = [piece for piece in self.of(kinds) if not piece.doubt]
        for id in self.last:
            if any(piece.id == str(id) for piece in known):
                return str(id), gettext("used last")
        started = [piece.id for piece in known if piece.id in self.shift]
        if len(started) == 1:
            return started[0], gettext("from shift start")
        if len(known) == 1:
            return known[0].id, gettext("the only one here")
        return "", ""


def at_hand(mounting: Mounting, person: Person, now: datetime, size_nm: int) -> AtHand:
    """What is at hand for one mounting of this size; six queries at most."""
    started = shift_of(person.id, mounting.site, now)
    named = tuple(started.document["gear"]) if started else ()
    return AtHand(
        pieces_at(mounting.site, now, size_nm),
        last_this_shift(mounting.site, person, now),
        named,
        _air(mounting, now, started),
    )


def pieces_at(site: uuid.UUID, now: datetime, size_nm: int | None) -> tuple[Offered, ...]:
    """Everything a site has, as it stands now; two queries."""
    ids = [str(piece.id) for piece in equipment_of(site, KINDS)]
    documents = frozen_gear(ids, now, site)
    return tuple(offered(read_gear(documents[id]), size_nm, now.date()) for id in ids if id in documents)


def last_this_shift(site: uuid.UUID, person: Person, now: datetime) -> tuple[uuid.UUID, ...]:
    rows = EquipmentUse.objects.filter(mounting__site=site, at__gte=now - SHIFT, at__lte=now)
    uses = list(rows.order_by("-at", "entry").values_list("equipment_id", "entry")[:LOOKED_THROUGH])
    payloads = Entry.objects.in_bulk({entry for _, entry in uses})
    own = {
        id
        for id, entry in payloads.items()
        if parse_canonical(bytes(entry.payload))["author"]["person"] == str(person.id)
    }
    return tuple(dict.fromkeys(piece for piece, entry in uses if entry in own))


def _air(mounting: Mounting, now: datetime, started: ShiftStart | None) -> tuple[str, str, str] | None:
    """The newest air of the last two hours: of another mounting, or of the start of this shift."""
    known = [found for found in (_air_of_mountings(mounting, now), _air_of_shift(started, now)) if found]
    if not known:
        return None
    at, typed, unit, words = max(known)
    minutes = int((now - at).total_seconds() // 60)
    return typed.removesuffix(unit).strip(), unit, words.format(n=minutes)


def _air_of_shift(started: ShiftStart | None, now: datetime) -> Air | None:
    read = air_of(started) if started else None
    if started is None or read is None or now - started.at > AIR_GOOD_FOR:
        return None
    return started.at, read["typed"], read["unit"], gettext("from shift start, {n} min ago")


def _air_of_mountings(mounting: Mounting, now: datetime) -> Air | None:
    rows = Reading.objects.filter(mounting__site=mounting.site, step="measurement", key="air")
    newest = rows.exclude(mounting=mounting).order_by("-mounting__opened_at", "-id").first()
    if newest is None:
        return None
    payload = parse_canonical(bytes(Entry.objects.get(id=newest.entry).payload))
    at = told_at(payload)
    if not timedelta(0) <= now - at <= AIR_GOOD_FOR:
        return None
    read = payload["body"]["said"]["fields"]["air"]
    return at, read["typed"], read["unit"], gettext("from {n} min ago")
