"""A revision of the procedure as it comes in: limits that no workshop can mean are asked back before anything
is judged by them. House rules; mountings begun under an older revision keep theirs."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from qrecords.engineering import units
from qrecords.engineering.errors import EngineeringError, shortened
from qrecords.engineering.units import parse_number
from qrecords.steps.errors import DocumentError
from qrecords.steps.new_gear import is_whole
from qrecords.steps.new_points import is_asked_beside, is_field, not_a_field, odd_points
from qrecords.steps.odd import Odd
from qrecords.steps.procedure import Procedure, read_procedure


@dataclass(frozen=True)
class Bound:
    """Least and most of a limit in the unit of the document, and how people say it."""

    least: int
    most: int
    quantity: str
    unit: str
    sent_in: str
    per_unit: int = 1
    """Base units of the quantity in one of `sent_in`, the unit of the document."""

    def said(self, value: int) -> str:
        if abs(value) > units.BIGGEST_BASE // self.per_unit:
            return shortened(str(value))
        return units.show(value * self.per_unit, self.quantity, self.unit)


BOUNDS: Mapping[str, Bound] = {
    # An uncoded bearing's steel begins to temper at 150 °C (ruling 12).
    "house_cap_c": Bound(60, 150, "temperature", "°C", "°C", 1000),
    "greased_cap_c": Bound(40, 120, "temperature", "°C", "°C", 1000),
    # JB/T 6641-1993 (withdrawn) ends at 1 mT; the earth's own field is 0.05 mT.
    "field_nt": Bound(50_000, 1_000_000, "field", "mT", "nT"),
    "blade_nm": Bound(10_000, 100_000, "length", "mm", "nm"),
    "spread_mk": Bound(500, 10_000, "temperature_difference", "K", "mK"),
}
GUARD = (Decimal(1), Decimal(3))
"""Multiples of u (ISO 14253-1); 0 is simple acceptance."""


def read_new_procedure(document: Mapping[str, Any]) -> Procedure:
    """The procedure as a new revision brings it; DocumentError names limit, value, unit and range."""
    for odd in oddities(document):
        raise DocumentError("procedure", odd.field, odd.why)
    return read_procedure(document)


def oddities(document: Mapping[str, Any]) -> Iterator[Odd]:
    """Everything of a well-formed document that cannot be meant, in its order."""
    yield from _named(document)
    yield from _guard(document)
    yield from _limits(document)
    yield from _directions(document)
    yield from _fields(document)
    yield from odd_points(document)


LONGEST = {"name": 40, "revision": 20}


def _named(document: Mapping[str, Any]) -> Iterator[Odd]:
    for name, longest in LONGEST.items():
        text = str(document.get(name, ""))
        if not text.strip() or len(text) > longest or not text.isprintable():
            why = f"{shortened(text)!r} is not possible; allowed: 1 to {longest} characters in one line"
            yield Odd(f"/{name}", name, why)


def _limits(document: Mapping[str, Any]) -> Iterator[Odd]:
    limits = {name: value for name, value in document.get("limits", {}).items() if name in BOUNDS}
    for name, value in limits.items():
        bound = BOUNDS[name]
        allowed = f"allowed: {bound.said(bound.least)}…{bound.said(bound.most)} {bound.unit}"
        if not is_whole(value):
            why = f"{shortened(str(value))!r} is no whole number of {bound.sent_in}; {allowed}"
            yield _limit(name, why)
            return
        if not bound.least <= value <= bound.most:
            yield _limit(name, f"{bound.said(value)} {bound.unit} is not possible; {allowed}")
    open_c, greased_c = limits.get("house_cap_c"), limits.get("greased_cap_c")
    if open_c is not None and greased_c is not None and greased_c > open_c:
        why = f"{shortened(str(greased_c))} °C is above the cap of open bearings; allowed: up to {open_c} °C"
        yield _limit("greased_cap_c", why)


def _limit(name: str, why: str) -> Odd:
    return Odd(f"/limits/{name}", name, why)


def _guard(document: Mapping[str, Any]) -> Iterator[Odd]:
    rule = document.get("decision_rule", {})
    typed, at = str(rule.get("guard_factor", "0")), "/decision_rule/guard_factor"
    allowed = f"0 (simple acceptance), or {GUARD[0]}…{GUARD[1]} u"
    try:
        factor = parse_number(typed)
    except EngineeringError:
        yield Odd(at, "guard_factor", f"{shortened(typed)!r} is not a number; allowed: {allowed}")
        return
    if factor != 0 and not GUARD[0] <= factor <= GUARD[1]:
        yield Odd(at, "guard_factor", f"{shortened(typed)} u is not possible; allowed: {allowed}")
    if factor == 0 and not str(rule.get("agreed_with", "")).strip():
        why = "not given; simple acceptance is agreed with the customer: who agreed, and where it stands"
        yield Odd("/decision_rule/agreed_with", "agreed_with", why)


def _directions(document: Mapping[str, Any]) -> Iterator[Odd]:
    for nth, typed in enumerate(document.get("directions", ())):
        at = f"/directions/{nth}"
        if not (
            str(typed).isascii() and str(typed).isdecimal() and len(str(typed)) <= 3 and int(typed) < 360
        ):
            why = f"{shortened(str(typed))!r}° is not possible; allowed: whole degrees, 0…359°"
            yield Odd(at, "directions", why)
    for name in ("directions", "planes", "steps"):
        yield from _twice(name, list(document.get(name, ())))


def _twice(name: str, values: list[Any]) -> Iterator[Odd]:
    for nth, value in enumerate(values):
        if value in values[:nth]:
            yield Odd(f"/{name}/{nth}", name, f"{shortened(str(value))!r} stands twice")


def _fields(document: Mapping[str, Any]) -> Iterator[Odd]:
    """What is left out, or wanted as a photo, is of a step that is worked."""
    steps = list(document.get("steps", ()))
    for name in ("optional", "optional_for_ball_and_sealed", "not_applicable", "also"):
        for nth, said in enumerate(document.get(name, ())):
            if not is_field(said, steps):
                yield Odd(f"/{name}/{nth}", name, not_a_field(said, steps))
        yield from _twice(name, list(document.get(name, ())))
    for nth, said in enumerate(document.get("also", ())):
        if is_field(said, steps) and not is_asked_beside(said):
            yield Odd(f"/also/{nth}", "also", f"{said!r} is asked wherever its step is worked")
    shots: list[Any] = []
    for nth, shot in enumerate(document.get("photos", ())):
        if shot.get("step") not in steps:
            why = f"{shortened(str(shot.get('step')))!r} is no step of it; allowed: {', '.join(steps)}"
            yield Odd(f"/photos/{nth}/step", "photos", why)
        if shot.get("id") in shots:
            yield Odd(f"/photos/{nth}/id", "photos", f"{shortened(str(shot['id']))!r} stands twice")
        shots.append(shot.get("id"))
