"""How much grease: to relubricate, and to fill a bearing the first time.

Sizes in mm, grease in g. Both rules are plant practice; two factors go about in print that are wrong, and a
quantity that follows from one of them is told.
"""

import math
from typing import NamedTuple

from .ceilings import COMMON_PRACTICE
from .cooling import Ring, mass_estimate
from .errors import MisprintedFactorError, OutsideValidityError
from .materials import DENSITY_KG_M3
from .ranges import above
from .result import Result, said
from .slips import Slip

RELUBRICATION_G_MM2 = 0.005
RELUBRICATION_OZ_IN2 = 0.114
GREASE_G_CM3 = 0.9
FIRST_FILL = (0.30, 0.50)
_PRACTICE = ("quantity of grease: plant practice, no standard",)
_SAME_WITHIN = 0.02  # of the misprinted quantity: what is weighed or rounded to is no nearer


def relubrication(outside_mm: float, width_mm: float) -> Result:
    """Grease in g to add to a running bearing: 0.005·D·B, D the outside diameter. Not the first fill."""
    return _to_add(RELUBRICATION_G_MM2, outside_mm, width_mm, "mm", "g")


def relubrication_oz(outside_in: float, width_in: float) -> Result:
    """The same in inches and ounces: 0.114·D·B, within 0.2 %."""
    return _to_add(RELUBRICATION_OZ_IN2, outside_in, width_in, "in", "oz")


def _to_add(factor: float, outside: float, width: float, length: str, weight: str) -> Result:
    above("outside diameter D", outside, length)
    above("width B", width, length)
    return Result(
        factor * outside * width, weight, None, f"G = {factor}·D·B",
        (("D", said(outside, length)), ("B", said(width, length))),
        ("to relubricate; a first fill is larger", "D is the outside diameter"), COMMON_PRACTICE, _PRACTICE,
    )  # fmt: skip


class FirstFill(NamedTuple):
    """The free room of a bearing in cm³ and 30 to 50 % of it as grease in g."""

    free_cm3: Result
    least_g: Result
    most_g: Result


def first_fill(ring: Ring, grease_g_cm3: float = GREASE_G_CM3) -> FirstFill:
    """What an empty bearing takes: 30 to 50 % of its free room, from its envelope less its steel.

    Raises OutOfRangeError for sizes that are swapped, OutsideValidityError where the steel leaves no room.
    """
    above("bore d", ring.bore_mm, "mm")
    above("outside diameter D", ring.outside_mm, "mm", ring.bore_mm)
    above("width B", ring.width_mm, "mm")
    above("density of the grease", grease_g_cm3, "g/cm³")
    estimate = mass_estimate(ring) if ring.mass_kg is None else None
    mass_kg = above("mass", estimate.value if estimate else ring.mass_kg or 0.0, "kg")
    envelope_cm3 = math.pi / 4 * (ring.outside_mm**2 - ring.bore_mm**2) * ring.width_mm / 1000
    free_cm3 = envelope_cm3 - mass_kg / DENSITY_KG_M3 * 1e6
    if free_cm3 <= 0:
        raise OutsideValidityError("first fill", "the mass leaves no room inside these sizes")
    put_in = (
        ("D", said(ring.outside_mm, "mm")), ("d", said(ring.bore_mm, "mm")), ("B", said(ring.width_mm, "mm")),
        ("m", said(mass_kg, "kg")), ("ρ", said(DENSITY_KG_M3, "kg/m³")),
        ("ρ_g", said(grease_g_cm3, "g/cm³")),
    )  # fmt: skip
    doubts = (*_PRACTICE, *(estimate.unconfirmed if estimate else ()))

    def answer(value: float, unit: str, formula: str) -> Result:
        assumptions = ("open bearing, nothing in it yet", "D, d and B enclose it")
        return Result(value, unit, None, formula, put_in, assumptions, COMMON_PRACTICE, doubts)

    room = "V = π/4·(D² − d²)·B − m/ρ"
    least, most = (
        answer(share * free_cm3 * grease_g_cm3, "g", f"G = {share:.2f}·V·ρ_g, {room}") for share in FIRST_FILL
    )
    return FirstFill(answer(free_cm3, "cm³", room), least, most)


class Misprint(NamedTuple):
    """A factor for D·B that stands in print and is wrong: how many times too large what it gives is."""

    kind: str
    factor: float
    unit: str
    right: float

    @property
    def times(self) -> float:
        return self.factor / self.right


MISPRINTS = (
    Misprint("a_nought_too_many_in_print", 0.0005, "g/mm²", RELUBRICATION_G_MM2),
    Misprint("rounded_to_a_tenth_in_print", 0.1, "oz/in²", RELUBRICATION_OZ_IN2),
)


def sound_factor(factor: float, unit: str) -> float:
    """A plant's own factor for D·B, in g/mm² or oz/in²; MisprintedFactorError for one of the wrong ones."""
    above("factor for D·B", factor, unit)
    for misprint in MISPRINTS:
        if unit == misprint.unit and math.isclose(factor, misprint.factor, rel_tol=_SAME_WITHIN):
            raise MisprintedFactorError(factor, unit, misprint.right, misprint.times)
    return factor


def printed_slips(stated_g: float, outside_mm: float, width_mm: float) -> tuple[Slip, ...]:
    """The misprinted factors that explain a stated quantity, each with the quantity meant, in mg."""
    right_g = relubrication(outside_mm, width_mm).value
    above("quantity of grease", stated_g, "g")
    return tuple(
        Slip(misprint.kind, round(right_g * 1000))
        for misprint in MISPRINTS
        if math.isclose(stated_g, right_g * misprint.times, rel_tol=_SAME_WITHIN)
    )
