"""A gauge, meter or heater: its calibrations, and every capture that used it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext

from qrecords.mountings.models import EquipmentUse
from qrecords.steps.gear import GearRecord, read_gear
from qrecords.tracing.equipment import Use
from qrecords.web.auditor.saying import step_name
from qrecords.web.auditor.sheet import place
from qrecords.web.auditor.standing import expanded_u, in_unit
from qrecords.web.moments import calendar_day, moment
from qrecords.workshop.models import Equipment, EquipmentVersion


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
    return VersionRow(
        valid_from=moment(version.valid_from, zone),
        status=gettext(gear.status),
        due=calendar_day(gear.due) if gear.due else "",
        expanded_u=expanded_u(gear),
        resolution=in_unit(gear.resolution, gear.kind) if gear.resolution else "",
        certificate=gear.certificate,
        as_found=str(document.get("as_found", "")),
        as_left=str(document.get("as_left", "")),
        note=str(document.get("note", "")),
        blades=" · ".join(in_unit(blade, gear.kind) for blade in sorted(gear.blades_nm)),
        entry=reverse("entry", args=[version.id]),
    )


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
