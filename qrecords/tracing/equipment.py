"""From a gauge, meter or heater to everything it was used for. Fixed query counts."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from django.db.models import Count, QuerySet

from qrecords.ledger.models import Entry
from qrecords.mountings.models import EquipmentUse, Mounting
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.frozen import day_of
from qrecords.steps.gear import GearRecord, read_gear


@dataclass(frozen=True)
class Use:
    """One capture that used the piece, with the calibration in force as it was frozen in that entry."""

    row: EquipmentUse
    gear: GearRecord | None
    day: date
    """The day of the use in the zone of the act."""


def with_calibration(rows: Sequence[EquipmentUse]) -> list[Use]:
    """The uses with what each entry froze; one query."""
    entries = Entry.objects.filter(id__in={row.entry for row in rows}).values_list("id", "payload")
    frozen: dict[UUID, dict[str, Any]] = {
        entry: parse_canonical(bytes(payload))["body"]["seen"] for entry, payload in entries
    }
    return [_use(row, frozen.get(row.entry, {})) for row in rows]


def _use(row: EquipmentUse, seen: dict[str, Any]) -> Use:
    return Use(row, _as_used(seen.get("gear", {}), str(row.equipment_id)), day_of(seen, row.at))


def _as_used(gear: dict[str, Any], equipment: str) -> GearRecord | None:
    found = next((document for document in gear.values() if document["id"] == equipment), None)
    return read_gear(found) if found else None


def shared_with(pieces: Sequence[UUID], rows: QuerySet[Mounting]) -> dict[UUID, int]:
    """How many mountings among `rows` used each piece; one query."""
    counted = (
        EquipmentUse.objects.filter(equipment_id__in=pieces, mounting__in=rows)
        .values("equipment_id")
        .annotate(mountings=Count("mounting", distinct=True))
    )
    return {row["equipment_id"]: row["mountings"] for row in counted}
