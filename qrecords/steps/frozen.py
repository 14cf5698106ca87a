"""What the server froze beside a capture of the bounds of its act: days, and gear that changed meanwhile."""

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from qrecords.steps.case import Answered, Case
from qrecords.steps.gear import GearRecord


def days_of(case: Case, answered: Answered) -> tuple[date, date]:
    """The first and the last day, in the zone of the act, on which a capture can have been made. One from
    before these were frozen has the day of its device, in UTC."""
    frozen = case.seen.get(answered.entry, {}).get("days")
    if not frozen:
        return answered.at.date(), answered.at.date()
    return date.fromisoformat(frozen[0]), date.fromisoformat(frozen[1])


def day_of(seen: Mapping[str, Any], at: datetime) -> date:
    """The first day, in the zone of the act, on which what froze this can have been done; else that of its
    device, in UTC."""
    days = seen.get("days")
    return date.fromisoformat(days[0]) if days else at.date()


def gear_on_receipt(case: Case, step: str, key: str) -> GearRecord | None:
    """The piece a field names as it stood on receipt: as at the act, unless it was another by then."""
    found = case.value_of(step, key)
    received = case.frozen_gear(found.entry, "gear_received", key) if found else None
    return received or case.gear(step, key)
