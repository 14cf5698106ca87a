"""The heating plan: how hot to set, what must be left at the seat, how long to carry and to press.

The chain: class limits and readings give the interference; the deviations g and f of ISO 286 the clearance
that must be there and the one to aim for; from these the temperature at contact and the aim, below ceiling
less guard.
"""

import math
from decimal import Decimal
from typing import NamedTuple

from .ceilings import Ceiling, ceiling_for, own_data
from .cooling import Pressing, Ring, carry_drop, carry_time, equalised_c, pressing_time
from .errors import EngineeringError
from .fits import stress_raceway_mm
from .growth import (
    growth,
    least_clearance,
    recommended_clearance,
    required_temperature,
    ring_difference_allowed,
    seat_clearance,
    warmest_shaft,
)
from .measurement import GUARD_FACTOR
from .result import Result
from .tables import BUILT_IN, Tables

__all__ = [
    "Ceiling", "ColdFit", "Plan", "UnreachableError", "ceiling_for", "growth", "least_clearance",
    "most_allowed_c", "own_data", "plan", "recommended_clearance", "required_temperature",
    "ring_difference_allowed", "seat_clearance", "slide_on", "warmest_shaft",
]  # fmt: skip

PLANNED_CARRY_S = 30.0


class ColdFit(NamedTuple):
    """The fit at 20 °C: nominal bore in mm, local maximum and mean interference and its u in µm."""

    bore_mm: float
    interference_max_um: float
    interference_mean_um: float
    interference_u_um: float


class UnreachableError(EngineeringError):
    """Heat alone cannot mount this fit under this ceiling.

    `shaft_at_most_c` is how far the shaft must cool; far below the air it says that heat will not do.
    """

    code = "unreachable"

    def __init__(
        self, needed_c: float, most_c: float, ceiling: Ceiling, shaft_c: float, cold_c: float
    ) -> None:
        self.needed_c, self.most_c, self.ceiling_kind, self.cap_c = (
            needed_c,
            most_c,
            ceiling.kind,
            ceiling.cap_c,
        )
        self.shaft_c, self.shaft_at_most_c = shaft_c, cold_c
        super().__init__(
            f"needs {needed_c:.1f} °C, {ceiling.kind} allows {most_c:.1f} °C with guard: "
            f"the shaft at {shaft_c:.1f} °C must cool to {cold_c:.1f} °C"
        )


class Plan(NamedTuple):
    """What the fitter reads, rounded, and the results behind it.

    `set_c` to the nearest 5 K (never over ceiling less guard), `must_reach_c` up to the next 5 K, `carry_s`
    down and `pressing_s` up to 5 s; the last two are None without the ring's dimensions. `grown` is how much
    larger the bore is at `set_c` than at the shaft's temperature.
    """

    set_c: int
    must_reach_c: int
    never_above_c: int
    carry_s: int | None
    pressing_s: int | None
    contact: Result
    wanted: Result
    grown: Result
    ceiling: Ceiling
    guard_k: float
    carry: Result | None
    drop: Result | None
    start: Result | None
    pressing: Pressing | None

    @property
    def needed_c(self) -> float:
        """What the ring must have when it leaves the heater: at contact, and what is lost on the way."""
        return _needed_c(self.contact, self.drop)


def most_allowed_c(ceiling: Ceiling, temperature_u_k: float, guard_factor: Decimal = GUARD_FACTOR) -> float:
    """The ceiling less its guard."""
    return ceiling.cap_c - float(guard_factor) * temperature_u_k


def _needed_c(contact: Result, drop: Result | None) -> float:
    return contact.value + (drop.value if drop else 0.0)


def plan(
    fit: ColdFit,
    ceiling: Ceiling,
    shaft_c: float,
    air_c: float,
    temperature_u_k: float,
    ring: Ring | None = None,
    guard_factor: Decimal = GUARD_FACTOR,
    planned_carry_s: float = PLANNED_CARRY_S,
    outer_below_inner_k: float | None = None,
    tables: Tables = BUILT_IN,
    air_m_s: float = 0.0,
) -> Plan:
    """Plan the heating of one bearing.

    `outer_below_inner_k`, how much cooler the outer ring will be (measured on a dry run or by its own probe),
    lets the carry start from the equalised temperature; without it it starts from the aim and says so. Raises
    UnreachableError, and OutsideValidityError where a ring has no interference to grip with or a draught
    (`air_m_s` over 1.5) cools it.
    """
    d, worst, u = fit.bore_mm, fit.interference_max_um, fit.interference_u_um
    c_min, c_rec = (clearance(d, tables).value for clearance in (least_clearance, recommended_clearance))
    contact = required_temperature(d, worst, c_min, shaft_c, u)
    wanted = required_temperature(d, worst, c_rec, shaft_c, u)
    most_c = most_allowed_c(ceiling, temperature_u_k, guard_factor)
    drop = (
        carry_drop(ring, contact.value, air_c, planned_carry_s, air_m_s)
        if ring and contact.value > air_c
        else None
    )
    needed_c = _needed_c(contact, drop)
    if needed_c > most_c:
        cold = warmest_shaft(d, worst, c_min, contact.value + most_c - needed_c)
        raise UnreachableError(needed_c, most_c, ceiling, shaft_c, cold.value)
    set_c = _aim_shown(max(needed_c, min(wanted.value, most_c, ceiling.aim_c or most_c)), needed_c, most_c)
    must_c = _must_shown(contact.value, set_c)
    start = None if outer_below_inner_k is None else equalised_c(set_c, set_c - outer_below_inner_k)
    carry = (
        carry_time(ring, start.value if start else set_c, must_c, air_c, air_m_s)
        if ring and must_c > air_c
        else None
    )
    pressing = _pressing(fit, ring, set_c, shaft_c) if ring else None
    return Plan(
        set_c=set_c, must_reach_c=must_c, never_above_c=math.floor(ceiling.cap_c),
        carry_s=_down_to_5(carry.value) if carry else None,
        pressing_s=_up_to_5(pressing.hold.value) if pressing else None,
        contact=contact, wanted=wanted, grown=growth(d, set_c - shaft_c), ceiling=ceiling,
        guard_k=ceiling.cap_c - most_c,
        carry=carry, drop=drop, start=start, pressing=pressing,
    )  # fmt: skip


def _pressing(fit: ColdFit, ring: Ring, ring_c: float, shaft_c: float) -> Pressing:
    raceway_mm = stress_raceway_mm(fit.bore_mm, ring.outside_mm)
    return pressing_time(fit.bore_mm, raceway_mm, fit.interference_mean_um, ring_c, shaft_c)


def slide_on(
    fit: ColdFit, shaft_c: float, seat_c: float | None, peak_c: float, drop: Result | None = None
) -> Result:
    """Clearance in µm at the local maximum when the ring met its seat; below zero it cannot have slid on.

    Takes the temperature read at the seat, else the peak less the computed carry drop.
    """
    ring_c = peak_c - (drop.value if drop else 0.0) if seat_c is None else seat_c
    return seat_clearance(fit.bore_mm, fit.interference_max_um, ring_c, shaft_c)


def _aim_shown(aim_c: float, needed_c: float, most_c: float) -> int:
    """To the nearest 5 K neither over the ceiling less guard nor under what is needed, else to 1 K."""
    nearest = round(aim_c / 5) * 5
    for candidate in (nearest, nearest - 5, nearest + 5):
        if needed_c <= candidate <= most_c:
            return candidate
    return math.floor(most_c)


def _must_shown(contact_c: float, set_c: int) -> int:
    return min(_up_to_5(contact_c), max(set_c, math.ceil(contact_c)))


def _up_to_5(value: float) -> int:
    return math.ceil(value / 5) * 5


def _down_to_5(value: float) -> int:
    return math.floor(value / 5) * 5
