"""A number a model is asked with: finite and inside its range, or refused by field, value, unit and range."""

import math

from .errors import OutOfRangeError

BIGGEST, SMALLEST = 1e9, 1e-9
"""Beyond these nothing of the trade is measured in our units; inside them no square overflows or vanishes."""


def inside(field: str, value: float, unit: str, low: float = -BIGGEST, high: float = BIGGEST) -> float:
    """`value` itself, if it is finite and from `low` to `high`, both ends included; else OutOfRangeError."""
    if not (math.isfinite(value) and low <= value <= high):
        raise OutOfRangeError(field, value, unit, low, high)
    return value


def above(field: str, value: float, unit: str, low: float = 0.0, high: float = BIGGEST) -> float:
    """`value` itself, if it is finite, over `low` and up to `high`; else OutOfRangeError.

    Two sizes that were swapped are told by it: the larger one is asked to lie above the smaller.
    """
    least = SMALLEST if low == 0 else low
    if not (math.isfinite(value) and least < value <= high):
        raise OutOfRangeError(field, value, unit, low, high)
    return value
