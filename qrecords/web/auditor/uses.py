"""A gauge, meter or heater: its calibrations, and every capture that used it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.urls import reverse
from django.utils.translation import gettext

from qrecords.engineering import units
from qrecords.mountings.models import EquipmentUse
from qrecords.steps.calibration import FOUND, LEFT, MPE, SIZE_OF, out_of, points_of
from qrecords.steps.gear import GearRecord, read_gear
from qrecords.steps.new_gear import SCALES
from qrecords.tracing.equipment import Use
from qrecords.web.auditor.saying import step_name
from qrecords.web.auditor.sheet import place
from qrecords.web.auditor.standing import expanded_u, in_unit
from qrecords.web.moments import calendar_day, moment
from qrecords.workshop.models import Damage, Equipment, EquipmentVersion, MasterCheck

LATEST = 50
"""So many checks and damages are shown."""


@dataclass(frozen=True)
class VersionRow:
    """One version of the piece: from when, status, what its certificate says."""

    valid_from: str
    status: str
    due: str
    expanded_u: str
    resolution: str
    certificate: str
    as_found: str
    as_left: str
    note: str
    blades: str
    entry: str
    file: str
    """Where its certificate can be saved from; '' where none was sent."""


@dataclass(frozen=True)
class UseRow:
    """One capture that used the piece, with what was frozen there."""

    at: str
    mounting: str
    href: str
    bearing: str
    place: str
    step: str
    state: str
    due: str
    in_date: bool
    entry: str
    calibration: str


def gear_of(version: EquipmentVersion, piece: Equipment) -> GearRecord:
    return read_gear({**version.document, "id": str(piece.id), "kind": piece.kind, "mark": piece.mark})


def version_row(version: EquipmentVersion, piece: Equipment, zone: str) -> VersionRow:
    gear, document = gear_of(version, piece), version.document
    file = str(document.get("certificate_file", ""))
    return VersionRow(
        valid_from=moment(version.valid_from, zone),
        status=gettext(gear.status),
        due=calendar_day(gear.due) if gear.due else "",
        expanded_u=expanded_u(gear),
        resolution=in_unit(gear.resolution, gear.kind) if gear.resolution else "",
        certificate=gear.certificate,
        as_found=said_points(document, piece.kind, FOUND) or str(document.get("as_found", "")),
        as_left=said_points(document, piece.kind, LEFT) or str(document.get("as_left", "")),
        note=_note(document),
        blades=" · ".join(in_unit(blade, gear.kind) for blade in sorted(gear.blades_nm)),
        entry=reverse("entry", args=[version.id]),
        file=reverse("certificate-file", args=[piece.id, file]) if file else "",
    )


def said_points(document: Mapping[str, Any], kind: str, name: str) -> str:
    """`76 mm 0 ± 3 µm · 90 mm +9 ± 3 µm`, and how much it may be off, where somebody said."""
    scale = SCALES[kind]
    quantity, size_unit, _most = SIZE_OF[scale.unit]
    said = []
    for point in points_of(document, name):
        error = units.show(point.error, scale.quantity, scale.unit).replace("-", "−")
        sign = "+" if point.error > 0 else ""
        expanded = units.show(point.expanded_u, scale.quantity, scale.unit)
        at = f"{units.show(point.size, quantity, size_unit)} {size_unit}"
        said.append(f"{at} {sign}{error} ± {expanded} {scale.unit_said}")
    if out_of(document, name):
        most = units.show(int(document[MPE]), scale.quantity, scale.unit)
        said.append(gettext("more than the %(most)s it may be") % {"most": f"{most} {scale.unit_said}"})
    return " · ".join(said)


def _note(document: Mapping[str, Any]) -> str:
    place, laboratory = str(document.get("place", "")), str(document.get("laboratory", ""))
    told = [gettext("kept at %(place)s") % {"place": place} if place else "", laboratory]
    return ". ".join(part for part in (str(document.get("note", "")), *told) if part)


@dataclass(frozen=True)
class CareRow:
    """One check on the master, or one thing that happened to the piece."""

    at: str
    what: str
    told: str
    mark: str
    entry: str


def care_rows(piece: Equipment, zone: str) -> list[CareRow]:
    """What happened between calibrations, newest first; two queries."""
    checks = [(check.at, _check_row(check, zone)) for check in piece.checks.select_related("master")[:LATEST]]
    damages = [(damage.at, _damage_row(damage, zone)) for damage in piece.damages.all()[:LATEST]]
    return [row for _at, row in sorted([*checks, *damages], key=lambda pair: pair[0], reverse=True)]


def _check_row(check: MasterCheck, zone: str) -> CareRow:
    off, limit = (in_unit(base, "outside micrometer") for base in (check.off, check.limit))
    shift = gettext("before the shift") if check.when == "before" else gettext("after the shift")
    what = gettext("on %(master)s, %(shift)s") % {"master": check.master.mark, "shift": shift}
    told = gettext("off by %(off)s, may be %(limit)s") % {"off": off, "limit": limit}
    entry = reverse("entry", args=[check.id])
    return CareRow(moment(check.at, zone), what, told, "" if check.within else "late", entry)


def _damage_row(damage: Damage, zone: str) -> CareRow:
    entry = reverse("entry", args=[damage.id])
    return CareRow(moment(damage.at, zone), gettext(damage.what), damage.note, "late", entry)


def use_row(use: Use, zone: str) -> UseRow:
    mounting, gear = use.row.mounting, use.gear
    return UseRow(
        at=moment(use.row.at, zone),
        mounting=mounting.number,
        href=reverse("mounting-trace", args=[mounting.id]),
        bearing=mounting.bearing.designation,
        place=place(mounting),
        step=step_name(use.row.step),
        state=gettext(mounting.state),
        due=_due(gear),
        in_date=not gear or gear.due is None or use.day <= gear.due,
        entry=reverse("entry", args=[use.row.entry]),
        calibration=gear.calibration if gear else "",
    )


def _due(gear: GearRecord | None) -> str:
    if gear is None:
        return ""
    return calendar_day(gear.due) if gear.due else gettext("none given")


HEAD = ("at", "mounting", "designation", "owner", "machine", "place", "step", "state", "entry")


def uses_csv(rows: Sequence[EquipmentUse] | Iterator[EquipmentUse]) -> Iterator[tuple[str, ...]]:
    """Every use, a row each, moments in UTC."""
    yield HEAD
    for row in rows:
        mounting = row.mounting
        machine = mounting.journal.machine
        yield (
            row.at.isoformat(), mounting.number, mounting.bearing.designation, machine.owner, machine.name,
            mounting.journal.position, row.step, mounting.state, str(row.entry),
        )  # fmt: skip
