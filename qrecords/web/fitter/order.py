"""Opening a mounting: the form of the order, what ISO 15 and ISO 286 know of it, and the one call."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.engineering.bearings import Boundary, boundary_dimensions
from qrecords.engineering.designation import Designation, parse_designation
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.tables import Tables
from qrecords.engineering.units import parse_number
from qrecords.mountings.actions.opening import Order
from qrecords.mountings.models import Mounting
from qrecords.steps.designated import ADJUSTED, CLEARANCE_KINDS, SOURCES
from qrecords.steps.errors import DocumentError
from qrecords.steps.requirement import BOUNDS, MOST_UM, SHOWN, bounded
from qrecords.web.doubts import told
from qrecords.web.fitter.sent import GIVEN_BACK
from qrecords.workshop.models import Machine
from qrecords.workshop.queries import requirement_at

KINDS = ("sealed", "greased", "polyamide_cage", "small_clearance", "preloaded", "precision")
DOCUMENT_FIELDS = {
    "nominal_mm": "nominal",
    "shaft_class": "shaft_class",
    "drawing": "drawing",
    "revision": "revision",
    "outside_mm": "outside",
    "width_mm": "width",
    "shaft_bore_mm": "shaft_bore",
    "seat_width_mm": "seat_width",
    "designation": "designation",
    "kinds": "kinds",
    "seat": "seat",
    "mass_kg": "mass",
    "mass_from": "mass_from",
    "raceway_mm": "raceway",
    "raceway_from": "raceway_from",
    "stabilised_c": "stabilised",
    "limits_um": "limit_upper",
    "bore_um": "bore_upper",
    "interference_um": "interference_least",
    "form_um": "form",
    "roundness_um": "roundness",
    "taper_um": "taper",
    "gap_um": "gap",
    "critical": "critical",
}
"""Field of the requirement document → input of the form."""


@dataclass(frozen=True)
class Form:
    """The order as typed, with what is asked back by input name and what the tables know."""

    typed: Mapping[str, str] = field(default_factory=dict)
    kinds: tuple[str, ...] = ()
    asks: Mapping[str, str] = field(default_factory=dict)
    found: "Found | None" = None

    def value(self, name: str) -> str:
        return self.typed.get(name, "")


@dataclass(frozen=True)
class Found:
    """What a designation says by itself, with its sources."""

    designation: Designation
    boundary: Boundary | None

    @property
    def line(self) -> str:
        if self.boundary is None:
            return gettext("D and B are not held for {name}: take them from the drawing or measure.").format(
                name=self.designation.basic
            )
        unsure = "".join(f"; {said}" for said in told(self.boundary.unconfirmed))
        return gettext("{name}: d {d}, D {outside}, B {width} mm, {source}{unsure}").format(
            name=self.boundary.designation,
            d=f"{self.boundary.bore_mm:g}",
            outside=f"{self.boundary.outside_mm:g}",
            width=f"{self.boundary.width_mm:g}",
            source=self.boundary.source,
            unsure=unsure,
        )


def find(text: str, tables: Tables) -> tuple[Found | None, str]:
    """(what is known of a designation, why nothing is)."""
    try:
        designation = parse_designation(text)
    except EngineeringError as error:
        return None, gettext("{why}. Type d, D and B from the drawing.").format(why=error)
    try:
        return Found(designation, boundary_dimensions(designation, tables)), ""
    except EngineeringError:
        return Found(designation, None), ""


def prefilled(typed: Mapping[str, str], found: Found | None) -> dict[str, str]:
    """The form with what the designation says, where the person has not typed anything."""
    values = dict(typed)
    if found is None:
        return values
    designation, boundary = found.designation, found.boundary
    known = {
        "clearance_kind": CLEARANCE_KINDS.get(designation.kind, ""),
        "clearance_group": designation.clearance_group.removeprefix("C"),
        "nominal": f"{designation.bore_mm:f}" if designation.bore_mm is not None else "",
    }
    if designation.stable_up_to_c:
        known["stabilised"] = str(designation.stable_up_to_c)
    if boundary is not None:
        known |= {
            "outside": f"{boundary.outside_mm:g}",
            "width": f"{boundary.width_mm:g}",
            "seat_width": f"{boundary.width_mm:g}",
        }
    for name, value in known.items():
        if value and not values.get(name, "").strip():
            values[name] = value
    return values


def document(form: Form) -> dict[str, Any]:
    """The requirement document. Numbers pass through as typed; read_requirement is who reads them."""
    typed = {name: value.strip() for name, value in form.typed.items()}
    _numbers(typed)
    found = form.found
    said: dict[str, Any] = {
        "nominal_mm": typed.get("nominal", ""),
        "shaft_class": typed.get("shaft_class", ""),
        "drawing": typed.get("drawing", ""),
        "revision": typed.get("revision", ""),
        "designation": typed.get("designation", ""),
        "clearance_kind": typed.get("clearance_kind") or "none",
        "clearance_group": typed.get("clearance_group") or "N",
        "outside_mm": typed.get("outside", ""),
        "width_mm": typed.get("width", ""),
        "size_source": _size_source(typed, found),
        "seat_width_mm": typed.get("seat_width") or typed.get("width", ""),
        "seat": typed.get("seat") or "ground",
        "kinds": [*form.kinds, *_own_kinds(found)],
    }
    if typed.get("shaft_bore"):
        said["shaft_bore_mm"] = typed["shaft_bore"]
    if found is not None and found.designation.tolerance_class != "P0":
        said["bore_class"] = found.designation.tolerance_class
    said |= {name: typed[name][:120] for name in SOURCES.values() if typed.get(name)}
    for field_ in ("mass_kg", "mass_from", "raceway_mm", "raceway_from", "stabilised_c"):
        if typed.get(DOCUMENT_FIELDS[field_]):
            said[field_] = typed[DOCUMENT_FIELDS[field_]]
    if typed.get("critical"):
        said["critical"] = "yes"
    return said | _windows(typed)


SOURCE_LABELS: Mapping[str, str] = {
    "nominal_mm": _("where another d is written, as drawing and note"),
    "outside_mm": _("where another D is written"),
    "width_mm": _("where another B is written"),
    "clearance_kind": _("where another clearance table is written"),
    "clearance_group": _("where another group is written"),
    "bore_class": _("where another class is written"),
    "stabilised_c": _("where another stabilisation is written"),
    "seat_width_mm": _("where this seat width is written"),
    "mass_kg": _("where this mass is written"),
    "limits_um": _("where these limits are written"),
    "bore_um": _("where the limits of the bore are written"),
    "interference_um": _("where this interference is written"),
    "form_um": _("where this form is written"),
    "roundness_um": _("where this roundness is written"),
    "taper_um": _("where this taper is written"),
}
CHOSEN = ("clearance_kind", "clearance_group", "bore_class")
"""Fields with no input of their own that could say what was asked."""


@dataclass(frozen=True)
class Source:
    """An input for where something else than the designation says is written; `why` it is asked, unless that
    stands at the field itself."""

    name: str
    label: str
    why: str


def clearance_tables() -> list[tuple[str, str]]:
    """What the order may say of the clearance before the fit, beside *none: measure*."""
    named = [(slug, gettext(name)) for name, slug in CLEARANCE_KINDS.items()]
    return [*named, (ADJUSTED, gettext("set when mounted: end play or preload"))]


def sources(form: Form) -> list[Source]:
    """Those that are wanted, and those in which something was typed."""
    found = []
    for field_, name in SOURCES.items():
        input_ = DOCUMENT_FIELDS.get(field_, field_)
        why = form.asks.get(input_, "") if field_ in CHOSEN or form.value(input_) else ""
        if why or form.value(name):
            found.append(Source(name, gettext(SOURCE_LABELS[field_]), why if field_ in CHOSEN else ""))
    return found


SINGLE = {
    "clearance_least": "clearance_min_um",
    "roundness": "roundness_um",
    "taper": "taper_um",
    "gap": "gap_um",
}
"""Input of one figure in µm → field of the requirement document."""
WINDOWS = (
    "limit_lower",
    "limit_upper",
    "bore_lower",
    "bore_upper",
    "interference_least",
    "interference_most",
    *SINGLE,
)
NUMBERS = {name: field for field, name in DOCUMENT_FIELDS.items() if field in BOUNDS}


def given_back(form: Form) -> dict[str, str]:
    """What was typed, as it stays on the page: of a number no more than any has."""
    long = (*NUMBERS, *WINDOWS)
    return {name: text[:GIVEN_BACK] if name in long else text for name, text in form.typed.items()}


def not_numbers(typed: Mapping[str, str]) -> dict[str, str]:
    """Every input that wants a number and holds none, with why."""
    found = {}
    for name, field_ in NUMBERS.items():
        if not typed.get(name):
            continue
        try:
            bounded(field_, typed[name])
        except DocumentError as error:
            found[name] = error.why
    for name in WINDOWS:
        try:
            _um(name, typed.get(name) or "0")
        except DocumentError as error:
            found[name] = error.why
    return found


def _numbers(typed: Mapping[str, str]) -> None:
    """Only plain numbers go on to the requirement."""
    for name, why in not_numbers(typed).items():
        raise DocumentError("requirement", name, why)


def _own_kinds(found: Found | None) -> list[str]:
    return ["separable_inner_ring"] if found is not None and found.designation.separable else []


def _size_source(typed: Mapping[str, str], found: Found | None) -> str:
    """*table* where D and B are the table's own, *drawing* where a person typed others."""
    if found is None or found.boundary is None:
        return "drawing"
    same = (typed.get("outside"), typed.get("width")) == (
        f"{found.boundary.outside_mm:g}",
        f"{found.boundary.width_mm:g}",
    )
    return "table" if same else "drawing"


def _windows(typed: Mapping[str, str]) -> dict[str, Any]:
    """Explicit limits, interference window and least clearance, in µm as exact text."""
    said: dict[str, Any] = {}
    for name, low, high in (
        ("limits_um", "limit_lower", "limit_upper"),
        ("bore_um", "bore_lower", "bore_upper"),
        ("interference_um", "interference_least", "interference_most"),
    ):
        if typed.get(low) or typed.get(high):
            said[name] = [_um(low, typed.get(low, "")), _um(high, typed.get(high, ""))]
            if Decimal(said[name][0]) > Decimal(said[name][1]):
                ends = f"{said[name][1]} µm is below the lower one, {said[name][0]} µm"
                raise DocumentError("requirement", high, f"{ends}; allowed: −{MOST_UM}…{MOST_UM} µm")
    said |= {field: _um(name, typed[name]) for name, field in SINGLE.items() if typed.get(name)}
    return said


def _um(name: str, text: str) -> str:
    try:
        value = parse_number(text)
    except EngineeringError:
        value = Decimal("Infinity")
    if not -MOST_UM <= value <= MOST_UM:
        why = f"{text[:SHOWN]!r} µm is not possible; allowed: −{MOST_UM}…{MOST_UM} µm"
        raise DocumentError("requirement", name, why)
    return f"{value:f}"


def order(form: Form, machine: Machine | None) -> Order:
    typed = {name: value.strip() for name, value in form.typed.items()}
    return Order(
        machine=machine,
        machine_name=typed.get("machine_name", ""),
        owner=typed.get("owner", ""),
        scheme=typed.get("scheme") or "none",
        work_order=typed.get("work_order", ""),
        shaft=typed.get("shaft") or "1",
        position=typed.get("position", ""),
        requirement=document(form),
        serial=typed.get("serial", ""),
        lot=typed.get("lot", ""),
        date_code=typed.get("date_code", ""),
        procedure=typed.get("procedure", ""),
    )


def again(first: Mounting, at: datetime, *, same_bearing: bool) -> Order:
    """The order of a second mounting of the same journal, by the requirement in force now. The same ring
    keeps its bearing; else a new one of the same designation is registered."""
    return Order(
        machine=first.journal.machine,
        work_order=first.rebuild.work_order,
        shaft=first.journal.shaft,
        position=first.journal.position,
        requirement=requirement_at(first.journal.id, at).document,
        bearing=first.bearing if same_bearing else None,
    )
