"""A new drawing against its own designation: what DIN 623-1 and ISO codes say by themselves is contradicted
only with a named source. Marks of the makers are never interpreted."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from qrecords.engineering.bearings import bore_class, bore_limits_of, boundary_dimensions
from qrecords.engineering.designation import Designation, parse_designation
from qrecords.engineering.errors import EngineeringError, OutsideValidityError
from qrecords.engineering.tables import Tables
from qrecords.engineering.validity import straight_bore
from qrecords.steps.errors import DocumentError

CLEARANCE_KINDS: Mapping[str, str] = {
    "deep groove ball": "deep_groove_ball_cyl_bore",
    "self-aligning ball": "self_aligning_ball_cyl_bore",
    "cylindrical roller": "cylindrical_roller_cyl_bore",
    "spherical roller": "spherical_roller_cyl_bore",
}
"""Kinds of DIN 623-1 whose clearance groups ISO 5753-1 has in its tables here."""
NO_TABLE = "none"
ADJUSTED = "adjusted"
"""No clearance of its own: end play or preload is set at mounting (tapered roller, angular contact)."""
GROUPS = ("2", "N", "3", "4", "5")
SOURCES: Mapping[str, str] = {
    "nominal_mm": "nominal_source",
    "outside_mm": "outside_source",
    "width_mm": "width_source",
    "clearance_kind": "kind_source",
    "clearance_group": "group_source",
    "bore_class": "class_source",
    "stabilised_c": "stabilised_source",
    "seat_width_mm": "seat_width_source",
    "mass_kg": "mass_source",
    "limits_um": "limits_source",
    "bore_um": "bore_source",
    "interference_um": "interference_source",
    "form_um": "form_source",
    "roundness_um": "roundness_source",
    "taper_um": "taper_source",
}
"""Field of the requirement → field that says where it is written, if it is not what the designation says or
the other sizes let expect."""

DRAWN_AS: Mapping[str, str] = {"nominal_mm": "d", "outside_mm": "D", "width_mm": "B"}


@dataclass(frozen=True)
class Differs:
    """A field that says something else than the designation."""

    field: str
    here: str
    designated: str


def one_of_the_tables(document: Mapping[str, Any]) -> None:
    """DocumentError for a clearance table or group that does not exist, naming those that do."""
    group = _group(document)
    if group not in GROUPS:
        why = f"{document['clearance_group']!r} is not one of {', '.join(GROUPS)}"
        raise DocumentError("requirement", "clearance_group", why)
    kinds = (*CLEARANCE_KINDS.values(), NO_TABLE, ADJUSTED)
    kind = str(document.get("clearance_kind", kinds[0]))
    if kind not in kinds:
        raise DocumentError("requirement", "clearance_kind", f"{kind!r} is not one of {', '.join(kinds)}")


def as_designated(document: Mapping[str, Any], tables: Tables) -> None:
    """DocumentError for the first field that contradicts the designation without its source, and for a
    bearing whose bore the tables of radial bearings do not judge."""
    for error in against_designation(document, tables):
        raise error


def against_designation(document: Mapping[str, Any], tables: Tables) -> Iterator[DocumentError]:
    """Every such error, in the order of the fields."""
    text = str(document["designation"])
    try:
        said = parse_designation(text)
    except EngineeringError:
        return  # it says nothing here
    try:
        if document.get("bore_um"):
            straight_bore("mounting by heat", said)
        else:
            bore_limits_of(said, str(document.get("bore_class", "Normal")), tables)
    except OutsideValidityError as error:
        yield DocumentError("requirement", "designation", str(error))
    except EngineeringError:
        pass  # another size or class: told of its own field
    for found in _differing(document, said, tables):
        if not str(document.get(SOURCES[found.field]) or "").strip():
            why = f"{text} says {found.designated}, not {found.here}; or say where that is written"
            yield DocumentError("requirement", found.field, why)


def _differing(document: Mapping[str, Any], said: Designation, tables: Tables) -> Iterator[Differs]:
    if said.bore_mm is not None:
        yield from _size(document, "nominal_mm", said.bore_mm)
    try:
        boundary = boundary_dimensions(said, tables)
    except EngineeringError:
        boundary = None
    if boundary is not None:
        yield from _size(document, "outside_mm", Decimal(str(boundary.outside_mm)))
        yield from _size(document, "width_mm", Decimal(str(boundary.width_mm)))
    kind = str(document.get("clearance_kind", CLEARANCE_KINDS["deep groove ball"]))
    table = CLEARANCE_KINDS.get(said.kind, NO_TABLE)
    if kind not in (table, NO_TABLE) and not (kind == ADJUSTED and table == NO_TABLE):
        yield Differs("clearance_kind", kind, table)
    # A maker's mark may hide a group or a class that the rest of the designation does not state.
    whole = not said.asked_for
    group = said.clearance_group.removeprefix("C")
    if (said.clearance_stated or whole) and kind not in (NO_TABLE, ADJUSTED) and _group(document) != group:
        yield Differs("clearance_group", _group(document), group)
    of_class, here = bore_class(said.tolerance_class), bore_class(str(document.get("bore_class", "Normal")))
    if (of_class != bore_class("P0") or whole) and here != of_class:
        yield Differs("bore_class", here, of_class)
    stable = str(document.get("stabilised_c") or "")
    if said.stable_up_to_c and stable and int(stable) != said.stable_up_to_c:
        yield Differs("stabilised_c", f"{stable} °C", f"{said.stable_up_to_c} °C")


def _size(document: Mapping[str, Any], field: str, designated: Decimal) -> Iterator[Differs]:
    here = Decimal(str(document[field]).replace(",", "."))
    if here != designated:
        yield Differs(field, f"{here}", f"{DRAWN_AS[field]} {designated.normalize():f} mm")


def _group(document: Mapping[str, Any]) -> str:
    return str(document.get("clearance_group", "N")).strip().upper().removeprefix("C")
