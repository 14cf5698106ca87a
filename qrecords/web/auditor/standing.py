"""Limits and equipment as they stood: pinned when the mounting was opened, frozen at each capture."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from django.urls import reverse
from django.utils.translation import gettext

from qrecords.steps.frozen import day_of
from qrecords.steps.gear import GearRecord
from qrecords.steps.procedure import Procedure
from qrecords.steps.requirement import Requirement
from qrecords.tracing.record import GearUse, Record
from qrecords.web.auditor.saying import step_name
from qrecords.web.doubts import other_tables, told
from qrecords.web.heading import decision_rule
from qrecords.web.moments import calendar_day
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import Figures, with_unit


@dataclass(frozen=True)
class GearRow:
    """A gauge, meter or heater with the calibration in force, as frozen."""

    mark: str
    kind: str
    href: str
    used_for: str
    status: str
    due: str
    in_date: bool
    expanded_u: str
    resolution: str
    certificate: str
    calibration: str


@dataclass(frozen=True)
class Limit:
    """One limit as it stood: what it is of, the limit, where it comes from, and the entry that set it."""

    what: str
    limit: str
    source: str
    href: str = ""


def limits_of(record: Record, figures: Figures) -> tuple[Limit, ...]:
    """The limits as the mounting pinned them when it was opened."""
    asked, procedure = record.case.requirement, record.case.procedure
    drawing = gettext("%(drawing)s rev. %(revision)s") % {
        "drawing": asked.drawing,
        "revision": asked.revision,
    }
    pinned = gettext("procedure %(name)s rev. %(revision)s, %(digest)s…") % {
        "name": procedure.name,
        "revision": procedure.revision,
        "digest": procedure.digest[:12],
    }
    entry = reverse("entry", args=[record.case.opened["requirement_entry"]])
    house = gettext("house limit of the procedure")
    journal, bore, tables = asked.journal, asked.bore, record.case.tables
    found = [
        Limit(gettext("drawing"), drawing, gettext("its entry"), entry),
        Limit(gettext("designation asked for"), asked.designation, drawing),
        Limit(
            gettext("journal, from %(size)s mm") % {"size": figures.plain(asked.nominal_mm.normalize())},
            with_unit(figures.signed_span_um(journal.lower_nm, journal.upper_nm), "µm"),
            _source(journal.source, journal.unconfirmed),
        ),
        Limit(
            gettext("bore, class %(name)s") % {"name": asked.bore_class},
            with_unit(figures.signed_span_um(bore.lower_nm, bore.upper_nm), "µm"),
            _source(bore.source, bore.unconfirmed),
        ),
    ]
    if asked.interference_nm:
        window = with_unit(figures.span_um(*asked.interference_nm), "µm")
        found.append(Limit(gettext("interference"), window, drawing))
    return (
        *found,
        Limit(gettext("decision rule"), decision_rule(procedure, figures), pinned),
        Limit(gettext("tables of the standards"), f"{tables.digest[:12]}…", other_tables(tables)),
        Limit(gettext("house cap of the peak"), with_unit(str(procedure.house_cap_c), "°C"), house),
        Limit(gettext("cap, sealed or greased"), with_unit(str(procedure.greased_cap_c), "°C"), house),
        _blade(asked, procedure, drawing, house, figures),
    )


def _blade(asked: Requirement, procedure: Procedure, drawing: str, house: str, figures: Figures) -> Limit:
    """The blade that must not go in at the shoulder: the drawing's own, else the procedure's."""
    limit = procedure.blade_limit_nm if asked.gap_nm is None else asked.gap_nm
    where = house if asked.gap_nm is None else drawing
    return Limit(gettext("blade that must not go in"), with_unit(figures.mm(limit), "mm"), where)


def _source(source: str, unconfirmed: tuple[str, ...]) -> str:
    return " · ".join((source, *told(unconfirmed)))


def gear_row(use: GearUse) -> GearRow:
    gear, used = use.gear, day_of(use.lines[-1].seen, use.lines[-1].at)
    return GearRow(
        mark=gear.mark,
        kind=gettext(gear.kind) + (f", {gettext(gear.heater_kind)}" if gear.heater_kind else ""),
        href=reverse("equipment-uses", args=[gear.id]),
        used_for=", ".join(step_name(step) for step in use.steps),
        status=gettext(gear.status),
        due=calendar_day(gear.due) if gear.due else gettext("none given"),
        in_date=gear.due is None or used <= gear.due,
        expanded_u=expanded_u(gear),
        resolution=in_unit(gear.resolution, gear.kind) if gear.resolution else "",
        certificate=gear.certificate,
        calibration=reverse("entry", args=[gear.calibration]) if gear.calibration else "",
    )


BASE: Mapping[str, tuple[str, int]] = {
    "thermometer": ("K", 3),
    "heater": ("K", 3),
    "field meter": ("mT", 6),
}
"""Unit and decimal shift of the base integers of a kind; lengths in µm from nm else."""


def in_unit(base: int, kind: str, figures: Figures = FIGURES) -> str:
    """A base integer of a piece of equipment with its unit: 1000 nm → *1 µm*."""
    unit, shift = BASE.get(kind, ("µm", 3))
    return with_unit(figures.plain(Decimal(base).scaleb(-shift).normalize()), unit)


def expanded_u(gear: GearRecord) -> str:
    """U (k = 2) with its unit, or that there is none."""
    return gettext("no calibration") if gear.expanded_u is None else in_unit(gear.expanded_u, gear.kind)
