"""What the page of shift start asks, and what it recorded in words."""

import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.people.models import Person
from qrecords.steps.gear import KINDS
from qrecords.web.fitter.gear import Offered, last_this_shift, pieces_at
from qrecords.web.fitter.page import Moment
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import with_unit
from qrecords.workshop.care_actions import ON_MASTER
from qrecords.workshop.models import Equipment, MasterCheck, ShiftStart
from qrecords.workshop.shifts import shift_of

BEFORE_IT = timedelta(hours=1)
"""A gauge read on its master so long before the start counts as read for this shift (house rule)."""
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


@dataclass(frozen=True)
class OnMaster:
    """A gauge of this shift, where it is read on its master, and what was read there since the start."""

    mark: str
    href: str
    words: str


def on_master(shift: ShiftStart) -> list[OnMaster]:
    """The gauges of a shift that are read on a master, before the work and after it; two queries."""
    gauges = Equipment.objects.filter(id__in=shift.document["gear"], kind__in=ON_MASTER).order_by("mark")
    since = MasterCheck.objects.filter(equipment__in=gauges, at__gte=shift.at - BEFORE_IT).order_by("at")
    read: dict[uuid.UUID, list[str]] = {}
    for check in since:
        verdict = gettext("within its limit") if check.within else gettext("off its limit")
        words = gettext("{when}: {off}, {verdict}")
        off = with_unit(FIGURES.um(check.off), "µm")
        told = words.format(when=gettext(check.when), off=off, verdict=verdict)
        read.setdefault(check.equipment_id, []).append(told)
    return [
        OnMaster(
            gauge.mark,
            reverse("gauge-check", args=[gauge.id]),
            "; ".join(read.get(gauge.id, [gettext("not read on its master yet")])),
        )
        for gauge in gauges
    ]


def standing_words(shift: ShiftStart, moment: Moment) -> str:
    words = gettext("This shift was started at {at} with {n} pieces. Sent again, the newer one counts.")
    return words.format(at=moment.clock(shift.at), n=len(shift.document["gear"]))
