"""The reader's units: mm and µm or inch and thou, °C or °F, always rounded to the safe side."""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.result import Result
from qrecords.engineering.units import read, show
from qrecords.steps.planner.asked import LENGTHS, MASSES, SPEEDS, TEMPERATURES
from qrecords.wording.figures import Figures, with_unit

FIGURES = Figures(".")
SIZES = ("nominal", "outside", "width", "shaft_bore", "raceway")
SMALL = ("journal_low", "journal_high", "bore", "g0", "other_g0", "gauge_u", "least")
WARM = ("shaft_temp", "air_temp", "ceiling", "habit")
DIFFERENT = ("evenly",)
MASS, SPEED = ("mass",), ("air_speed",)
WITH_UNIT = (*SIZES, *SMALL, *WARM, *DIFFERENT, *MASS, *SPEED)
_IN_WORKINGS = re.compile(
    r"(?<![\w.])([+−-]?\d+(?:\.\d+)?(?:e[+-]?\d+)?) (10⁻⁶/K|mm|um|µm|°C|K|m/s)(?![\w/·²³])"
)
_INCH: Mapping[str, tuple[str, float]] = {
    "mm": ("in", 1 / 25.4), "um": ("thou", 1 / 25.4), "µm": ("thou", 1 / 25.4),
    "m/s": ("ft/min", 60 / 0.3048),
}  # fmt: skip
_FAHRENHEIT: Mapping[str, tuple[str, float]] = {
    "°C": ("°F", 9 / 5), "K": ("°F", 9 / 5), "10⁻⁶/K": ("10⁻⁶/°F", 5 / 9),
}  # fmt: skip
"""Unit of a working → the reader's, and how many of it one is; a temperature counts from 32 °F besides."""
UNIT_WORDS: Mapping[str, str] = {"um": "µm"}


@dataclass(frozen=True)
class Lettering:
    """How one reader's plan is lettered. `lengths` mm or in, `temperatures` C or F."""

    lengths: str = "mm"
    temperatures: str = "C"

    @classmethod
    def of(cls, typed: Mapping[str, str]) -> "Lettering":
        """As chosen in the address; what is no choice is metric."""
        lengths, heat = typed.get("lengths", ""), typed.get("temperatures", "")
        return cls(lengths if lengths in LENGTHS else "mm", heat if heat in TEMPERATURES else "C")

    @property
    def size_unit(self) -> str:
        return LENGTHS[self.lengths][0]

    @property
    def small_unit(self) -> str:
        unit = LENGTHS[self.lengths][1]
        return UNIT_WORDS.get(unit, unit)

    @property
    def heat_unit(self) -> str:
        return TEMPERATURES[self.temperatures][0]

    @property
    def difference_unit(self) -> str:
        return TEMPERATURES[self.temperatures][1]

    @property
    def places(self) -> int:
        """So many places a worked-out deviation has: whole µm, hundredths of a thou."""
        return 0 if self.lengths == "mm" else 2

    def thousandths(self, nm: int) -> int:
        """A length as the pictures take it: thousandths of µm or of thou."""
        return nm if self.lengths == "mm" else round(nm / 25.4)

    def small(self, nm: int, *, signed: bool = False, whole: bool = True) -> str:
        """A deviation or clearance without its unit. `whole`: worked out, to whole µm; else as finely as a
        limit is written."""
        places = self.places if whole or self.lengths != "mm" else None
        letter = FIGURES.deviation_um if signed else FIGURES.um
        return letter(self.thousandths(nm), places)

    def fine(self, value_um: float) -> str:
        """A worked-out length as a working has it: tenths of µm, hundredths of a thou."""
        if self.lengths == "mm":
            return FIGURES.plain(round(Decimal(repr(value_um)), 1))
        return FIGURES.plain(Decimal(repr(value_um)) / Decimal("25.4"), 2)

    def small_with_unit(self, nm: int, *, signed: bool = False, whole: bool = True) -> str:
        return with_unit(self.small(nm, signed=signed, whole=whole), self.small_unit)

    def millidegrees(self, mdegc: int) -> int:
        """A temperature as the pictures take it: thousandths of °C or of °F."""
        return mdegc if self.temperatures == "C" else round(mdegc * 9 / 5 + 32_000)

    def heat(self, mdegc: int, towards: str = "") -> str:
        """A temperature in whole degrees: the nearest, or `up` or `down` where only that is safe."""
        exact = self.millidegrees(mdegc) / 1000
        degrees = {"up": math.ceil, "down": math.floor}.get(towards, round)(exact)
        return FIGURES.plain(Decimal(degrees))

    def heat_with_unit(self, mdegc: int, towards: str = "") -> str:
        return with_unit(self.heat(mdegc, towards), self.heat_unit)

    def difference(self, mk: int) -> str:
        """A temperature difference with its unit, down to whole degrees: what may be used up."""
        exact = mk / 1000 if self.temperatures == "C" else mk / 1000 * 9 / 5
        return with_unit(FIGURES.plain(Decimal(math.floor(exact + 1e-9))), self.difference_unit)

    def speed(self, mm_s: int) -> str:
        """A speed of air with its unit."""
        unit = SPEEDS[self.lengths]
        return with_unit(FIGURES.plain(Decimal(show(mm_s, "speed", unit, 1 if unit == "m/s" else 0))), unit)

    def result(self, found: Result) -> Result:
        """A working in these lengths and temperatures: the value, the numbers put in, the constants in
        its formula. Stresses, forces, masses and energies stay as they are."""
        unit, times = self._units_in_workings().get(found.unit, (found.unit, 1.0))
        value = found.value * times + (32 if unit != "°C" and found.unit == "°C" else 0)
        return replace(
            found,
            value=value,
            unit=unit,
            u=None if found.u is None else found.u * times,
            formula=self._put(found.formula),
            put_in=tuple((symbol, self._put(said)) for symbol, said in found.put_in),
            assumptions=tuple(self._put(each) for each in found.assumptions),
            validity=tuple(self._put(each) for each in found.validity),
        )

    def _units_in_workings(self) -> dict[str, tuple[str, float]]:
        inch = _INCH if self.lengths == "in" else {}
        return {**inch, **(_FAHRENHEIT if self.temperatures == "F" else {})}

    def _put(self, text: str) -> str:
        """Every number with a unit in this reader's, to five figures; a whole diameter to seven, because
        differences are made of them."""
        units = self._units_in_workings()

        def put(match: re.Match[str]) -> str:
            number, unit = match.groups()
            if unit not in units:
                return match[0]
            there, times = units[unit]
            value = float(number.replace("−", "-")) * times + (32 if unit == "°C" else 0)
            measured = unit == "mm" and len(number.partition(".")[2]) > 1
            return f"{value:.{7 if measured else 5}g} {there}"

        return _IN_WORKINGS.sub(put, text)

    def units(self, name: str) -> tuple[str, str]:
        """Quantity and unit in which a bare number of this input counts."""
        small, size = LENGTHS[self.lengths][1], LENGTHS[self.lengths][0]
        heat, difference = TEMPERATURES[self.temperatures]
        if name in SIZES:
            return "length", size
        if name in SMALL:
            return "length", small
        if name in MASS:
            return "mass", MASSES[self.lengths]
        if name in SPEED:
            return "speed", SPEEDS[self.lengths]
        return ("temperature", heat) if name in WARM else ("temperature_difference", difference)

    def unit_of(self, name: str) -> str:
        """The unit that stands in the box of this input."""
        if name not in WITH_UNIT:
            return ""
        unit = self.units(name)[1]
        return UNIT_WORDS.get(unit, unit)


def in_other_units(typed: Mapping[str, str], to: Lettering) -> dict[str, str]:
    """What was typed with every bare number put into other units, so that the question stays the same; what
    has its own unit behind it, or is no number, stays as it was typed."""
    now = Lettering.of(typed)
    found = {name: text for name, text in typed.items() if text.strip()}
    for name in WITH_UNIT:
        if name in found:
            found[name] = _anew(found[name], now.units(name), to.units(name))
    found |= {"lengths": to.lengths, "temperatures": to.temperatures}
    return found


def _anew(text: str, now: tuple[str, str], to: tuple[str, str]) -> str:
    if now == to or any(sign.isalpha() or sign in '°"″' for sign in text):
        return text
    try:
        return show(read(text, *now).base, *to)
    except EngineeringError:
        return text
