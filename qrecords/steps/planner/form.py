"""A form of the planner while it is read: texts to quantities by the one door, and what is asked back."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from qrecords.engineering.errors import EngineeringError, NotAQuantityError
from qrecords.engineering.tables import BUILT_IN, Tables
from qrecords.engineering.units import parse_number, read, show
from qrecords.steps.errors import FieldError, LineError
from qrecords.steps.planner.asked import LENGTHS, TEMPERATURES

FURTHEST_NM = 2_000_000
"""Further from nominal than this a deviation is a slip."""
OUTSIDE, NOT_UNDERSTOOD = "outside", "not understood"
"""Why a number gives no answer, as a word that a page has a sentence for."""
_METRIC = ("mm", "um", "°C", "K")


@dataclass
class Form:
    """What was typed, in which units a bare number counts, by which tables, and what is asked back so far."""

    typed: Mapping[str, str]
    tables: Tables = BUILT_IN
    asks: dict[str, FieldError] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.size_unit, self.deviation_unit = LENGTHS[self.one_of("lengths", tuple(LENGTHS)) or "mm"]
        self.heat_unit, self.difference_unit = TEMPERATURES[
            self.one_of("temperatures", tuple(TEMPERATURES)) or "C"
        ]

    def text(self, name: str) -> str:
        return self.typed.get(name, "").strip()

    def ask(self, name: str, allowed: str, why: str = "", unit: str = "") -> None:
        """Ask this field back; what was found wrong with it first stands."""
        self.asks.setdefault(name, FieldError(name, self.text(name), unit, allowed, why))

    def ask_of_line(self, name: str, line: int, typed: str, allowed: str, why: str, unit: str = "") -> None:
        """Ask one line of this field back; what was found wrong with it first stands."""
        self.asks.setdefault(name, LineError(name, line, typed, unit, allowed, why))

    def one_of(self, name: str, options: Sequence[str]) -> str:
        """One of the options; '' where nothing was chosen, or what is asked back."""
        text = self.text(name)
        if text and text not in options:
            self.ask(name, ", ".join(options))
            return ""
        return text

    def size_mm(self, name: str, low_mm: str, high_mm: str) -> Decimal | None:
        """A whole size in mm, exact."""
        ends = (int(Decimal(low_mm) * 10**6), int(Decimal(high_mm) * 10**6))
        found = self._number(name, "length", self.size_unit, *ends)
        return None if found is None else Decimal(found) / 10**6

    def length_nm(self, name: str, low_nm: int, high_nm: int) -> int | None:
        """A small length in nm: a clearance, an uncertainty."""
        return self._number(name, "length", self.deviation_unit, low_nm, high_nm)

    def deviation_nm(self, name: str, nominal_mm: Decimal) -> int | None:
        """A deviation from nominal in nm; with mm or inch typed behind it, it is the whole size."""
        unit, nominal = self.deviation_unit, f"{nominal_mm.normalize():f} mm"
        low, high = ends_shown(-FURTHEST_NM, FURTHEST_NM, unit)
        allowed = f"{low}…{high} {unit} from {nominal}"
        if self._looks_whole(name, nominal_mm):
            why = f"a whole size, where a deviation stands: write {self.size_unit} behind it"
            self.ask(name, allowed, why, unit)
            return None
        if not self.text(name):
            return None
        whole = self._read(name, "length", f"{unit} from {nominal}", allowed)
        if whole is None:
            return None
        deviation = whole - int(nominal_mm * 10**6)
        if abs(deviation) > FURTHEST_NM:
            self.ask(name, allowed, OUTSIDE, unit)
            return None
        return deviation

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
            self.ask(name, allowed, OUTSIDE, unit)
            return None
        return base

    def _read(self, name: str, quantity: str, unit: str, allowed: str) -> int | None:
        try:
            return read(self.text(name), quantity, unit).base
        except EngineeringError as error:
            why = NOT_UNDERSTOOD if isinstance(error, NotAQuantityError) else str(error)
            self.ask(name, allowed, why, unit.partition(" from ")[0])
            return None

    def _looks_whole(self, name: str, nominal_mm: Decimal) -> bool:
        """Two decimals or more, without a unit, that would be this very size in mm or inch: no gauge shows
        hundredths of a micrometre."""
        try:
            number = parse_number(self.text(name))
        except EngineeringError:
            return False
        near = (abs(number * scale - nominal_mm) * 10**6 <= FURTHEST_NM for scale in (1, Decimal("25.4")))
        return -int(number.as_tuple().exponent) >= 2 and any(near)


def ends_shown(low_nm: int, high_nm: int, unit: str) -> tuple[str, str]:
    """Both ends of a range of lengths, as an error says them."""
    return _shown(low_nm, "length", unit), _shown(high_nm, "length", unit)


def _shown(base: int, quantity: str, unit: str) -> str:
    """An end of a range: exact in metric units, else to hundredths."""
    if unit in _METRIC:
        return show(base, quantity, unit)
    text = show(base, quantity, unit, 2)
    return text.rstrip("0").rstrip(".")
