"""Slips of the keyboard: a value that makes no sense as typed and good sense with one slip undone."""

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from .errors import EngineeringError
from .units import read


class Slip(NamedTuple):
    """A likely slip (`kind` is a slug) and the value, in the same base unit, that was probably meant."""

    kind: str
    meant: int


_TENS = (
    ("ten_times_too_big", Fraction(1, 10)),
    ("ten_times_too_small", Fraction(10)),
    ("thousand_times_too_big", Fraction(1, 1000)),
    ("thousand_times_too_small", Fraction(1000)),
)
_NOUGHTS = (("a_nought_lost", Fraction(1, 10)), ("two_noughts_lost", Fraction(1, 100)))
_INCHES = (("mm_typed_as_inch", Fraction(10, 254)), ("inch_typed_as_mm", Fraction(254, 10)))


def slips(base: int, low: int, high: int, quantity: str = "length") -> tuple[Slip, ...]:
    """The slips that explain why `base` lies outside the sensible range [low, high], all in one base unit.

    Empty if the value is inside, or if no single slip brings it inside. For a deviation from nominal pass the
    deviation and the sensible range of the deviation. 10×, 1000× and a turned sign are looked for in every
    quantity, 25.4× in a length, °F taken for °C and °C taken for °F in a temperature.
    """
    if low <= base <= high:
        return ()
    candidates = [(kind, base * factor) for kind, factor in _TENS] + [("sign_turned", Fraction(-base))]
    if quantity == "length":
        candidates += [(kind, base * factor) for kind, factor in _INCHES]
    if quantity == "temperature":
        # First, because a thermometer in the other unit is likelier than a lost decimal sign.
        candidates = [
            ("fahrenheit_typed_as_celsius", (Fraction(base) - 32_000) * 5 / 9),
            ("celsius_typed_as_fahrenheit", Fraction(base) * 9 / 5 + 32_000),
            *candidates,
        ]
    return tuple(Slip(kind, round(meant)) for kind, meant in candidates if low <= meant <= high)


def lost_noughts(base: int, nominal: int, low: int, high: int) -> tuple[Slip, ...]:
    """A size whose noughts behind the decimal sign were left out: 80.9 where 80.009 was meant."""
    candidates = [(kind, nominal + (base - nominal) * factor) for kind, factor in _NOUGHTS]
    return tuple(Slip(kind, round(meant)) for kind, meant in candidates if low <= meant <= high)


def other_units(text: str, quantity: str, unit: str, units: Sequence[str], low: int, high: int) -> list[str]:
    """The other units of a field in which the very same figures would lie in [low, high]."""
    found = []
    for other in units:
        try:
            base = read(text, quantity, other).base
        except EngineeringError:
            continue
        if other != unit and low <= base <= high:
            found.append(other)
    return found
