"""The one door from typed text to a quantity and back.

A quantity is kept as an integer of its base unit: length nm, temperature m°C, temperature difference mK,
time ms, mass mg, field nT (flux density in air), force mN, torque mN·m, speed mm/s, vibration µm/s, ratio
ppm, angle m°; pieces, turns and months are counted. Text converts exactly, in rational numbers, and is
rounded once, half to even. Nothing here guesses: what is not a plain number with at most one separator is
refused by name.
"""

import re
from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

from .errors import NotAQuantityError, OutOfRangeError

LONGEST_TEXT = 48
BIGGEST_BASE = 2**63 - 1  # what an integer column of the database holds

# µ0 in N/A², CODATA 2022; differs from 4π·10⁻⁷ by about 1 part in 10¹⁰.
MU_0 = Fraction(Decimal("1.25663706127E-6"))
NT_PER_A_PER_CM = MU_0 * 100 * 10**9

_POUND_FORCE_MN = Fraction(Decimal("4448.2216152605"))  # 0.45359237 kg × 9.80665 m/s²
_INCH_NM = 25_400_000  # exact since 1959

# base = (number + shift) × factor
_UNITS: dict[str, dict[str, tuple[Fraction | int, int]]] = {
    "length": {
        "mm": (10**6, 0), "um": (10**3, 0), "nm": (1, 0), "cm": (10**7, 0), "m": (10**9, 0),
        "in": (_INCH_NM, 0), "thou": (25_400, 0),
    },
    "temperature": {"°C": (1000, 0), "°F": (Fraction(5000, 9), -32)},
    "temperature_difference": {"K": (1000, 0), "°C": (1000, 0), "°F": (Fraction(5000, 9), 0)},
    "time": {"s": (1000, 0), "min": (60_000, 0), "h": (3_600_000, 0), "ms": (1, 0)},
    "mass": {
        "kg": (10**6, 0), "g": (1000, 0), "mg": (1, 0), "lb": (Fraction("453592.37"), 0),
        "oz": (Fraction("28349.523125"), 0),
    },
    "field": {
        "A/cm": (NT_PER_A_PER_CM, 0), "mT": (10**6, 0), "G": (10**5, 0), "uT": (1000, 0), "T": (10**9, 0),
        "nT": (1, 0), "A/m": (NT_PER_A_PER_CM / 100, 0),
        "Oe": (10**5, 0),  # in air an oersted and a gauss are one: Gaussian units have B = H there
    },
    "force": {"N": (1000, 0), "kN": (10**6, 0), "mN": (1, 0), "lbf": (_POUND_FORCE_MN, 0)},
    "torque": {
        "N·m": (1000, 0), "mN·m": (1, 0), "lbf·ft": (_POUND_FORCE_MN * Fraction("0.3048"), 0),
        "lbf·in": (_POUND_FORCE_MN * Fraction("0.0254"), 0),
    },
    "speed": {"m/s": (1000, 0), "ft/min": (Fraction("5.08"), 0), "km/h": (Fraction(2500, 9), 0)},
    "ratio": {"%": (10_000, 0), "ppm": (1, 0), "1": (10**6, 0)},
    "angle": {"°": (1000, 0)},
    "count": {"pcs": (1, 0), "turns": (1, 0), "months": (1, 0)},
    "vibration": {"mm/s": (1000, 0), "in/s": (25_400, 0)},
}  # fmt: skip

_ALIASES = {
    "µm": "um", "μm": "um", "micron": "um", "inch": "in", '"': "in", "″": "in", "mil": "thou",
    "C": "°C", "degC": "°C", "ºC": "°C", "℃": "°C", "F": "°F", "degF": "°F", "ºF": "°F", "℉": "°F",
    "sec": "s", "hr": "h", "hours": "h", "minutes": "min", "lbs": "lb",
    "Gs": "G", "gauss": "G", "oersted": "Oe", "µT": "uT", "μT": "uT",
    "Nm": "N·m", "N m": "N·m", "N*m": "N·m", "lbf ft": "lbf·ft", "lbf in": "lbf·in",
}  # fmt: skip

_NUMBER = r"[+\-−]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)"
_NUMBER_AND_UNIT = rf"({_NUMBER})\s*(\S(?:.*\S)?)?"
_FROM_NOMINAL = rf"(\S+) from ({_NUMBER})\s*(\S+)"
_ABSOLUTE_ZERO_MDEGC = -273_150


class Measure(NamedTuple):
    """One quantity as typed: the text, the unit it was typed in, and the integer in the base unit."""

    typed: str
    unit: str
    base: int


def units_of(quantity: str) -> tuple[str, ...]:
    """The units a quantity may be typed in, the usual one first."""
    return tuple(_UNITS[quantity])


def per_unit(quantity: str, unit: str) -> Fraction:
    """How much of the base unit one `unit` is, exactly; of quantities counted from their own zero."""
    _, scale = _origin(known_unit(quantity, unit))
    return Fraction(_UNITS[quantity][scale][0])


def known_unit(quantity: str, unit: str) -> str:
    """The one spelling used here for a unit of this quantity; `um from 80 mm` passes for a length.

    Raises NotAQuantityError for a unit of another quantity.
    """
    name = _ALIASES.get(unit, unit)
    if name in _UNITS[quantity]:
        return name
    if quantity == "length" and len(unit) <= LONGEST_TEXT and (parts := re.fullmatch(_FROM_NOMINAL, unit)):
        return f"{known_unit(quantity, parts[1])} from {parts[2]} {known_unit(quantity, parts[3])}"
    raise NotAQuantityError(unit, quantity, units_of(quantity))


def parse_number(text: str) -> Decimal:
    """A plain decimal number: optional sign (true minus too), digits, at most one comma or point.

    Raises NotAQuantityError for anything else: empty, letters, NaN, exponents, two separators, or a text
    longer than any reading is. Costs nothing on huge text.
    """
    if len(text) > LONGEST_TEXT or not re.fullmatch(_NUMBER, trimmed := text.strip()):
        raise NotAQuantityError(text, "number", ())
    return Decimal(trimmed.replace(",", ".").replace("−", "-"))


def read(text: str, quantity: str, unit: str) -> Measure:
    """Read what a person typed into a field of `quantity` whose unit is `unit`.

    A unit typed behind the number wins if it belongs to the quantity (`2.3628 in` in a field of mm). In
    a field `um from 80 mm` a bare number or one in µm is the deviation, in mm or inch the whole size; the
    base is the whole size either way. Raises NotAQuantityError, or OutOfRangeError below absolute zero and
    beyond what the record can hold.
    """
    parts = re.fullmatch(_NUMBER_AND_UNIT, text.strip()) if len(text) <= LONGEST_TEXT else None
    if parts is None:
        raise NotAQuantityError(text, quantity, units_of(quantity))
    number, field_unit = parse_number(parts[1]), known_unit(quantity, unit)
    try:
        typed_unit = known_unit(quantity, parts[2]) if parts[2] else field_unit
    except NotAQuantityError:
        raise NotAQuantityError(text, quantity, units_of(quantity)) from None
    if " from " in field_unit and typed_unit == field_unit.split(" from ")[0]:
        typed_unit = field_unit
    base = round(_to_base(number, quantity, typed_unit))
    return Measure(text, typed_unit, _in_range(text, quantity, typed_unit, base))


def show(base: int, quantity: str, unit: str, decimals: int | None = None) -> str:
    """The base integer in `unit`: plain decimal point, no exponent, rounded half to even.

    Without `decimals` it is the shortest number that reads back as the same integer.
    """
    name = known_unit(quantity, unit)
    nominal, scale = _origin(name)
    factor, shift = _UNITS[quantity][scale]
    exact = Fraction(base - nominal) / factor - shift
    if decimals is not None:
        return _fixed(exact, decimals)
    places = 0
    while round(_to_base(Decimal(text := _fixed(exact, places)), quantity, name)) != base:
        places += 1
    return text


def _fixed(exact: Fraction, places: int) -> str:
    digits = f"{abs(scaled := round(exact * 10**places)):0{places + 1}d}"  # half to even, on the exact number
    whole, part = digits[: len(digits) - places], digits[len(digits) - places :]
    return ("-" if scaled < 0 else "") + (f"{whole}.{part}" if places else whole)


def _origin(unit: str) -> tuple[int, str]:
    """The base value a unit counts from, and the unit it counts in: `um from 80 mm` → (80_000_000, um)."""
    scale, _, nominal = unit.partition(" from ")
    if not nominal:
        return 0, scale
    number, nominal_unit = nominal.split(" ", 1)
    return round(_to_base(parse_number(number), "length", nominal_unit)), scale


def _to_base(number: Decimal, quantity: str, unit: str) -> Fraction:
    nominal, scale = _origin(unit)
    factor, shift = _UNITS[quantity][scale]
    return nominal + (Fraction(number) + shift) * factor


def _in_range(text: str, quantity: str, unit: str, base: int) -> int:
    lowest = _ABSOLUTE_ZERO_MDEGC if quantity == "temperature" else -BIGGEST_BASE
    if not lowest <= base <= BIGGEST_BASE:
        low, high = (show(end, quantity, unit) for end in (lowest, BIGGEST_BASE))
        raise OutOfRangeError(quantity, text, unit, low, high)
    return base
