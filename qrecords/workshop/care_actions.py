"""What happens to a piece of equipment between two calibrations: read on its master at the ends of a shift,
dropped, damaged. Facts: nobody is refused one."""

import uuid
from typing import Any

from qrecords.evidence import actions as evidence
from qrecords.evidence.intake import TakenIn
from qrecords.ledger.append import atomic
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.outbox.jobs import enqueue
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.people.stating import state
from qrecords.proof.canonical import parse_canonical
from qrecords.proof.identifiers import following
from qrecords.steps.answers import Value
from qrecords.steps.fields import Field, Quantity
from qrecords.steps.gauges import master_limit_nm
from qrecords.steps.gear import DAMAGES, DROPPED, IN_USE, QUARANTINE, read_gear
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import Damage, Equipment, EquipmentVersion, MasterCheck
from qrecords.workshop.queries import frozen_gear

BEFORE, AFTER = SHIFT = ("before", "after")
ON_MASTER = ("outside micrometer", "bore gauge", "dial indicator")
"""Kinds that are read on a setting master."""
OFF = Field("off", Quantity("length", ("um", "mm", "in"), -20_000, 20_000))
LONGEST_NOTE = 400
RECEIVED = "certificate received"


@atomic()
def check_on_master(
    *, acting: Acting, check_id: uuid.UUID, equipment: Equipment, master: Equipment, when: str, off: Value
) -> MasterCheck:
    """A gauge read on its master before a shift or after it: by how much it was off. The limit is that of the
    day, frozen beside it."""
    require(acting, Action.CHECK_GAUGE, equipment.site)
    if when not in SHIFT:
        raise RegisterFieldError("when", when, ", ".join(SHIFT))
    if equipment.kind not in ON_MASTER:
        raise RegisterFieldError("gauge", equipment.mark, ", ".join(ON_MASTER))
    if master.site != equipment.site or master.kind != "setting master":
        raise RegisterFieldError("master", master.mark, "a setting master registered here")
    stood = frozen_gear([str(equipment.id), str(master.id)], acting.act_time, equipment.site)
    gauge = stood.get(str(equipment.id))
    if gauge is None:
        raise RegisterFieldError("gauge", equipment.mark, "a gauge that was registered at that time")
    limit = master_limit_nm(read_gear(gauge))
    said = {"master": str(master.id), "when": when, "off": off.document()}
    seen: dict[str, Any] = {"limit_nm": limit, "gear": {"gauge": gauge}}
    about = ("equipment", equipment.id)
    state(acting, "master check", id=check_id, site=equipment.site, about=about, said=said, seen=seen)
    row, _ = MasterCheck.objects.get_or_create(
        id=check_id,
        defaults={
            "equipment": equipment,
            "master": master,
            "when": when,
            "off": int(off.value),
            "limit": limit,
            "at": acting.act_time,
            "by": acting.author.id,
        },
    )
    return row


@atomic()
def report_damage(
    *, acting: Acting, damage_id: uuid.UUID, equipment: Equipment, what: str, note: str
) -> Damage:
    """Something happened to a piece: from this moment it is out of use, until it is calibrated anew."""
    require(acting, Action.DAMAGE, equipment.site)
    if what not in DAMAGES:
        raise RegisterFieldError("what", what, ", ".join(DAMAGES))
    told = note.strip()
    if len(told) > LONGEST_NOTE or not told.isprintable():
        raise RegisterFieldError("note", note, f"up to {LONGEST_NOTE} characters in one line")
    said, about = {"what": what, "note": told}, ("equipment", equipment.id)
    state(acting, "equipment damage", id=damage_id, site=equipment.site, about=about, said=said)
    row, new = Damage.objects.get_or_create(
        id=damage_id,
        defaults={
            "equipment": equipment,
            "what": what,
            "note": told,
            "at": acting.act_time,
            "by": acting.author.id,
        },
    )
    if new:
        _out_of_use(acting, row)
    return row


def _out_of_use(acting: Acting, damage: Damage) -> None:
    """The next version of the piece: as it stood, but out of use. Lost or scrapped it stays so."""
    piece = damage.equipment
    standing = piece.versions.filter(valid_from__lte=damage.at).order_by("-valid_from", "-id").first()
    document = dict(standing.document) if standing else {}
    if document.get("status", IN_USE) not in (IN_USE, QUARANTINE):
        return
    document["status"] = DROPPED if damage.what == DROPPED else QUARANTINE
    version_id = following(damage.id, "out of use")
    said = {**document, "valid_from": damage.at.isoformat()}
    about = ("equipment", piece.id)
    state(acting, "calibration", id=version_id, site=piece.site, about=about, said=said)
    EquipmentVersion.objects.create(
        id=version_id,
        equipment=piece,
        document=document,
        due=standing.due if standing else None,
        valid_from=damage.at,
    )


@atomic()
def receive_certificate(*, acting: Acting, equipment: Equipment, taken: TakenIn) -> tuple[Entry, bool]:
    """The certificate file of a piece has come; a version names it by its SHA-256. The entry, and whether it
    is new: sent again it is the same."""
    require(acting, Action.EQUIP, equipment.site)
    new = evidence.receive(taken=taken, mounting=equipment.id, sender=acting.author.id, at=acting.now)
    known = Entry.objects.filter(subject=equipment.id, kind=RECEIVED).order_by("leaf__index")
    if not new:
        said = ((entry, parse_canonical(bytes(entry.payload))["body"]["said"]) for entry in known)
        return next(entry for entry, told in said if told["sha256"] == taken.sha256), False
    about, seen = ("equipment", equipment.id), {"size": taken.size, "media": taken.photo.media}
    said_now = {"sha256": taken.sha256}
    entry = state(acting, RECEIVED, id=new_id(), site=equipment.site, about=about, said=said_now, seen=seen)
    if taken.is_picture:
        enqueue("derive", sha256=taken.sha256)
    return entry, True
