"""What becomes of a bearing besides its mountings: delivered, removed, failed, set aside, scrapped.

A removal and a failure are facts and never refused. Ending a quarantine and scrapping are acts of authority,
each under the lock of the bearing, and never by who worked on a mounting of it: who erred accepts nothing.
"""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from qrecords.ledger.append import atomic
from qrecords.mountings.barring import fell, lock_bearing
from qrecords.mountings.bearings import Whereabouts, whereabouts
from qrecords.mountings.errors import BearingStateError, LaboratoryError, RefusedError
from qrecords.mountings.models import BearingEvent, Mounting
from qrecords.mountings.queries import case_of, cases_of
from qrecords.people.acting import Acting, require
from qrecords.people.bounds import zone_of
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.stating import state, stated_before
from qrecords.steps.bearing_life import KINDS, METHODS, Event, Where
from qrecords.steps.damage import BY_ID, UNKNOWN
from qrecords.steps.papers import REPORT
from qrecords.steps.transitions import Refusal
from qrecords.workshop import actions as workshop
from qrecords.workshop.errors import RegisterFieldError, UnknownObjectError
from qrecords.workshop.lines import one_line, optional_line, past_day
from qrecords.workshop.models import Bearing, Delivery, Journal

LONGEST = 400


@dataclass(frozen=True)
class Seen:
    """What was seen of the damage: a row of `steps.damage`, or *none of these*, and it in words."""

    damage: str = ""
    looks: str = ""


NOTHING_SEEN = Seen()


@atomic()
def remove(
    *,
    acting: Acting,
    entry_id: uuid.UUID,
    bearing: Bearing,
    on: date,
    why: str,
    method: str,
    kept: str = "",
    by: str = "",
    seen: Seen = NOTHING_SEEN,
    journal: Journal | None = None,
    for_mounting: Mounting | None = None,
) -> BearingEvent:
    """A bearing came off. `by`: who took it off, where that was not who records it; `kept`: where it lies,
    bag and shelf; `for_mounting`: the mounting that takes its place. Which mounting this ended is worked out
    and frozen."""
    require(acting, Action.REGISTER, bearing.site)
    if method not in METHODS:
        raise RegisterFieldError("method", method, ", ".join(METHODS))
    _same_site(bearing, journal, for_mounting)
    lock_bearing(bearing.id)
    said = {
        "journal": str(journal.id) if journal else "",
        "for_mounting": str(for_mounting.id) if for_mounting else "",
        "on": _day(acting, on),
        "why": one_line("why", why, LONGEST),
        "method": method,
        "kept": optional_line("kept", kept, 80),
        "by": optional_line("by", by, 80),
        **_damage(seen),
    }
    ended = _ended(bearing, journal)
    return _event(
        acting, Event.REMOVED, entry_id, bearing, said, {"mounting": str(ended.id) if ended else ""}
    )


@atomic()
def remove_old(
    *, acting: Acting, entry_id: uuid.UUID, bearing_id: uuid.UUID, marks: Mapping[str, str], **removal: Any
) -> BearingEvent:
    """The same for a bearing that no record here knows: it is registered by what its ring still tells
    (`marks`: designation, serial, lot, date_code), then removed."""
    site = removal["for_mounting"].site if removal.get("for_mounting") else removal["journal"].site
    old = workshop.register_bearing(acting=acting, site=site, bearing_id=bearing_id, **marks)
    return remove(acting=acting, entry_id=entry_id, bearing=old, **removal)


@atomic()
def fail(
    *,
    acting: Acting,
    entry_id: uuid.UUID,
    bearing: Bearing,
    on: date,
    what: str,
    by: str = "",
    ran: str = "",
    seen: Seen = NOTHING_SEEN,
) -> BearingEvent:
    """A failure was reported. `by`: who reported it; `ran`: how long it ran, as it was told."""
    require(acting, Action.REGISTER, bearing.site)
    lock_bearing(bearing.id)
    said = {
        "on": _day(acting, on),
        "what": one_line("what", what, LONGEST),
        "by": optional_line("by", by, 80),
        "ran": optional_line("ran", ran, 40),
        **_damage(seen),
    }
    now = whereabouts(bearing.id)
    frozen = {"mounting": str(now.mounting or ""), "where": now.where.value}
    return _event(acting, Event.FAILED, entry_id, bearing, said, frozen)


@atomic()
def set_aside(
    *, acting: Acting, entry_id: uuid.UUID, bearing: Bearing, on: date, why: str, kept: str = ""
) -> BearingEvent:
    """Quarantine: whoever doubts where a bearing comes from or what it went through sets it aside."""
    require(acting, Action.REGISTER, bearing.site)
    lock_bearing(bearing.id)
    why, kept = one_line("why", why, LONGEST), optional_line("kept", kept, 80)
    said = {"on": _day(acting, on), "why": why, "kept": kept}
    return _event(acting, Event.QUARANTINED, entry_id, bearing, said, {})


@atomic()
def clear(*, acting: Acting, entry_id: uuid.UUID, bearing: Bearing, on: date, why: str) -> BearingEvent:
    """End a quarantine, with what settled the doubt. BearingStateError where there is none. Of a bearing that
    fell the engineer alone ends it, on a laboratory's report that is here (LaboratoryError)."""
    dropped = fell(bearing.id)
    require(acting, Action.CONCEDE if dropped else Action.ACCEPT, bearing.site)
    if dropped and not _reported(bearing):
        raise LaboratoryError
    said = {"on": _day(acting, on), "why": one_line("why", why, LONGEST)}
    return _decided(acting, Event.CLEARED, entry_id, bearing, said, (Where.QUARANTINED,))


@atomic()
def scrap(*, acting: Acting, entry_id: uuid.UUID, bearing: Bearing, on: date, why: str) -> BearingEvent:
    """Scrap a bearing that lies somewhere: it cannot come back. BearingStateError for one that is on a
    shaft, or that a mounting which is not closed is about: there the removal is recorded, or that mounting
    decided."""
    require(acting, Action.SCRAP, bearing.site)
    said = {"on": _day(acting, on), "why": one_line("why", why, LONGEST)}
    lying = (Where.IN_STOCK, Where.REMOVED, Where.QUARANTINED)
    return _decided(acting, Event.SCRAPPED, entry_id, bearing, said, lying)


@atomic()
def delivered(
    *, acting: Acting, entry_id: uuid.UUID, bearing: Bearing, delivery: Delivery, on: date
) -> BearingEvent:
    """Which delivery a bearing came with, where its number alone does not say it."""
    require(acting, Action.REGISTER, bearing.site)
    if delivery.site != bearing.site:
        raise UnknownObjectError("delivery", delivery.id)
    lock_bearing(bearing.id)
    said = {"on": _day(acting, on), "delivery": str(delivery.id)}
    return _event(acting, Event.DELIVERED, entry_id, bearing, said, {})


def worked_on(person: Person, bearing: Bearing) -> bool:
    """Whether this person worked on any mounting of the bearing, closed or withdrawn as it may be."""
    cases = cases_of(list(bearing.mountings.all())).values()
    return any(str(person.id) in case.worked_by for case in cases)


def _reported(bearing: Bearing) -> bool:
    """A laboratory's report was handed in with some record of this bearing, and is here."""
    papers = (paper for mounting in bearing.mountings.all() for paper in case_of(mounting).papers)
    return any(paper.kind == REPORT and paper.received for paper in papers)


def _decided(
    acting: Acting,
    what: Event,
    entry_id: uuid.UUID,
    bearing: Bearing,
    said: Mapping[str, Any],
    allowed: tuple[Where, ...],
) -> BearingEvent:
    """An act of authority: refused to who worked on it (RefusedError), and unless the bearing is one of these
    now. What was done already stays."""
    lock_bearing(bearing.id)
    about = ("bearing", bearing.id)
    done = stated_before(acting, KINDS[what], id=entry_id, site=bearing.site, about=about, said=said)
    if done is None and worked_on(acting.author, bearing):
        raise RefusedError(what.value, Refusal("not-independent", {"person": str(acting.author.id)}))
    now = whereabouts(bearing.id)
    if done is None and now.where not in allowed:
        raise BearingStateError(what.value, now.where.value, now.number)
    return _event(acting, what, entry_id, bearing, said, {"where": now.where.value})


def _event(
    acting: Acting,
    what: Event,
    entry_id: uuid.UUID,
    bearing: Bearing,
    said: Mapping[str, Any],
    seen: Mapping[str, Any],
) -> BearingEvent:
    """The entry and its row. Sent again, what was frozen at first stands."""
    known = BearingEvent.objects.filter(id=entry_id).first()
    about = ("bearing", bearing.id)
    state(acting, KINDS[what], id=entry_id, site=bearing.site, about=about, said=said, seen=seen)
    return known or BearingEvent.objects.create(
        id=entry_id,
        site=bearing.site,
        bearing=bearing,
        what=what.value,
        on=date.fromisoformat(said["on"]),
        at=acting.now,
        mounting_id=_named(seen, "mounting"),
        journal_id=_named(said, "journal"),
        for_mounting_id=_named(said, "for_mounting"),
        delivery_id=_named(said, "delivery"),
        damage=said.get("damage", ""),
        document={**said},
    )


def _named(body: Mapping[str, Any], what: str) -> uuid.UUID | None:
    return uuid.UUID(body[what]) if body.get(what) else None


def _day(acting: Acting, on: date) -> str:
    return past_day("on", on, acting.now, zone_of(acting.zone)).isoformat()


def _damage(seen: Seen) -> dict[str, str]:
    if seen.damage and seen.damage not in (*BY_ID, UNKNOWN):
        raise RegisterFieldError("damage", seen.damage, "one of the damages of the table")
    return {"damage": seen.damage, "looks": optional_line("looks", seen.looks, LONGEST)}


def _same_site(bearing: Bearing, journal: Journal | None, mounting: Mounting | None) -> None:
    for what, row in (("journal", journal), ("mounting", mounting)):
        if row is not None and row.site != bearing.site:
            raise UnknownObjectError(what, row.id)


def _ended(bearing: Bearing, journal: Journal | None) -> Mounting | None:
    """The mounting that a removal ends: the newest that counts, unless it is of another place than the one
    that was named."""
    now: Whereabouts = whereabouts(bearing.id)
    last = Mounting.objects.filter(id=now.mounting).first() if now.mounting else None
    if last is None or (journal is not None and last.journal_id != journal.id):
        return None
    return last
