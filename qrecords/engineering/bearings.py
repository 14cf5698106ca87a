"""What a bearing's designation and bore say: ISO 492, ISO 5753-1 and ISO 15 rows."""

import math
from decimal import Decimal
from typing import NamedTuple

from .designation import Designation
from .errors import DesignationError, OutsideValidityError, UnknownClassError
from .limits import Limits, Size, size_mm
from .tables import BUILT_IN, Row, Tables
from .validity import straight_bore

# Classes as DIN 620 writes them, beside the words of ISO 492.
_CLASS_NAMES = {"0": "Normal", "P0": "Normal", "NORMAL": "Normal", "P6": "6", "P5": "5", "P4": "4", "P2": "2"}
RADIAL = "ISO 492 radial bearings"
BOUNDARY_DIMENSIONS = "boundary_dimensions"


def bore_class(text: str) -> str:
    """The class of ISO 492 in its own word, whichever way it is written: Normal, 6, 5, 4 or 2."""
    return _CLASS_NAMES.get(text.strip().upper(), text.strip())


def bore_limits(bore_mm: Size, tolerance_class: str = "Normal", tables: Tables = BUILT_IN) -> Limits:
    """Limits of the mean bore deviation of a radial bearing: class Normal, 6, 5, 4 or 2 (or P0, P6 … P2).

    Tapered roller bearings and taper bores have other tables: ask `bore_limits_of` with the designation.
    Raises OutOfRangeError, UnknownClassError. Source: ISO 492:2014, table 2 and following.
    """
    return _mean_limits("bearing_bore_tolerance", "bearing bore", bore_mm, tolerance_class, tables)


def outside_limits(outside_mm: Size, tolerance_class: str = "Normal", tables: Tables = BUILT_IN) -> Limits:
    """Limits of the mean outside diameter deviation of a radial bearing. Source: ISO 492:2014, table 3."""
    return _mean_limits("bearing_od_tolerance", "outside diameter", outside_mm, tolerance_class, tables)


def bore_limits_of(
    designation: Designation, tolerance_class: str = "Normal", tables: Tables = BUILT_IN
) -> Limits:
    """Bore limits of a designation; OutsideValidityError where ISO 492's table for radial bearings ends."""
    if designation.bore_mm is None:
        raise DesignationError(designation.text, "bore does not follow from the designation")
    if designation.kind == "tapered roller":
        raise OutsideValidityError(RADIAL, "tapered roller bearings have a table of their own")
    straight_bore(RADIAL, designation)
    return bore_limits(designation.bore_mm, tolerance_class, tables)


class InternalClearance(NamedTuple):
    """Radial internal clearance of a group in µm, before mounting."""

    kind: str
    bore_mm: Decimal
    group: str
    min_um: float
    max_um: float
    row: Row

    @property
    def source(self) -> str:
        """Standard and edition."""
        return self.row.cited

    @property
    def unconfirmed(self) -> tuple[str, ...]:
        """What is told of the row while nobody has confirmed it, or where it is of the site's own copy."""
        return self.row.told


def internal_clearance(kind: str, bore_mm: Size, group: str, tables: Tables = BUILT_IN) -> InternalClearance:
    """Clearance limits of a group (C2, CN, C3 … or 2, N, 3 …) for a kind of bearing with a cylindrical bore.

    Kinds: deep groove ball, self-aligning ball, cylindrical roller, spherical roller; with ` tapered bore`
    appended the two that have such a table. Raises UnknownClassError where the group is not in the
    table at this bore, OutsideValidityError where no group is. Source: ISO 5753-1:2009; every built-in row
    is from memory and says so.
    """
    bore = size_mm("bearing bore", bore_mm)
    name = kind.replace("_", " ").replace("-", " ").lower().strip().replace("self aligning", "self_aligning")
    table_kind = name.replace(" ", "_").removesuffix("_bore").removesuffix("_cyl")
    table_kind = f"{table_kind}_bore" if table_kind.endswith("_tapered") else f"{table_kind}_cyl_bore"
    short = group.strip().upper().removeprefix("C")
    row = tables.row("radial_internal_clearance", (table_kind, short), bore)
    if row is None:
        groups = [
            f"C{key[1]}"
            for key in tables.keys("radial_internal_clearance")
            if key[0] == table_kind and tables.row("radial_internal_clearance", key, bore)
        ]
        if not groups:
            raise OutsideValidityError("ISO 5753-1", f"no clearance row for {kind} at {bore} mm")
        raise UnknownClassError(group, bore_mm, groups)
    low, high = (float(value) for value in row.values)
    return InternalClearance(kind, bore, f"C{short}", low, high, row)


class Boundary(NamedTuple):
    """Boundary dimensions in mm; `chamfer_mm` is the smallest single chamfer, None where unknown."""

    designation: str
    bore_mm: float
    outside_mm: float
    width_mm: float
    chamfer_mm: float | None
    source: str
    unconfirmed: tuple[str, ...]


# DIN 616: the width and diameter series behind a bearing series, by their ISO 15 table row (from memory).
_SAME_DIMENSIONS = {
    **{series: series for series in ("60", "62", "63", "64")},
    "70": "60", "72": "62", "73": "63", "12": "62", "13": "63", "QJ2": "62", "QJ3": "63",
    **{f"{ring}{n}": f"6{n}" for ring in ("N", "NU", "NJ", "NUP", "NF") for n in ("2", "3", "4")},
    **{f"{ring}10": "60" for ring in ("N", "NU", "NJ", "NUP", "NF")},
}  # fmt: skip


def boundary_dimensions(designation: Designation, tables: Tables = BUILT_IN) -> Boundary:
    """Bore, outside diameter and width of a basic designation.

    Raises DesignationError where no row is held: then D and B come from the drawing or are measured. A row
    does not mean that such a bearing is made. Source: ISO 15:2011; bearing series by DIN 623-1 and DIN 616.
    """
    series = _SAME_DIMENSIONS.get(designation.series)
    rows = tables.all_of(BOUNDARY_DIMENSIONS, (series, designation.bore_code)) if series else ()
    if not rows:
        raise DesignationError(designation.text, "no boundary dimensions held for this series and bore")
    row = rows[0]
    bore, outside, width, chamfer = (float(value) for value in row.values)
    doubts = list(row.told)
    if series != designation.series:
        doubts.append(f"series {designation.series} has the dimensions of {series} (DIN 616, from memory)")
    known_chamfer = None if math.isnan(chamfer) else chamfer
    return Boundary(designation.basic, bore, outside, width, known_chamfer, row.cited, tuple(doubts))


def _mean_limits(table: str, field: str, size: Size, tolerance_class: str, tables: Tables) -> Limits:
    biggest = max(row.upto_mm for key in tables.keys(table) for row in tables.all_of(table, key))
    nominal = size_mm(field, size, biggest)
    name = bore_class(tolerance_class)
    row = tables.row(table, (name,), nominal)
    if row is None:
        there = [key[0] for key in tables.keys(table) if tables.row(table, key, nominal)]
        raise UnknownClassError(tolerance_class, size, there)
    lower, upper = row.values
    return Limits(nominal, name, int(lower * 1000), int(upper * 1000), (row,))
