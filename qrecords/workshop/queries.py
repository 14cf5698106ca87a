"""What registers say at a moment, within the asker's reach. Fixed query counts."""

import uuid
from collections.abc import Iterable
from datetime import date, datetime
from functools import lru_cache
from typing import Any, TypeVar

from django.db.models import F, OuterRef, Q, QuerySet, Subquery
from django.db.models.fields.json import KT

from qrecords.people.queries import Reach
from qrecords.steps.calibration import NOT_FROZEN
from qrecords.steps.gear import CALIBRATION, IN_USE
from qrecords.steps.procedure import Procedure, read_procedure
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import (
    Bearing,
    Equipment,
    EquipmentVersion,
    Journal,
    JournalRequirement,
    Machine,
    ProcedureVersion,
    Rebuild,
    Site,
)

Row = TypeVar("Row", Machine, Rebuild, Journal, Bearing, Equipment)


def within(rows: "QuerySet[Row]", reach: Reach) -> "QuerySet[Row]":
    """Only what this person may see."""
    return rows if reach.everywhere else rows.filter(site__in=reach.sites)


def sites(reach: Reach) -> list[Site]:
    rows = Site.objects.order_by("code")
    return list(rows if reach.everywhere else rows.filter(id__in=reach.sites))


def zone_of_site(site: uuid.UUID) -> str:
    """The zone of a workshop; UTC where it says none."""
    return Site.objects.filter(id=site).values_list("zone", flat=True).first() or "UTC"


def machine(id: uuid.UUID, reach: Reach) -> Machine:
    found = within(Machine.objects.all(), reach).filter(id=id).first()
    if found is None:
        raise UnknownObjectError("machine", id)
    return found


def equipment(id: uuid.UUID, reach: Reach) -> Equipment:
    found = within(Equipment.objects.all(), reach).filter(id=id).first()
    if found is None:
        raise UnknownObjectError("equipment", id)
    return found


def requirement_at(journal: uuid.UUID, at: datetime) -> JournalRequirement:
    """The newest requirement of a journal that was valid at a moment."""
    rows = JournalRequirement.objects.filter(journal_id=journal, valid_from__lte=at)
    found = rows.order_by("-valid_from", "-id").first()
    if found is None:
        raise UnknownObjectError("journal requirement", journal)
    return found


@lru_cache(maxsize=64)
def procedure_by_digest(digest: str) -> Procedure:
    """The very document a mounting pinned; asked for once, for a digest names one content for ever."""
    found = ProcedureVersion.objects.filter(digest=digest).first()
    if found is None:
        raise UnknownObjectError("procedure", digest)
    return read_procedure(found.document)


def procedures_by_digest(digests: Iterable[str]) -> dict[str, Procedure]:
    """The documents that several mountings pinned; one query."""
    wanted = set(digests)
    rows = ProcedureVersion.objects.filter(digest__in=wanted).values_list("digest", "document")
    found = {digest: read_procedure(document) for digest, document in rows}
    for digest in wanted - set(found):
        raise UnknownObjectError("procedure", digest)
    return found


def rebuild(id: uuid.UUID, reach: Reach) -> Rebuild:
    found = within(Rebuild.objects.select_related("machine"), reach).filter(id=id).first()
    if found is None:
        raise UnknownObjectError("rebuild", id)
    return found


def of_one_order(rebuild: Rebuild) -> "QuerySet[Rebuild]":
    """All machines of a site under the same work order, this one among them."""
    rows = Rebuild.objects.filter(site=rebuild.site, work_order=rebuild.work_order)
    return rows.select_related("machine").order_by("opened_at", "id")


def frozen_gear(ids: Iterable[str], at: datetime, site: uuid.UUID | None = None) -> dict[str, dict[str, Any]]:
    """Each piece of a site's equipment as it stood at a moment, to be frozen beside a capture, with the
    moment from which its calibration was first in force; one query. Without a site only for what is shown
    and not recorded."""
    wanted = {id for id in ids if _is_uuid(id)}
    rows = (
        EquipmentVersion.objects.select_related("equipment")
        .filter(equipment_id__in=wanted, valid_from__lte=at)
        .order_by("valid_from", "id")
    )
    if site is not None:
        rows = rows.filter(equipment__site=site)
    found: dict[str, dict[str, Any]] = {}
    first: dict[tuple[object, ...], datetime] = {}
    for row in rows:
        id = str(row.equipment_id)
        calibration = (id, *(row.document.get(name) for name in CALIBRATION))
        found[id] = {
            **{name: told for name, told in row.document.items() if name not in NOT_FROZEN},
            "id": id,
            "kind": row.equipment.kind,
            "mark": row.equipment.mark,
            "calibration": str(row.id),
            "in_force_from": first.setdefault(calibration, row.valid_from).isoformat(),
        }
    return found


def equipment_now(reach: Reach) -> "QuerySet[Any]":
    """Each piece within reach with what its newest version says: due day, status, place, laboratory and
    interval; one query."""
    newest = EquipmentVersion.objects.filter(equipment=OuterRef("pk")).order_by("-valid_from", "-id")

    def told(name: str) -> Subquery:
        return Subquery(newest.annotate(word=KT(f"document__{name}")).values("word")[:1])

    rows = Equipment.objects.annotate(
        due=Subquery(newest.values("due")[:1]),
        status=told("status"),
        kept_at=told("place"),
        laboratory=told("laboratory"),
        interval=told("interval_months"),
    )
    return within(rows, reach)


def due_equipment(reach: Reach, until: date) -> "QuerySet[Any]":
    """What is in use and due until a day, over it, or without a due day; what is due first stands first."""
    rows = equipment_now(reach).filter(Q(status=IN_USE) | Q(status__isnull=True))
    due = rows.filter(Q(due__lte=until) | Q(due__isnull=True))
    return due.order_by(F("due").asc(nulls_last=True), "mark", "id")


def last_good(piece: Equipment, before: datetime) -> datetime | None:
    """The moment from which a piece is in doubt where it is found wrong now: its last reading on the master
    that was within its limit, or the beginning of the calibration before the one that found it, whichever is
    later. Two queries."""
    versions = piece.versions.filter(valid_from__lte=before).order_by("valid_from", "id")
    begun: dict[tuple[object, ...], datetime] = {}
    for version in versions:
        begun.setdefault(tuple(version.document.get(name) for name in CALIBRATION), version.valid_from)
    starts = list(begun.values())
    calibrated = starts[-2] if len(starts) > 1 else starts[-1] if starts else None
    found = starts[-1] if len(starts) > 1 else before
    checks = piece.checks.filter(at__lte=found, off__gte=-F("limit"), off__lte=F("limit"))
    checked = checks.order_by("-at").values_list("at", flat=True).first()
    return max((at for at in (calibrated, checked) if at is not None), default=None)


def _is_uuid(text: str) -> bool:
    try:
        uuid.UUID(text)
    except ValueError:
        return False
    return True


def equipment_of(site: uuid.UUID, kinds: Iterable[str]) -> list[Equipment]:
    """What can be chosen from at a site, for some kinds."""
    return list(Equipment.objects.filter(site=site, kind__in=list(kinds)).order_by("kind", "mark"))
