"""A number a model is asked with: finite and inside its range, or refused by field, value, unit and range."""

import math

from .errors import OutOfRangeError


def inside(field: str, value: float, unit: str, low: float = -math.inf, high: float = math.inf) -> float:
    """`value` itself, if it is finite and from `low` to `high`, both ends included; else OutOfRangeError."""
    if not (math.isfinite(value) and low <= value <= high):
        raise OutOfRangeError(field, value, unit, low, high)
    return value


def above(field: str, value: float, unit: str, low: float = 0.0, high: float = math.inf) -> float:
    """`value` itself, if it is finite, over `low` and up to `high`; else OutOfRangeError.

    Two sizes that were swapped are told by it: the larger one is asked to lie above the smaller.
    """
    if not (math.isfinite(value) and low < value <= high):
        raise OutOfRangeError(field, value, unit, low, high)
    return value
