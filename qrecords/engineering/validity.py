"""Where the models of fit and heat end. What they do not describe is refused, not computed."""

from .designation import Designation
from .errors import OutsideValidityError
from .ranges import above, inside

STRAIGHT_BORES = ("straight bores: no taper, no sleeve, no split ring",)
FREE_RINGS = (*STRAIGHT_BORES, "α as one number: within 1.5 % up to 120 °C")
SOUND_WALLS = (*STRAIGHT_BORES, "rings of F/d 1.1 and more")
STILL_AIR = ("air at up to 1.5 m/s: no draught, no fan",)
"""How far the models of fit and heat reach, as their results say it."""
THINNEST_WALL = 1.1
"""F/d, the least a ring's equivalent raceway is of its bore; under it own finite elements disagree."""
FASTEST_AIR_M_S = 1.5
"""Walking pace; a draught or fan cools faster than the design values of heat transfer say."""


def is_thin(bore_mm: float, raceway_mm: float) -> bool:
    """Whether F/d is under 1.1; OutOfRangeError unless the raceway lies outside the bore."""
    above("bore d", bore_mm, "mm")
    above("raceway F", raceway_mm, "mm", bore_mm)
    return raceway_mm / bore_mm < THINNEST_WALL * (1 - 1e-12)


def thin_ring_doubt(bore_mm: float, raceway_mm: float) -> tuple[str, ...]:
    """What to say of a number that rests on the wall of a thin ring; nothing of another ring."""
    return ("a thin ring (F/d under 1.1): compared with nothing",) if is_thin(bore_mm, raceway_mm) else ()


def ring_wall(model: str, bore_mm: float, raceway_mm: float) -> None:
    """The raceway lies outside the bore, and the ring is no thin one (F/d under 1.1)."""
    if is_thin(bore_mm, raceway_mm):
        raise OutsideValidityError(model, f"a thin ring: F/d is under {THINNEST_WALL}")


def shaft_wall(model: str, nominal_mm: float, shaft_bore_mm: float) -> None:
    """A shaft is solid (0) or has a bore smaller than its seat."""
    above("bore d", nominal_mm, "mm")
    inside("shaft bore d0", shaft_bore_mm, "mm", 0.0)
    if shaft_bore_mm >= nominal_mm:
        raise OutsideValidityError(model, "the shaft's bore is not smaller than its seat: nothing is left")


def walking_pace(model: str, air_m_s: float) -> None:
    """The air around the ring moves at walking pace at most."""
    inside("air speed", air_m_s, "m/s", 0.0)
    if air_m_s > FASTEST_AIR_M_S:
        raise OutsideValidityError(model, f"a draught or fan over {FASTEST_AIR_M_S} m/s")


def straight_bore(model: str, designation: Designation) -> None:
    """The bore is a cylinder: a taper bore is fitted by drive-up."""
    if designation.tapered_bore:
        raise OutsideValidityError(model, "a taper bore is fitted by drive-up, not by size")
