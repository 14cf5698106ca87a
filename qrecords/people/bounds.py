"""Between which moments an act was done, and on which days of its own zone.

A device chooses its own time. What it says is bounded from below by the newest leaf it had known, which
existed before the act, and from above by the receipt. Days are those of the zone the act was done in: at the
end of a day UTC has another one.
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime, tzinfo
from uuid import UUID
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from qrecords.ledger.queries import received_at
from qrecords.people.acting import Acting
from qrecords.people.queries import rights_of


def known_zone(name: str, otherwise: str) -> str:
    """The name of a zone that a device told, if there is such a zone: an entry keeps it for ever."""
    return name if zone_of(name) is not UTC or name == "UTC" else otherwise


def zone_of(name: str) -> tzinfo:
    """The zone of this name; UTC for a name that is no zone, for it comes from a device."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return UTC


@dataclass(frozen=True)
class Bounds:
    """The first and the last moment at which an act can have been done."""

    first: datetime
    last: datetime
    zone: str

    @property
    def days(self) -> tuple[date, date]:
        where = zone_of(self.zone)
        return self.first.astimezone(where).date(), self.last.astimezone(where).date()


def held_throughout(acting: Acting, bounds: Bounds, site: UUID) -> bool:
    """Whether the roles of the author at this site were the same at both ends; one query for each."""
    first, last = (rights_of(acting.author.id, moment).grants for moment in (bounds.first, bounds.last))
    return {role for role, at in first if at == site} == {role for role, at in last if at == site}


def bounds_of(acting: Acting) -> Bounds:
    """From what the device says, or the leaf it had known where that is later, to the receipt."""
    said = min(acting.act_time, acting.now)
    known = received_at(acting.known) if acting.known else None
    first = said if known is None else min(max(said, known), acting.now)
    return Bounds(first, acting.now, acting.zone)
