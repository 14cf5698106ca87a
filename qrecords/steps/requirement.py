"""What drawing and order ask of one journal and its bearing: the limits a mounting is judged by."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any

from qrecords.engineering.bearings import bore_class, bore_limits
from qrecords.engineering.ceilings import KINDS
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.limits import limits_of_size
from qrecords.engineering.tables import BUILT_IN, Tables
from qrecords.engineering.units import parse_number
from qrecords.steps.designated import ADJUSTED, NO_TABLE
from qrecords.steps.errors import DocumentError

SEATS = ("ground", "turned")
PRECISE = ("5", "4", "2")
SMALL = ("1", "2")
MOST_UM = 2000
"""Further from nominal than this a limit is a slip."""
BOUNDS: Mapping[str, tuple[str, str, str]] = {
    "nominal_mm": ("1", "2000", "mm"),
    "outside_mm": ("2", "3000", "mm"),
    "width_mm": ("1", "1000", "mm"),
    "seat_width_mm": ("1", "2000", "mm"),
    "shaft_bore_mm": ("0", "1900", "mm"),
    "mass_kg": ("0.001", "5000", "kg"),
    "raceway_mm": ("1", "3000", "mm"),
    "stabilised_c": ("50", "500", "°C"),
}
"""Field → least, most, unit: what this program handles, no statement about bearings."""
TAKEN_FROM = ("table", "drawing", "measured")
"""Where a size or a mass may come from: no table here holds masses and raceways."""
BORE_SOURCE = "bore_source"
"""Where limits of the bore that are not those of its class are written."""
SHOWN = 40
"""So much of what was typed is given back in a sentence."""
FORMS: Mapping[str, str] = {"roundness": "roundness_um", "taper": "taper_um"}
"""Form → field of its own limit; `form_um` limits both where the drawing tells them no apart."""
GAP_UM = (10, 100)
"""Thinnest and thickest blade that a drawing may forbid at the shoulder (house rule)."""


@dataclass(frozen=True)
class Limits:
    """Limits of deviation from nominal in nanometres, and what they rest on."""

    lower_nm: int
    upper_nm: int
    source: str
    unconfirmed: tuple[str, ...] = ()


@dataclass(frozen=True)
class Requirement:
    """Sizes in mm as exact decimals; deviations in whole nanometres. `document` is what the entry holds."""

    nominal_mm: Decimal
    shaft_class: str
    journal: Limits
    drawing: str
    revision: str
    designation: str
    kinds: tuple[str, ...]
    clearance_kind: str
    clearance_group: str
    outside_mm: Decimal
    width_mm: Decimal
    size_source: str
    mass_kg: Decimal | None
    mass_from: str
    raceway_mm: Decimal | None
    raceway_from: str
    shaft_bore_mm: Decimal
    seat: str
    seat_width_mm: Decimal
    form_nm: int | None
    roundness_nm: int | None
    taper_nm: int | None
    gap_nm: int | None
    """The blade that must not enter at the shoulder, where the drawing names one."""
    critical: bool
    """The customer says of this place that nothing is conceded without his word."""
    interference_nm: tuple[int, int] | None
    clearance_min_nm: int | None
    stabilised_c: int | None
    bore: Limits
    bore_class: str
    document: Mapping[str, Any]

    @property
    def heated_as(self) -> tuple[str, ...]:
        """Its kinds with those that class and clearance group make it: the lowest ceiling of them wins. A
        group below the normal one clamps early, but not a ring that is heated alone."""
        precise = bore_class(self.bore_class) in PRECISE
        small = self.clearance_group in SMALL and "separable_inner_ring" not in self.kinds
        made = [kind for kind, so in (("precision", precise), ("small_clearance", small)) if so]
        return (*self.kinds, *(kind for kind in made if kind not in self.kinds))

    @property
    def no_feeler_fits(self) -> bool:
        """Ball and sealed bearings, whose clearance comes from the group; and where none is asked for."""
        closed = {"sealed", "greased"} & set(self.kinds)
        return bool(closed) or "ball" in self.clearance_kind or self.clearance_kind in (NO_TABLE, ADJUSTED)

    def form_limit_nm(self, form: str) -> int | None:
        """The drawing's radial limit of one form, *roundness* or *taper*; its common one else."""
        own = self.roundness_nm if form == "roundness" else self.taper_nm
        return self.form_nm if own is None else own

    @property
    def own_bore(self) -> bool:
        """Whether the limits of the bore are the bearing's own, and of no class."""
        return bool(self.document.get("bore_um"))

    @property
    def nominal_nm(self) -> int:
        return int(self.nominal_mm * 1_000_000)


def bounded(field: str, typed: object) -> Decimal:
    """The number of one field. DocumentError names what was typed, the unit and the range."""
    low, high, unit = BOUNDS[field]
    told, allowed = repr(str(typed)[:SHOWN]), f"{low}…{high} {unit}"
    try:
        value = parse_number(str(typed))
    except EngineeringError:
        raise DocumentError("requirement", field, f"{told} is not a number; allowed: {allowed}") from None
    if not Decimal(low) <= value <= Decimal(high):
        raise DocumentError("requirement", field, f"{told} {unit} is not possible; allowed: {allowed}")
    return value


def _decimal(document: Mapping[str, Any], field: str) -> Decimal:
    if field not in document:
        raise DocumentError("requirement", field, "is not given")
    return bounded(field, document[field])


def _um(field: str, value: Any) -> int:
    """Micrometres as the drawing writes them, in whole nanometres, once rounded half to even."""
    try:
        exact = Decimal(str(value).replace(",", "."))
    except InvalidOperation:
        exact = Decimal("NaN")
    if not exact.is_finite() or abs(exact) > MOST_UM:
        why = f"{str(value)[:SHOWN]!r} µm is not possible; allowed: −{MOST_UM}…{MOST_UM} µm"
        raise DocumentError("requirement", field, why)
    return round(exact * 1000)


def _pair(document: Mapping[str, Any], field: str) -> tuple[int, int] | None:
    """Two limits in µm, the lower first, where the document gives them."""
    given = document.get(field)
    if not given:
        return None
    if len(given) != 2:
        raise DocumentError("requirement", field, "is two numbers, lower and upper")
    lower, upper = (_um(field, value) for value in given)
    if lower >= upper:
        ends = f"the lower, {given[0]} µm, is not below the upper, {given[1]} µm"
        raise DocumentError("requirement", field, f"{ends}; allowed: −{MOST_UM}…{MOST_UM} µm")
    return lower, upper


def _one_um(document: Mapping[str, Any], field: str) -> int | None:
    """One figure in µm, where the document gives it."""
    given = document.get(field)
    return None if given in (None, "") else _um(field, given)


def _stable(document: Mapping[str, Any]) -> int | None:
    given = str(document.get("stabilised_c") or "")
    if given and not (given.isascii() and given.isdecimal() and len(given) <= SHOWN):
        why = f"{given[:SHOWN]!r} °C is no whole number; allowed: 50…500 °C"
        raise DocumentError("requirement", "stabilised_c", why)
    return int(given) if given else None


def _journal(document: Mapping[str, Any], nominal_mm: Decimal, tables: Tables) -> Limits:
    own = _pair(document, "limits_um")
    if own:
        return Limits(*own, f"drawing {document['drawing']} rev. {document['revision']}")
    found = limits_of_size(nominal_mm, str(document.get("shaft_class", "")), tables)
    return Limits(found.lower_nm, found.upper_nm, found.source, found.unconfirmed)


def _bore(document: Mapping[str, Any], nominal_mm: Decimal, tables: Tables) -> Limits:
    """Limits of the bore: of its class, or off the bearing's own sheet (tapered roller bearings have another
    table)."""
    own = _pair(document, "bore_um")
    if own:
        return Limits(*own, str(document.get(BORE_SOURCE) or "").strip())
    found = bore_limits(nominal_mm, str(document.get("bore_class", "Normal")), tables)
    return Limits(found.lower_nm, found.upper_nm, found.source, found.unconfirmed)


def said_from(origin: str) -> str:
    """How the working of a result says where a number came from."""
    return {"drawing": "from the drawing", "measured": "measured"}.get(origin, "")


def _raceway(document: Mapping[str, Any], bore_mm: Decimal, outside_mm: Decimal) -> Decimal | None:
    """Diameter on which the rolling elements run on the inner ring, where drawing or gauge tell it. It lies
    inside the mean diameter, around which the elements stand."""
    if not document.get("raceway_mm"):
        return None
    raceway = _decimal(document, "raceway_mm")
    mean_mm = (bore_mm + outside_mm) / 2
    if not bore_mm < raceway < mean_mm:
        why = f"{raceway} mm is not possible; allowed: above d {bore_mm}, below (d + D)/2 = {mean_mm} mm"
        raise DocumentError("requirement", "raceway_mm", why)
    return raceway


def _one_of(document: Mapping[str, Any], field: str, allowed: tuple[str, ...], default: str) -> str:
    value = str(document.get(field, default))
    if value not in allowed:
        raise DocumentError("requirement", field, f"{value!r} is not one of {', '.join(allowed)}")
    return value


def _kinds(document: Mapping[str, Any]) -> tuple[str, ...]:
    kinds = tuple(document.get("kinds", ()))
    for kind in kinds:
        if kind not in KINDS:
            raise DocumentError("requirement", "kinds", f"{kind!r} is not one of {', '.join(KINDS)}")
    return kinds


def read_requirement(document: Mapping[str, Any], tables: Tables = BUILT_IN) -> Requirement:
    """The requirement from its document, its limits from these tables; DocumentError names the field,
    engineering errors pass through."""
    nominal = _decimal(document, "nominal_mm")
    outside = _decimal(document, "outside_mm")
    if outside <= nominal:
        most = BOUNDS["outside_mm"][1]
        why = (
            f"{outside} mm is not larger than the bore of {nominal} mm; allowed: above that, up to {most} mm"
        )
        raise DocumentError("requirement", "outside_mm", why)
    shaft_bore = _decimal({"shaft_bore_mm": "0"} | dict(document), "shaft_bore_mm")
    if shaft_bore >= nominal:
        why = f"{shaft_bore} mm is not smaller than the seat of {nominal} mm; allowed: from 0 to below that"
        raise DocumentError("requirement", "shaft_bore_mm", why)
    for field in ("drawing", "revision", "designation"):
        if not str(document.get(field, "")).strip():
            raise DocumentError("requirement", field, "is not given")
    try:
        bore = _bore(document, nominal, tables)
        journal = _journal(document, nominal, tables)
    except EngineeringError as error:
        raise DocumentError("requirement", "shaft_class", str(error)) from error
    form = document.get("form_um")
    width = _decimal(document, "width_mm")
    return Requirement(
        nominal_mm=nominal,
        shaft_class=str(document.get("shaft_class", "")),
        journal=journal,
        drawing=document["drawing"],
        revision=document["revision"],
        designation=document["designation"],
        kinds=_kinds(document),
        clearance_kind=str(document.get("clearance_kind", "deep_groove_ball_cyl_bore")),
        clearance_group=str(document.get("clearance_group", "N")),
        outside_mm=outside,
        width_mm=width,
        size_source=str(document.get("size_source", "drawing")),
        mass_kg=_decimal(document, "mass_kg") if document.get("mass_kg") else None,
        mass_from=str(document.get("mass_from", "")),
        raceway_mm=_raceway(document, nominal, outside),
        raceway_from=str(document.get("raceway_from", "")),
        shaft_bore_mm=shaft_bore,
        seat=_one_of(document, "seat", SEATS, "ground"),
        seat_width_mm=_decimal({"seat_width_mm": width} | dict(document), "seat_width_mm"),
        form_nm=_um("form_um", form) if form else None,
        roundness_nm=_one_um(document, "roundness_um"),
        taper_nm=_one_um(document, "taper_um"),
        gap_nm=_one_um(document, "gap_um"),
        critical=_one_of(document, "critical", ("yes", "no"), "no") == "yes",
        interference_nm=_pair(document, "interference_um"),
        clearance_min_nm=_one_um(document, "clearance_min_um"),
        stabilised_c=_stable(document),
        bore=bore,
        bore_class=str(document.get("bore_class", "Normal")),
        document=dict(document),
    )
