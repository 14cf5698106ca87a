"""Residual magnetism in air at a ring's surface: one field in any of its units, and the limits for it.

A meter in air reads flux density or field strength, which go over into each other by µ0 alone; inside steel
they do not. Limits in mT.
"""

import math
from collections.abc import Sequence

from .ceilings import COMMON_PRACTICE
from .errors import OutsideValidityError, UnknownClassError
from .ranges import above, inside
from .result import Result, said
from .units import known_unit, per_unit

IN_AIR = ("in air at the surface, not inside the steel",)
EARTH = "the earth's field, about 0.05 mT (0.4 A/cm), is in the reading and not taken off"
FLUX_OF_FIELD = "B = µ0·H, SI; µ0: CODATA 2022"
HOUSE, MAGNETIC_TEST, BY_OUTSIDE_DIAMETER = "house", "magnetic test", "by outside diameter"

# JB/T 6641-1993, withdrawn 2007: up to and including this outside diameter in mm, at most this in mT.
_BY_OUTSIDE_DIAMETER = ((30.0, 0.4), (50.0, 0.5), (120.0, 0.6), (250.0, 0.8), (430.0, 1.0))


def in_air(value: float, unit: str, wanted: str) -> Result:
    """A field in air in another unit: A/cm, A/m, mT, G, Oe and whatever else `units` knows for a field.

    Raises NotAQuantityError for a unit of something else, OutOfRangeError for what is not finite.
    """
    from_unit, to_unit = known_unit("field", unit), known_unit("field", wanted)
    factor = per_unit("field", from_unit) / per_unit("field", to_unit)
    return Result(
        inside("field", value, from_unit) * float(factor), to_unit, None, f"1 {from_unit} = k {to_unit}",
        (("field", said(value, from_unit)), ("k", said(float(factor)))), IN_AIR, FLUX_OF_FIELD,
    )  # fmt: skip


def limit(setting: str = HOUSE, outside_mm: float | None = None) -> Result:
    """The limit in mT under a setting: `house` (2 A/cm), `magnetic test` (3 G) or `by outside diameter`.

    The last wants `outside_mm` and ends at 430 mm (OutsideValidityError). Raises UnknownClassError for a
    setting there is not.
    """
    if setting == HOUSE:
        return own_limit(2.0, "A/cm", COMMON_PRACTICE, ("2 A/cm: trade convention, no standard found",))
    if setting == MAGNETIC_TEST:
        return own_limit(3.0, "G", "ASTM E1444", ("ASTM E1444, 3 G: from memory",))
    if setting == BY_OUTSIDE_DIAMETER and outside_mm is not None:
        return _by_outside_diameter(outside_mm)
    known = (HOUSE, MAGNETIC_TEST, BY_OUTSIDE_DIAMETER)
    raise UnknownClassError(setting, outside_mm, known)


def own_limit(value: float, unit: str, source: str, unconfirmed: tuple[str, ...] = ()) -> Result:
    """A limit in mT that a procedure sets in its own unit, with where it was read."""
    above("limit of the field", value, unit)
    found = in_air(value, unit, "mT")
    return Result(
        found.value, "mT", None, f"B = {said(value, unit)} in air", found.put_in, (*IN_AIR, EARTH), source,
        unconfirmed,
    )  # fmt: skip


def _by_outside_diameter(outside_mm: float) -> Result:
    above("outside diameter D", outside_mm, "mm")
    for upto_mm, most_mt in _BY_OUTSIDE_DIAMETER:
        if outside_mm <= upto_mm:
            return Result(
                most_mt, "mT", None, f"B = {most_mt} mT for D up to {upto_mm:.0f} mm",
                (("D", said(outside_mm, "mm")),), (*IN_AIR, EARTH), "JB/T 6641-1993, withdrawn 2007",
            )  # fmt: skip
    raise OutsideValidityError("JB/T 6641-1993", "no limit over 430 mm outside diameter")


def worst_of(readings: Sequence[float], unit: str, standard_u: float | None = None) -> Result:
    """The largest of several readings round the ring, in mT, whichever way each points; u in `unit` too."""
    inside("number of places", len(readings), "1", 1)
    found = max((in_air(reading, unit, "mT") for reading in readings), key=lambda r: math.fabs(r.value))
    u = None
    if standard_u is not None:
        u = in_air(inside("u of the field", standard_u, unit, 0.0), unit, "mT").value
    return Result(
        math.fabs(found.value), "mT", u, "B = max |Bᵢ|", (*found.put_in, ("places", str(len(readings)))),
        (*IN_AIR, EARTH, "read at the ring's edge, the largest of all places"), FLUX_OF_FIELD,
    )  # fmt: skip
