"""A form of the planner while it is read: texts to quantities by the one door, and what is asked back."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from qrecords.engineering.errors import EngineeringError, NotAQuantityError
from qrecords.engineering.tables import BUILT_IN, Tables
from qrecords.engineering.units import parse_number, read, show
from qrecords.steps.errors import FieldError, LineError
from qrecords.steps.planner.asked import LENGTHS, MASSES, SPEEDS, TEMPERATURES

FURTHEST_NM = 2_000_000
"""Further from nominal than this a deviation is a slip."""
NEAR_IN_INCH_NM = 254_000
"""Within 0.01 in of nominal a bare number may be the size in inch; thou of a small bore lie further off."""
OUTSIDE, NOT_UNDERSTOOD, NOT_ONE_OF = "outside", "not-understood", "not-one-of"
"""Why a number or a choice gives no answer: ids of the sentences that the edge has."""
_METRIC = ("mm", "um", "°C", "K", "kg", "m/s")


@dataclass
class Form:
    """What was typed, in which units a bare number counts, by which tables, and what is asked back so far."""

    typed: Mapping[str, str]
    tables: Tables = BUILT_IN
    asks: dict[str, FieldError] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._lengths = self.one_of("lengths", tuple(LENGTHS)) or "mm"
        self.size_unit, self.deviation_unit = LENGTHS[self._lengths]
        self.mass_unit, self.speed_unit = MASSES[self._lengths], SPEEDS[self._lengths]
        self.heat_unit, self.difference_unit = TEMPERATURES[
            self.one_of("temperatures", tuple(TEMPERATURES)) or "C"
        ]

    def text(self, name: str) -> str:
        return self.typed.get(name, "").strip()

    def ask(self, name: str, why: str, allowed: str = "", unit: str = "", **facts: str) -> None:
        """Ask this field back; what was found wrong with it first stands. `why` is the id of a sentence with
        these facts; `allowed` is a range or a list, '' where that sentence tells what would be right."""
        self.asks.setdefault(name, FieldError(name, self.text(name), unit, allowed, why, facts))

    def ask_of_line(self, name: str, line: int, typed: str, allowed: str, why: str, unit: str = "") -> None:
        """Ask one line of this field back; what was found wrong with it first stands."""
        self.asks.setdefault(name, LineError(name, line, typed, unit, allowed, why))

    def one_of(self, name: str, options: Sequence[str]) -> str:
        """One of the options; '' where nothing was chosen, or what is asked back."""
        text = self.text(name)
        if text and text not in options:
            self.ask(name, NOT_ONE_OF, ", ".join(options))
            return ""
        return text

    def size_mm(self, name: str, low_mm: str, high_mm: str) -> Decimal | None:
        """A whole size in mm, exact."""
        ends = (int(Decimal(low_mm) * 10**6), int(Decimal(high_mm) * 10**6))
        found = self._number(name, "length", self.size_unit, *ends)
        return None if found is None else Decimal(found) / 10**6

    def said_mm(self, size_mm: Decimal | str) -> str:
        """A size in mm as this form says it, in its unit of sizes: exact in mm, else to 0.0001 in."""
        if self.size_unit == "mm":
            return f"{Decimal(size_mm).normalize():f} mm"
        nm = int(Decimal(size_mm) * 10**6)
        return f"{show(nm, 'length', self.size_unit, 4)} {self.size_unit}"

    def length_nm(self, name: str, low_nm: int, high_nm: int) -> int | None:
        """A small length in nm: a clearance, an uncertainty."""
        return self._number(name, "length", self.deviation_unit, low_nm, high_nm)

    def deviation_nm(self, name: str, nominal_mm: Decimal) -> int | None:
        """A deviation from nominal in nm; with mm or inch typed behind it, it is the whole size."""
        unit, nominal = self.deviation_unit, f"{nominal_mm.normalize():f} mm"
        low, high = ends_shown(-FURTHEST_NM, FURTHEST_NM, unit)
        allowed = f"{low}…{high} {unit} from {nominal}"
        if self._looks_whole(name, nominal_mm):
            self.ask(name, "whole-size", allowed, unit, size_unit=self.size_unit)
            return None
        if not self.text(name):
            return None
        whole = self._read(name, "length", f"{unit} from {nominal}", allowed)
        if whole is None:
            return None
        deviation = whole - int(nominal_mm * 10**6)
        if abs(deviation) > FURTHEST_NM:
            self.ask(name, OUTSIDE, allowed, unit)
            return None
        return deviation

    def mass_kg(self, name: str, low_kg: str, high_kg: str) -> Decimal | None:
        """A mass in kg, to the milligram."""
        ends = (int(Decimal(low_kg) * 10**6), int(Decimal(high_kg) * 10**6))
        found = self._number(name, "mass", self.mass_unit, *ends)
        return None if found is None else Decimal(found) / 10**6

    def metres_a_second(self, name: str, high_m_s: int) -> float | None:
        found = self._number(name, "speed", self.speed_unit, 0, high_m_s * 1000)
        return None if found is None else found / 1000

    def celsius(self, name: str, low_c: int, high_c: int) -> float | None:
        found = self._number(name, "temperature", self.heat_unit, low_c * 1000, high_c * 1000)
        return None if found is None else found / 1000

    def kelvin(self, name: str, high_k: int) -> float | None:
        found = self._number(name, "temperature_difference", self.difference_unit, 0, high_k * 1000)
        return None if found is None else found / 1000

    def _number(self, name: str, quantity: str, unit: str, low: int, high: int) -> int | None:
        if not self.text(name):
            return None
        allowed = f"{_shown(low, quantity, unit)}…{_shown(high, quantity, unit)} {unit}"
        base = self._read(name, quantity, unit, allowed)
        if base is not None and not low <= base <= high:
            self.ask(name, OUTSIDE, allowed, unit)
            return None
        return base

    def _read(self, name: str, quantity: str, unit: str, allowed: str) -> int | None:
        try:
            return read(self.text(name), quantity, unit).base
        except EngineeringError as error:
            why = NOT_UNDERSTOOD if isinstance(error, NotAQuantityError) else OUTSIDE
            self.ask(name, why, allowed, unit.partition(" from ")[0])
            return None

    def _looks_whole(self, name: str, nominal_mm: Decimal) -> bool:
        """Without a unit, this very size in mm to two decimals or more, or in inch to three or more: no gauge
        shows hundredths of a micrometre or thousandths of a thou."""
        try:
            number = parse_number(self.text(name))
        except EngineeringError:
            return False
        decimals = -int(number.as_tuple().exponent)
        in_mm = abs(number - nominal_mm) * 10**6 <= FURTHEST_NM
        in_inch = abs(number * Decimal("25.4") - nominal_mm) * 10**6 <= NEAR_IN_INCH_NM
        return (decimals >= 2 and in_mm) or (decimals >= 3 and in_inch)


def ends_shown(low_nm: int, high_nm: int, unit: str) -> tuple[str, str]:
    """Both ends of a range of lengths, as an error says them."""
    return _shown(low_nm, "length", unit), _shown(high_nm, "length", unit)


def _shown(base: int, quantity: str, unit: str) -> str:
    """An end of a range: exact in metric units, else to hundredths."""
    if unit in _METRIC:
        return show(base, quantity, unit)
    text = show(base, quantity, unit, 2)
    return text.rstrip("0").rstrip(".")
