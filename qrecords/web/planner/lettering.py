"""The reader's units: mm and µm or inch and thou, °C or °F, always rounded to the safe side."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.units import read, show
from qrecords.steps.planner.asked import LENGTHS, TEMPERATURES
from qrecords.web.figures import with_unit
from qrecords.web.showing import FIGURES

SIZES = ("nominal", "outside", "width", "shaft_bore")
SMALL = ("journal_low", "journal_high", "bore", "g0", "other_g0", "gauge_u", "least")
WARM = ("shaft_temp", "air_temp", "ceiling", "habit")
DIFFERENT = ("evenly",)
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

    def units(self, name: str) -> tuple[str, str]:
        """Quantity and unit in which a bare number of this input counts."""
        small, size = LENGTHS[self.lengths][1], LENGTHS[self.lengths][0]
        heat, difference = TEMPERATURES[self.temperatures]
        if name in SIZES:
            return "length", size
        if name in SMALL:
            return "length", small
        return ("temperature", heat) if name in WARM else ("temperature_difference", difference)

    def unit_of(self, name: str) -> str:
        """The unit that stands in the box of this input."""
        if name not in (*SIZES, *SMALL, *WARM, *DIFFERENT):
            return ""
        unit = self.units(name)[1]
        return UNIT_WORDS.get(unit, unit)


def in_other_units(typed: Mapping[str, str], to: Lettering) -> dict[str, str]:
    """What was typed with every bare number put into other units, so that the question stays the same; what
    has its own unit behind it, or is no number, stays as it was typed."""
    now = Lettering.of(typed)
    found = {name: text for name, text in typed.items() if text.strip()}
    for name in (*SIZES, *SMALL, *WARM, *DIFFERENT):
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
