"""Readings of journal and bore: the grid, the picture over it, the point that is too close to call."""

from dataclasses import dataclass, replace
from decimal import Decimal

from django.utils.translation import gettext

from qrecords.engineering import measurement as metrology
from qrecords.mountings.judging import Judged
from qrecords.steps.answers import Absent
from qrecords.steps.case import Case
from qrecords.steps.expected import expected_for
from qrecords.steps.measurement import (
    Measured,
    Point,
    journal,
    set_doubt,
    wanted_places,
)
from qrecords.web import parts
from qrecords.web.fitter.asking import Ask, Option
from qrecords.web.fitter.sent import GIVEN_BACK, Sent
from qrecords.web.fitter.words import choice_label, field_label, place_label, unit_label
from qrecords.web.pictures.tolerance import (
    PHONE,
    PHONE_LOW,
    Plane,
    Reading,
    Seat,
    Standing,
    TolerancePicture,
    tolerance_picture,
)
from qrecords.web.pictures.tolerance import Paper as TolerancePaper
from qrecords.web.showing import FIGURES

STANDINGS: dict[str, Standing] = {
    metrology.CONFORMING: "in",
    metrology.NOT_PROVEN: "close",
    metrology.NONCONFORMING: "out",
}
EDGE_MM = Decimal(6)
"""How far from shoulder and end the outermost planes lie where nobody entered their distance."""


@dataclass(frozen=True)
class Surface:
    """What is read: `head` such as `measurement.journal`, its places by plane and direction."""

    head: str
    places: tuple[tuple[str, str], ...]

    @property
    def planes(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(plane for plane, _ in self.places))

    @property
    def directions(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(direction for _, direction in self.places))

    def name(self, plane: str, direction: str) -> str:
        return f"{self.head}.{plane}.{direction}"

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(self.name(plane, direction) for plane, direction in self.places)


def journal_surface(case: Case) -> Surface:
    return Surface("measurement.journal", tuple(wanted_places(case)))


def bore_surface(case: Case) -> Surface:
    """Two planes by three directions (common practice, no source)."""
    return Surface("bore.bore", tuple((plane, at) for plane in "AB" for at in ("0", "60", "120")))


def deviation_unit(case: Case) -> str:
    expected = expected_for(case, "measurement", "journal")
    return expected.deviation_unit if expected else "mm"


def deviation_figures(case: Case) -> int:
    """After so many figures a deviation in µm is whole: one more and it would be asked about as a slip. At
    least two; 0, never, where nothing is known of its size."""
    expected = expected_for(case, "measurement", "journal")
    if expected is None:
        return 0
    furthest_nm = max(abs(expected.low - expected.value), abs(expected.high - expected.value))
    return max(len(str(furthest_nm // 1000)), 2)


def standing_of(case: Case, point: Point, measured: Measured) -> Standing:
    limits = case.requirement.journal
    u_nm, factor = measured.u_nm or 0, case.procedure.guard_factor
    return STANDINGS[metrology.decide(point.deviation_nm, limits.lower_nm, limits.upper_nm, u_nm, factor)]


def standings(judged: Judged) -> dict[str, str]:
    """The standing of each journal place that was read; empty while the whole set proves nothing."""
    found = journal(judged.case)
    if found is None:
        return {}
    return {
        f"measurement.journal.{point.plane}.{point.direction}": standing_of(judged.case, point, found)
        for point in found.points
    }


def grid(judged: Judged, surface: Surface, sent: Sent, again: str, *, current: bool) -> parts.ReadingGrid:
    """The grid of a surface: what was typed or recorded, places without a value with their reason. `again`
    names a place that is to be entered although it has a reason."""
    unit, units = grid_unit(judged, surface, sent), dict(own_units(judged, surface, sent))
    how = standings(judged) if surface.head == "measurement.journal" else {}
    empty = [name for name in _in_order(surface) if not _value(judged, name, sent)[0]]
    now = again or (empty[0] if empty and current else "")
    rows = []
    for direction in surface.directions:
        cells = []
        for plane in surface.planes:
            name = surface.name(plane, direction)
            value, reason = _value(judged, name, sent)
            open_ = not reason or name == again
            cells.append(
                parts.GridCell(
                    name if open_ else "",
                    value,
                    place_label(f"{plane}.{direction}"),
                    how.get(name, "").replace("in", ""),
                    "" if open_ else reason,
                    name == now,
                    unit=unit_label(units.get(name, unit)) if value and units.get(name, unit) != unit else "",
                )
            )
        caption = gettext("0° key") if direction == "0" else f"{direction}°"
        rows.append(parts.GridRow(caption, tuple(cells)))
    heads = tuple(parts.GridPlane(plane.name, _distance(plane)) for plane in planes(judged.case, surface))
    corner = gettext("shoulder") if surface.head == "measurement.journal" else ""
    caption = f"{field_label(surface.head)}, {unit_label(unit)}"
    whole = " from " not in unit
    return parts.ReadingGrid(caption, heads, tuple(rows), corner=corner, whole=whole)


def still_grid(judged: Judged, surface: Surface) -> parts.ReadingGrid:
    """The readings as they stand, to look at: a grid without inputs; its caption says the unit."""
    found = grid(judged, surface, Sent(), "", current=False)
    rows = tuple(
        replace(row, cells=tuple(replace(cell, name="", current=False) for cell in row.cells))
        for row in found.rows
    )
    return replace(found, rows=rows)


def _distance(plane: Plane) -> str:
    return f"{plane.distance_mm:.0f} mm" if plane.name == "A" else f"{plane.distance_mm:.0f}"


def _in_order(surface: Surface) -> list[str]:
    """Down the plane first, as the gauge goes round the shaft."""
    return [surface.name(plane, at) for plane in surface.planes for at in surface.directions]


def _value(judged: Judged, name: str, sent: Sent) -> tuple[str, str]:
    typed = sent.text(name)
    if typed:
        return typed[:GIVEN_BACK], ""
    step, _, key = name.partition(".")
    found = judged.case.said(step, key)
    answer = dict(sent.absent()).get(name) or (found.answer if found else None)
    if answer is None:
        return "", ""
    if isinstance(answer, Absent):
        return "", choice_label(answer.reason)
    return answer.typed, ""


def grid_unit(judged: Judged, surface: Surface, sent: Sent) -> str:
    """The unit in which new readings are typed: what the form says, else as before, else the deviation."""
    chosen = sent.fields.get(f"unit:{surface.head}")
    if chosen:
        return chosen
    step, _, head = surface.head.partition(".")
    for answered in judged.case.many(step, head):
        if not isinstance(answered.answer, Absent):
            return answered.answer.unit
    return deviation_unit(judged.case)


def unit_options(judged: Judged, surface: Surface, sent: Sent) -> tuple[Option, ...]:
    now = grid_unit(judged, surface, sent)
    return tuple(
        Option(unit, unit_label(unit), unit == now) for unit in (deviation_unit(judged.case), "mm", "in")
    )


def own_units(judged: Judged, surface: Surface, sent: Sent) -> tuple[tuple[str, str], ...]:
    """(name, unit) of every place whose value was typed in a unit already: it keeps it."""
    step = surface.head.split(".")[0]
    found = []
    for name in surface.names:
        if sent.text(name) and sent.fields.get(f"unit:{name}"):
            found.append((name, sent.fields[f"unit:{name}"]))
            continue
        known = judged.case.value_of(step, name.partition(".")[2])
        if known is not None and not isinstance(known.answer, Absent):
            found.append((name, known.answer.unit))
    return tuple(found)


def planes(case: Case, surface: Surface) -> tuple[Plane, ...]:
    """Each plane at the distance entered, else evenly between 6 mm from shoulder and end (narrower seats:
    a sixth of their width)."""
    width = case.requirement.seat_width_mm
    edge = min(EDGE_MM, width / 6)
    names = surface.planes
    step = (width - 2 * edge) / max(len(names) - 1, 1)
    found = []
    for number, name in enumerate(names):
        entered = case.value_of("measurement", f"plane_at.{name}")
        at = Decimal(entered.base) / 1_000_000 if entered else edge + number * step
        found.append(Plane(name, float(at)))
    return tuple(found)


def picture(judged: Judged, prefix: str, paper: TolerancePaper, *, newest: bool) -> TolerancePicture:
    """The readings on the seat, brought to 20 °C, in the zone of the drawing."""
    case, surface = judged.case, journal_surface(judged.case)
    limits, found = case.requirement.journal, journal(judged.case)
    u_nm = (found.u_nm or 0) if found else 0
    guard = metrology.guard(u_nm, case.procedure.guard_factor)
    width = float(case.requirement.seat_width_mm)
    drawn = []
    for point in found.points if found else ():
        if (point.plane, point.direction) in surface.places:
            place = surface.directions.index(point.direction)
            plane = surface.planes.index(point.plane)
            drawn.append((plane, place, point, standing_of(case, point, found)))  # type: ignore[arg-type]  # points mean found
    drawn.sort(key=lambda each: each[:2])
    marks = tuple(
        Reading(plane, place, point.deviation_nm, how, newest and number == len(drawn) - 1)
        for number, (plane, place, point, how) in enumerate(drawn)
    )
    seat = Seat(limits.lower_nm, limits.upper_nm, width, planes(case, surface), guard_nm=guard)
    return tolerance_picture(seat, marks, figures=FIGURES, prefix=prefix, paper=paper)


def pictures(judged: Judged, *, newest: bool) -> dict[str, TolerancePicture]:
    return {
        "picture": picture(judged, "seat", PHONE, newest=newest),
        "low_picture": picture(judged, "low", PHONE_LOW, newest=newest),
    }


@dataclass(frozen=True)
class CloseCall:
    """A reading too close to call that was taken once: the two inputs in which it is measured again."""

    lead: str
    again: tuple[Ask, Ask]


def close_call(judged: Judged, sent: Sent) -> CloseCall | None:
    """The closest single reading that the guard leaves undecided. None where repeating would not help:
    nothing too close, or the whole set proves nothing anyway."""
    found = journal(judged.case)
    if found is None or set_doubt(judged.case) or not found.u_nm:
        return None
    once = [p for p in found.points if p.repeats == 1 and standing_of(judged.case, p, found) == "close"]
    if not once:
        return None
    limits = judged.case.requirement.journal

    def margin(point: Point) -> int:
        return min(point.deviation_nm - limits.lower_nm, limits.upper_nm - point.deviation_nm)

    worst = min(once, key=margin)
    away, guard = margin(worst), metrology.guard(found.u_nm, judged.case.procedure.guard_factor)
    lead = gettext("{place}: {margin} µm from the limit, guard {guard}.").format(
        place=place_label(f"{worst.plane}.{worst.direction}"),
        margin=FIGURES.um(abs(away), 1),
        guard=FIGURES.um(guard, 1),
    )
    name = f"measurement.journal.{worst.plane}.{worst.direction}"
    second, third = (_repeat(judged, f"{name}.{n}", sent) for n in (2, 3))
    return CloseCall(lead, (second, third))


@dataclass(frozen=True)
class Repeated:
    """A point measured again: its name and first reading, and the inputs of what was read after it."""

    place: str
    first: str
    again: tuple[Ask, ...]


def repeated(judged: Judged, sent: Sent, call: CloseCall | None) -> tuple[Repeated, ...]:
    """The points with further readings, but the one that is asked about just now."""
    asked = {ask.name for ask in call.again} if call else ()
    points: dict[str, list[Ask]] = {}
    for ask in _repeats(judged, sent):
        if ask.name not in asked:
            points.setdefault(ask.name.rpartition(".")[0], []).append(ask)
    return tuple(
        Repeated(
            place_label(name.partition(".journal.")[2]), _value(judged, name, sent)[0], tuple(points[name])
        )
        for name in sorted(points)
    )


def _repeats(judged: Judged, sent: Sent) -> tuple[Ask, ...]:
    """Every further reading of a point that was typed or recorded: it counts in the point's mean, so it is
    seen and can be corrected."""
    heads = journal_surface(judged.case).names
    recorded = [f"measurement.{answered.key}" for answered in judged.case.many("measurement", "journal")]
    known = {name: None for name in (*recorded, *sent.names()) if name.startswith("measurement.journal.")}
    return tuple(
        _repeat(judged, name, sent) for name in sorted(known) if name not in heads and name.count(".") == 4
    )


def _repeat(judged: Judged, name: str, sent: Sent) -> Ask:
    known = judged.case.value_of("measurement", name.partition(".")[2])
    unit = sent.fields.get(f"unit:{name}") or (known.answer.unit if known else "")  # type: ignore[union-attr]  # it has a value
    unit = unit or grid_unit(judged, journal_surface(judged.case), sent)
    value = _value(judged, name, sent)[0]
    return Ask(name, field_label(name), "number", value, unit, unit_label(unit))
