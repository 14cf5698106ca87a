"""Residual magnetism, as a field in air at the surface: A/cm, mT and gauss are one quantity there.

B = µ0·H holds in air only; mT inside the steel is another thing.
"""

from .units import read

# 2 A/cm, 0.2513 mT, 2.513 G. No standard was found for it: a house limit, to be set by the procedure.
HOUSE_LIMIT_NT = read("2", "field", "A/cm").base
HOUSE_LIMIT_SOURCE = "common practice, no source"

# By outside diameter up to and including, mm → nT. JB/T 6641-1993 (withdrawn 2007), text read.
BY_OUTSIDE_DIAMETER_NT = ((30, 400_000), (50, 500_000), (120, 600_000), (250, 800_000), (430, 1_000_000))
BY_OUTSIDE_DIAMETER_SOURCE = "JB/T 6641-1993, withdrawn 2007"


def published_limit_nt(outside_mm: float) -> int | None:
    """The bearing-specific limit by outside diameter in nT, None over 430 mm. Source: JB/T 6641-1993."""
    return next((limit for upto_mm, limit in BY_OUTSIDE_DIAMETER_NT if outside_mm <= upto_mm), None)
