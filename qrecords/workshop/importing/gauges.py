"""Gauges, masters, meters, feeler sets and heaters with their first version, by their mark."""

import uuid
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime, time
from typing import Any

from qrecords.engineering import units
from qrecords.people.acting import Acting
from qrecords.people.bounds import zone_of
from qrecords.steps.gear import HEATER_KINDS, IN_USE, KINDS, STATUSES
from qrecords.steps.new_gear import BLADES_NM, FIGURES, POWER_W, SCALES, SIZES_NM, SOURCE, gear_faults
from qrecords.workshop.actions import register_equipment
from qrecords.workshop.importing.cells import Cells
from qrecords.workshop.importing.fates import Fate, Row, What, Wrong, compared, refused
from qrecords.workshop.models import Equipment, EquipmentVersion, Site

WORDS = (("certificate", 80), (SOURCE, 120), ("note", 400))
COLUMNS = (
    "mark", "kind", "status", "due", "certificate", *FIGURES, "resolution_in_u", "measures_from",
    "measures_up_to", "blades", "heater_kind", "power", SOURCE, "note", "valid_from",
)  # fmt: skip
REQUIRED = ("mark", "kind")
AT = {"blades_nm": "blades", "range_nm": "measures_up_to", "power_w": "power"}
"""Field of the document → column, where they differ."""
NewId = Callable[[str], uuid.UUID]


def plan(rows: Sequence[Row], site: uuid.UUID) -> list[Fate]:
    """Three queries, however many rows."""
    zone = Site.objects.filter(id=site).values_list("zone", flat=True).first() or "UTC"
    read = [_read(row, zone) for row in rows]
    marks = {fate.values["mark"] for fate in read if fate.values}
    pieces = {piece.mark: piece for piece in Equipment.objects.filter(site=site, mark__in=marks)}
    versions = EquipmentVersion.objects.filter(equipment__in=[p.id for p in pieces.values()])
    newest = {version.equipment_id: version for version in versions.order_by("valid_from", "id")}
    seen: dict[str, int] = {}
    fates = []
    for fate in read:
        mark = fate.values.get("mark", "")
        first = seen.setdefault(mark, fate.row.line) if mark else fate.row.line
        if fate.wrong:
            fates.append(fate)
        elif first != fate.row.line:
            fates.append(fate.become(What.DUPLICATE, first=first))
        elif mark in pieces:
            fates.append(_beside(fate, pieces[mark], newest.get(pieces[mark].id)))
        else:
            fates.append(fate)
    return fates


def _read(row: Row, zone: str) -> Fate:
    cells = Cells(row)
    mark, kind = cells.text("mark", 30), cells.one_of("kind", KINDS)
    if cells.wrong:
        return refused(row, cells.wrong)
    document = _document(cells, kind)
    valid_from = cells.day("valid_from")
    wrong = list(cells.wrong)
    named = {each.field for each in wrong}
    for fault in gear_faults(kind, document):
        column = AT.get(fault.field, fault.field)
        if column not in named:
            wrong.append(Wrong(column, row.cell(column)[:60], fault.why.replace("_", " ")))
    if wrong:
        return refused(row, wrong)
    start = datetime.combine(valid_from, time(), zone_of(zone)).astimezone(UTC) if valid_from else None
    return Fate(row, What.NEW, values={"mark": mark, "kind": kind, "document": document, "valid_from": start})


def _document(cells: Cells, kind: str) -> dict[str, Any]:
    """As `steps.gear` keeps it; a cell that is empty says nothing."""
    scale = SCALES[kind]
    document: dict[str, Any] = {"status": cells.one_of("status", STATUSES, IN_USE)}
    if due := cells.day("due"):
        document["due"] = due.isoformat()
    for name in FIGURES:
        base = cells.quantity(name, scale.quantity, scale.unit, 0, scale.most)
        if base is not None:
            document[name] = base
    if cells.yes("resolution_in_u"):
        document["resolution_in_u"] = True
    for name, longest in WORDS:
        if text := cells.text(name, longest, optional=True):
            document[name] = text
    ends = [cells.quantity(name, "length", "mm", *SIZES_NM) for name in ("measures_from", "measures_up_to")]
    if all(end is not None for end in ends):
        document["range_nm"] = ends
    elif any(end is not None for end in ends):
        cells.fail("measures_up_to", "both ends of the range, 0…2000 mm, or neither", "mm")
    if blades := cells.quantities("blades", "length", "mm", *BLADES_NM):
        document["blades_nm"] = blades
    if heater := cells.one_of("heater_kind", HEATER_KINDS, ""):
        document["heater_kind"] = heater
    if power := cells.whole("power", *POWER_W, "W"):
        document["power_w"] = power
    return document


def _beside(fate: Fate, piece: Equipment, version: EquipmentVersion | None) -> Fate:
    """Against the version that stands, in the units of the sheet."""
    document, here = fate.values["document"], version.document if version else {}
    pairs = {"kind": (piece.kind, fate.values["kind"])}
    for name, value in document.items():
        pairs[AT.get(name, name)] = (_said(piece.kind, name, here.get(name)), _said(piece.kind, name, value))
    if not fate.row.cell("status"):
        del pairs["status"]
    return compared(fate.row, pairs, fate.values)


def _said(kind: str, name: str, value: Any) -> str:
    """A value of the document as the sheet has it."""
    if value is None or value == "":
        return ""
    if name in FIGURES:
        return units.show(int(value), SCALES[kind].quantity, SCALES[kind].unit)
    if isinstance(value, list):
        return " ".join(units.show(int(each), "length", "mm") for each in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def write(acting: Acting, site: uuid.UUID, values: Mapping[str, Any], new_id: NewId) -> bool:
    """The piece with its first version, unless it came meanwhile."""
    if Equipment.objects.filter(site=site, mark=values["mark"]).exists():
        return False
    register_equipment(
        acting=acting,
        site=site,
        equipment_id=new_id("equipment"),
        version_id=new_id("first calibration"),
        kind=values["kind"],
        mark=values["mark"],
        document=values["document"],
        valid_from=values["valid_from"],
    )
    return True
