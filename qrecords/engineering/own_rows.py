"""Rows of a site's own copy of a standard: how one is written down, and what it must hold to be laid over.

A row is said as a document of texts: `table`, `key`, `over_mm`, `upto_mm`, `values` in the unit of the table,
`standard`, `edition`, and where it was read: `place` (table or page) and `copy` (number of the copy, or how
it was bought). What a table's key and values mean stands in `SHAPES`; `read_row` refuses what the readers of
a table would not understand. Whether it goes with the rows around it, `row_fits` says.
"""

import re
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any, NamedTuple

from .designation import parse_designation
from .errors import EngineeringError, TableRowError
from .limits import BIGGEST_MM, GRADES
from .tables import Row
from .units import parse_number

UM, MM = "µm", "mm"
FINEST_UM, MOST_UM = Decimal("0.1"), 50_000
LONGEST_STANDARD, LONGEST_PLACE = 40, 80
_LETTERS = "a b c cd d e ef f fg g h j js k m n p r s t u v x y z za zb zc"
LETTERS = (tuple(_LETTERS.split(" ")), tuple(_LETTERS.upper().split(" ")))
"""ISO 286-1:2010, the letters of shafts and of holes."""
_COLUMN = (
    r"all|[0-9]{1,2} \(special, overrides\)|"
    r"(?:[0-9]|1[0-8])(?:-(?:[0-9]|1[0-8]))?|(?:<=|>=)[0-9]{1,2}(?: and >=[0-9]{1,2})?"
)
CLASSES = ("Normal", "6", "5", "4", "2")
CLEARANCES = ("2", "N", "3", "4", "5")
SIGNED = (-MOST_UM, MOST_UM)


class Shape(NamedTuple):
    """What one table holds: the parts of its key with what each may be, its values, their ends and unit."""

    key: tuple[tuple[str, Sequence[str] | re.Pattern[str]], ...]
    values: tuple[str, ...]
    ends: tuple[int, int] = SIGNED
    unit: str = UM

    @property
    def allowed(self) -> str:
        """The ends in words, as an error gives them."""
        low, high = (f"{end}".replace("-", "−") for end in self.ends)
        return f"{low}…{high} {self.unit}, in steps of {FINEST_UM} {self.unit}"


def _deviations(letters: Sequence[str], kinds: Sequence[str], *values: str) -> Shape:
    column = re.compile(_COLUMN)
    return Shape((("letter", letters), ("grades", column), ("kind", kinds)), values)


SAID: Mapping[str, str] = {
    "grades": "all, 5, 5-6, <=7, >=8 or <=3 and >=8",
    "kind": "the kind of bearing in letters and _, as deep_groove_ball_cyl_bore",
    "series": "two digits, as 62",
    "bore code": "two digits, or / and the bore in mm, as /22",
}
"""What a part of a key may be, where that is no list."""
_KIND = re.compile(r"[a-z_]{4,48}")
_CODE = re.compile(r"[0-9]{2}|/[0-9]{1,3}(?:\.[0-9])?")
SHAPES: Mapping[str, Shape] = {
    "it_grades": Shape((("grade", GRADES),), ("tolerance",), (0, MOST_UM)),
    "hole_delta": Shape((("grade", GRADES[4:10]),), ("delta",), (0, MOST_UM)),
    "shaft_fundamental_deviations": _deviations(LETTERS[0], ("es", "ei", "sym"), "deviation"),
    "hole_fundamental_deviations": _deviations(LETTERS[1], ("ES", "EI", "sym"), "deviation", "add_delta"),
    "bearing_bore_tolerance": Shape((("class", CLASSES),), ("lower", "upper")),
    "bearing_od_tolerance": Shape((("class", CLASSES),), ("lower", "upper")),
    "radial_internal_clearance": Shape(
        (("kind", _KIND), ("group", CLEARANCES)), ("least", "most"), (0, MOST_UM)
    ),
    "boundary_dimensions": Shape(
        (("series", re.compile(r"[0-9]{2}")), ("bore code", _CODE)),
        ("bore", "outside", "width", "chamfer"),
        (0, 3150),
        MM,
    ),
}
"""Table → its shape. The chamfer of `boundary_dimensions` may be empty: unknown."""


def read_row(document: Mapping[str, Any], *, confirmed: bool = True) -> Row:
    """The row of a document; TableRowError names field, value, unit and what is allowed."""
    table = _text(document, "table")
    if table not in SHAPES:
        raise TableRowError("table", table, "", ", ".join(SHAPES))
    shape = SHAPES[table]
    over, upto = (_size(document, name) for name in ("over_mm", "upto_mm"))
    key = _key(document, shape)
    row = Row(
        table=table,
        key=key,
        over_mm=over,
        upto_mm=upto,
        values=_values(document, shape),
        standard=_named(document, "standard", r"[^:;]+", "its name without the edition, as ISO 5753-1"),
        edition=_named(document, "edition", r"(19|20)\d\d(-\d\d)?", "its year, as 2009"),
        confirmed=confirmed,
        sources=_place(document),
    )
    _whole(row, shape)
    return row


def document_of(row: Row) -> dict[str, Any]:
    """The row as a document that `read_row` reads back, but for who approved it."""
    place, _, copy = row.sources.partition("; ")
    return {
        "table": row.table,
        "key": list(row.key),
        "over_mm": f"{row.over_mm:f}",
        "upto_mm": f"{row.upto_mm:f}",
        "values": ["" if value.is_nan() else f"{value:f}" for value in row.values],
        "standard": row.standard,
        "edition": row.edition,
        "place": place,
        "copy": copy,
    }


def _text(document: Mapping[str, Any], field: str) -> str:
    return str(document.get(field, "")).strip()


def _named(document: Mapping[str, Any], field: str, form: str, allowed: str) -> str:
    text = _text(document, field)
    if len(text) > LONGEST_STANDARD or not text.isprintable() or not re.fullmatch(form, text):
        raise TableRowError(field, text, "", allowed)
    return text


def _place(document: Mapping[str, Any]) -> str:
    """Where in which copy: the one line that findings and certificates print."""
    found = []
    for field in ("place", "copy"):
        text = _text(document, field)
        if not text or len(text) > LONGEST_PLACE or not text.isprintable() or ";" in text:
            raise TableRowError(field, text, "", f"1 to {LONGEST_PLACE} characters in one line, no semicolon")
        found.append(text)
    return "; ".join(found)


def _number(field: str, text: str, unit: str, allowed: str) -> Decimal:
    try:
        return parse_number(text)
    except EngineeringError:
        raise TableRowError(field, text, unit, allowed) from None


def _size(document: Mapping[str, Any], field: str) -> Decimal:
    allowed = f"0…{BIGGEST_MM} mm"
    size = _number(field, _text(document, field), MM, allowed)
    if not 0 <= size <= BIGGEST_MM:
        raise TableRowError(field, f"{size:f}", MM, allowed)
    return size


def _key(document: Mapping[str, Any], shape: Shape) -> tuple[str, ...]:
    given = document.get("key", ())
    key = tuple(str(part) for part in given) if isinstance(given, list | tuple) else ()
    names = [name for name, _ in shape.key]
    if len(key) != len(names):
        raise TableRowError("key", " ".join(key), "", f"{len(names)} parts: {', '.join(names)}")
    for part, (name, may) in zip(key, shape.key, strict=True):
        known = bool(may.fullmatch(part)) if isinstance(may, re.Pattern) else part in may
        if not known:
            allowed = SAID[name] if isinstance(may, re.Pattern) else ", ".join(may)
            raise TableRowError(name, part, "", allowed)
    return key


def _values(document: Mapping[str, Any], shape: Shape) -> tuple[Decimal, ...]:
    given = document.get("values", ())
    texts = [str(text).strip() for text in given] if isinstance(given, list | tuple) else []
    if len(texts) != len(shape.values):
        raise TableRowError("values", ", ".join(texts), shape.unit, ", ".join(shape.values))
    return tuple(_value(name, text, shape) for name, text in zip(shape.values, texts, strict=True))


def _value(name: str, text: str, shape: Shape) -> Decimal:
    if name == "chamfer" and text in ("", "NaN"):
        return Decimal("NaN")
    if name == "add_delta":
        if text not in ("0", "1"):
            raise TableRowError(name, text, "", "1 where the Δ of the grade is added, else 0")
        return Decimal(text)
    value = _number(name, text, shape.unit, shape.allowed)
    low, high = shape.ends
    if not low <= value <= high or value % FINEST_UM:
        raise TableRowError(name, f"{value:f}", shape.unit, shape.allowed)
    return value


def _whole(row: Row, shape: Shape) -> None:
    """The parts of one row against each other."""
    if row.table == "boundary_dimensions":
        _boundary(row)
        return
    if row.over_mm >= row.upto_mm:
        raise TableRowError("upto_mm", f"{row.upto_mm:f}", MM, f"above {row.over_mm:f} mm, where it begins")
    if len(shape.values) == 2 and "add_delta" not in shape.values and row.values[0] >= row.values[1]:
        allowed = f"above the {shape.values[0]}, {row.values[0]:f} {shape.unit}"
        raise TableRowError(shape.values[1], f"{row.values[1]:f}", shape.unit, allowed)
    if row.table == "it_grades" and not row.values[0]:
        raise TableRowError("tolerance", "0", shape.unit, f"above 0 {shape.unit}")


def _boundary(row: Row) -> None:
    """One bearing has one bore, which its code tells; what lies around it is larger."""
    bore, outside, width, chamfer = row.values
    name = "".join(row.key)
    try:
        coded = parse_designation(name).bore_mm
    except EngineeringError as error:
        raise TableRowError("bore code", row.key[1], "", str(error)) from None
    told = {"over_mm": row.over_mm, "upto_mm": row.upto_mm, "bore": bore}
    for field, size in told.items():
        if size != coded:
            raise TableRowError(field, f"{size:f}", MM, f"{coded} mm, the bore of {name}")
    if outside <= bore:
        raise TableRowError("outside", f"{outside:f}", MM, f"above the bore, {bore:f} mm")
    if width <= 0:
        raise TableRowError("width", f"{width:f}", MM, "above 0 mm")
    if not chamfer.is_nan() and not 0 < chamfer < (outside - bore) / 2:
        raise TableRowError("chamfer", f"{chamfer:f}", MM, f"above 0, below {(outside - bore) / 2:f} mm")
