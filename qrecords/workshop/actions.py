"""The only writers of the registers. Each act is one transaction with its entry."""

import uuid
from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from qrecords.ledger.append import atomic
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.people.stating import state
from qrecords.steps import gear
from qrecords.steps.calibration import calibration_faults
from qrecords.steps.gear import read_gear
from qrecords.steps.new_drawing import read_new_requirement
from qrecords.steps.new_gear import read_new_gear
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.lines import one_line as _text
from qrecords.workshop.lines import optional_line as _optional
from qrecords.workshop.marks import is_mark, new_mark
from qrecords.workshop.models import (
    Bearing,
    Damage,
    Equipment,
    EquipmentVersion,
    Journal,
    JournalRequirement,
    Machine,
    Rebuild,
    Site,
)
from qrecords.workshop.tables import in_force

SCHEMES = (
    "none",
    "lifting",
    "explosive atmosphere",
    "pressure",
    "rail",
    "marine class",
    "nuclear",
    "other",
)


@atomic()
def open_site(*, acting: Acting, site_id: uuid.UUID, code: str, name: str, zone: str) -> Site:
    """Write a site down. Its right comes from the installation: the first administrator's grant names it."""
    require(acting, Action.PEOPLE, site_id)
    said = {"code": _text("code", code, 8), "name": _text("name", name, 80), "zone": zone}
    state(acting, "site", id=site_id, site=site_id, about=("site", site_id), said=said)
    row, _ = Site.objects.get_or_create(id=site_id, defaults=said)
    return row


@atomic()
def register_machine(
    *,
    acting: Acting,
    site: uuid.UUID,
    machine_id: uuid.UUID,
    name: str,
    owner: str,
    scheme: str = "none",
    mark: str = "",
    released_by: str = "",
) -> Machine:
    """A machine with its workshop mark (made here unless its plate already bears one), the statutory scheme
    it is under, and who has to release it there."""
    require(acting, Action.REGISTER, site)
    if scheme not in SCHEMES:
        raise RegisterFieldError("scheme", scheme, ", ".join(SCHEMES))
    plate, made = mark.strip().upper(), new_mark()
    if plate and not is_mark(plate):
        raise RegisterFieldError("mark", plate, "six characters and the right check character")
    if plate and Machine.objects.filter(mark=plate).exclude(id=machine_id).exists():
        raise RegisterFieldError("mark", plate, "a mark that no other machine bears")
    said = {
        "name": _text("name", name, 120),
        "owner": _text("owner", owner, 120),
        "scheme": scheme,
        "mark": plate,
        **({"released_by": _text("released_by", released_by, 120)} if released_by.strip() else {}),
    }
    if released_by.strip() and scheme == "none":
        raise RegisterFieldError("released_by", released_by, "nobody, while the scheme is none")
    seen = {"mark": plate or made}
    state(acting, "machine", id=machine_id, site=site, about=("machine", machine_id), said=said, seen=seen)
    row, _ = Machine.objects.get_or_create(id=machine_id, defaults={"site": site, **said, **seen})
    return row


@atomic()
def open_rebuild(*, acting: Acting, rebuild_id: uuid.UUID, machine: Machine, work_order: str) -> Rebuild:
    """One overhaul of a machine under one work order."""
    require(acting, Action.REGISTER, machine.site)
    said = {"machine": str(machine.id), "work_order": _text("work_order", work_order, 40)}
    if Rebuild.objects.filter(machine=machine, work_order=said["work_order"]).exclude(id=rebuild_id).exists():
        raise RegisterFieldError("work_order", work_order, "an order not yet open at this machine")
    state(acting, "rebuild", id=rebuild_id, site=machine.site, about=("rebuild", rebuild_id), said=said)
    row, _ = Rebuild.objects.get_or_create(
        id=rebuild_id,
        defaults={
            "site": machine.site,
            "machine": machine,
            "work_order": said["work_order"],
            "opened_at": acting.now,
        },
    )
    return row


@atomic()
def register_journal(
    *, acting: Acting, journal_id: uuid.UUID, machine: Machine, shaft: str, position: str
) -> Journal:
    require(acting, Action.REGISTER, machine.site)
    said = {
        "machine": str(machine.id),
        "shaft": _text("shaft", shaft, 40),
        "position": _text("position", position, 40),
    }
    here = Journal.objects.filter(machine=machine, shaft=said["shaft"], position=said["position"])
    if here.exclude(id=journal_id).exists():
        raise RegisterFieldError("position", position, "a place not yet registered on this shaft")
    state(acting, "journal", id=journal_id, site=machine.site, about=("journal", journal_id), said=said)
    row, _ = Journal.objects.get_or_create(
        id=journal_id,
        defaults={
            "site": machine.site,
            "machine": machine,
            "shaft": said["shaft"],
            "position": said["position"],
        },
    )
    return row


@atomic()
def require_of_journal(
    *, acting: Acting, requirement_id: uuid.UUID, journal: Journal, document: Mapping[str, Any]
) -> JournalRequirement:
    """What a drawing revision asks of a journal. The document is read whole first: DocumentError names the
    field that is wrong."""
    require(acting, Action.REGISTER, journal.site)
    requirement = read_new_requirement(document, in_force(journal.site))
    about = ("journal", journal.id)
    state(
        acting, "journal requirement", id=requirement_id, site=journal.site, about=about, said=dict(document)
    )
    row, _ = JournalRequirement.objects.get_or_create(
        id=requirement_id,
        defaults={
            "journal": journal,
            "drawing": requirement.drawing,
            "revision": requirement.revision,
            "document": dict(document),
            "valid_from": acting.now,
        },
    )
    return row


@atomic()
def register_bearing(
    *,
    acting: Acting,
    site: uuid.UUID,
    bearing_id: uuid.UUID,
    designation: str,
    serial: str = "",
    lot: str = "",
    date_code: str = "",
    delivery: str = "",
) -> Bearing:
    """One physical bearing as delivered; the marking on the ring itself is read in the mounting."""
    require(acting, Action.REGISTER, site)
    said = {
        "designation": _text("designation", designation, 60),
        "serial": _optional("serial", serial, 40),
        "lot": _optional("lot", lot, 40),
        "date_code": _optional("date_code", date_code, 20),
        "delivery": _optional("delivery", delivery, 60),
    }
    state(acting, "bearing", id=bearing_id, site=site, about=("bearing", bearing_id), said=said)
    row, _ = Bearing.objects.get_or_create(id=bearing_id, defaults={"site": site, **said})
    return row


@atomic()
def register_equipment(
    *,
    acting: Acting,
    site: uuid.UUID,
    equipment_id: uuid.UUID,
    version_id: uuid.UUID,
    kind: str,
    mark: str,
    document: Mapping[str, Any],
    valid_from: datetime | None = None,
) -> Equipment:
    """A gauge, master, meter, feeler set or heater with its first version: status, calibration, blades."""
    require(acting, Action.EQUIP, site)
    if kind not in gear.KINDS:
        raise RegisterFieldError("kind", kind, ", ".join(gear.KINDS))
    said = {"kind": kind, "mark": _text("mark", mark, 30)}
    taken = Equipment.objects.filter(site=site, mark=said["mark"]).exclude(id=equipment_id).exists()
    if taken:
        raise RegisterFieldError("mark", mark, "a mark that no other piece here bears")
    state(acting, "equipment", id=equipment_id, site=site, about=("equipment", equipment_id), said=said)
    row, _ = Equipment.objects.get_or_create(id=equipment_id, defaults={"site": site, **said})
    calibrate(acting=acting, version_id=version_id, equipment=row, document=document, valid_from=valid_from)
    return row


@atomic()
def calibrate(
    *,
    acting: Acting,
    version_id: uuid.UUID,
    equipment: Equipment,
    document: Mapping[str, Any],
    valid_from: datetime | None = None,
) -> EquipmentVersion:
    """A new version of a piece of equipment: calibrated, quarantined, dropped, lost. DocumentError names the
    field that cannot be or is out of the common."""
    require(acting, Action.EQUIP, equipment.site)
    due = str(document.get("due") or "")
    try:
        due_on = date.fromisoformat(due) if due else None
    except ValueError:
        raise RegisterFieldError("due", due, "a day as YYYY-MM-DD") from None
    read_new_gear(equipment.kind, document)
    for fault in calibration_faults(equipment.kind, document):
        raise fault
    _refuse_damaged(equipment, version_id, document)
    try:
        read_gear({**document, "id": "", "kind": equipment.kind, "mark": equipment.mark})
    except (ValueError, TypeError) as error:
        raise RegisterFieldError("document", str(error), "whole numbers in base units") from error
    from_ = valid_from or acting.now
    # A moment that nobody named is the server's, and no part of what was said: a replay says the same.
    said = {**document, "valid_from": valid_from.isoformat() if valid_from else ""}
    about = ("equipment", equipment.id)
    state(acting, "calibration", id=version_id, site=equipment.site, about=about, said=said)
    row, _ = EquipmentVersion.objects.get_or_create(
        id=version_id,
        defaults={
            "equipment": equipment,
            "document": dict(document),
            "due": due_on,
            "valid_from": from_,
        },
    )
    return row


def _refuse_damaged(equipment: Equipment, version_id: uuid.UUID, document: Mapping[str, Any]) -> None:
    """What was dropped or damaged comes into use again with a new calibration, not with the one before."""
    if document.get("status", gear.IN_USE) != gear.IN_USE:
        return
    if EquipmentVersion.objects.filter(id=version_id).exists():
        return  # sent again: what was recorded then stands
    damage = Damage.objects.filter(equipment=equipment).order_by("-at").first()
    if damage is None:
        return
    before = EquipmentVersion.objects.filter(equipment=equipment, valid_from__lte=damage.at)
    told = tuple(document.get(name) for name in gear.CALIBRATION)
    if any(tuple(version.document.get(name) for name in gear.CALIBRATION) == told for version in before):
        allowed = "another status, or a new calibration: something happened to it since the one before"
        raise RegisterFieldError("status", gear.IN_USE, allowed)
