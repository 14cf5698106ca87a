"""What the page of shift start asks, and what it recorded in words."""

import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.people.models import Person
from qrecords.steps.gear import KINDS
from qrecords.web.fitter.gear import Offered, last_this_shift, pieces_at
from qrecords.web.fitter.page import Moment
from qrecords.workshop.models import ShiftStart
from qrecords.workshop.shifts import shift_of

CLIMATE_LABELS: Mapping[str, str] = {"air": _("air of the shop"), "humidity": _("relative humidity, if read")}
CLIMATE_UNITS: Mapping[str, str] = {"air": "°C", "humidity": "%"}


@dataclass(frozen=True)
class Slot:
    """One kind of equipment with its pieces; those `chosen` are put forward, with why."""

    kind: str
    pieces: tuple[tuple[Offered, bool], ...]
    note: str = ""


def asked(site: uuid.UUID, person: Person, now: datetime, sent: Iterable[str] | None) -> list[Slot]:
    """By kind, what was used last in this shift or named at its start, else the only sound piece there is."""
    pieces = pieces_at(site, now, None)
    before = shift_of(person.id, site, now)
    last = {str(piece) for piece in last_this_shift(site, person, now)}
    last |= set(before.document["gear"]) if before else set()
    found = []
    for kind in KINDS:
        here = [piece for piece in pieces if piece.kind == kind]
        sound = [piece for piece in here if not piece.doubt]
        forward = {piece.id for piece in sound if piece.id in last}
        note = gettext("used last") if forward else ""
        if not forward and len(sound) == 1:
            forward, note = {sound[0].id}, gettext("the only one here")
        if sent is not None:
            forward, note = set(sent), ""
        if here:
            found.append(Slot(kind, tuple((piece, piece.id in forward) for piece in here), note))
    return found


def named(ids: Iterable[str]) -> list[uuid.UUID]:
    """What of a form is an id; the rest names nothing."""
    found = []
    for each in ids:
        try:
            found.append(uuid.UUID(each))
        except ValueError:
            continue
    return found


def climate_of(sent: Mapping[str, str]) -> dict[str, tuple[str, str]]:
    """(text, unit) of each number of the climate, as typed."""
    return {
        name: (sent.get(name, "")[:40], sent.get(f"unit:{name}", "") or CLIMATE_UNITS[name])
        for name in CLIMATE_LABELS
    }


def standing_words(shift: ShiftStart, moment: Moment) -> str:
    words = gettext("This shift was started at {at} with {n} pieces. Sent again, the newer one counts.")
    return words.format(at=moment.clock(shift.at), n=len(shift.document["gear"]))
