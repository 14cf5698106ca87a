"""Lettering of numbers: true minus, the reader's decimal sign, thin gap before a unit, ( ) for worked out.

Three hands, never mixed: a plain figure was typed by a person, a figure in ( ) is worked out and not measured
(auxiliary dimension, ISO 129-1), a signed figure is a deviation from nominal. Numbers are Decimal or int;
a float never reaches a page.
"""

from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal

from django.utils.formats import get_format

from qrecords.engineering.units import NT_PER_A_PER_CM

MINUS = "\u2212"
NT_PER_A_CM = Decimal(NT_PER_A_PER_CM.numerator) / NT_PER_A_PER_CM.denominator
"""A field in air: how many nanotesla one ampere per centimetre makes."""
THIN_GAP = "\u202f"  # narrow no-break space: number and unit stay on one line
ELLIPSIS = "\u2026"
UNSEEN = "\u25a1"

Number = Decimal | int


@dataclass(frozen=True)
class Figures:
    """How one reader's numbers are lettered. `decimal_sign` is a comma or a point."""

    decimal_sign: str = "."

    @classmethod
    def for_language(cls, language: str) -> "Figures":
        """The decimal sign of a language, from Django's locale tables (CLDR)."""
        return cls(str(get_format("DECIMAL_SEPARATOR", lang=language, use_l10n=True)))

    def plain(self, value: Number, places: int | None = None) -> str:
        """`-8.1` → `−8,1`. `places` rounds half-even; None keeps the digits as they are."""
        number = Decimal(value)
        if places is not None:
            number = number.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_EVEN)
        text = f"{abs(number):f}".replace(".", self.decimal_sign)
        return MINUS + text if number < 0 else text

    def signed(self, value: Number, places: int | None = None) -> str:
        """A deviation: `+11`, `−6`; what rounds to nought is `0` without a sign."""
        text = self.plain(value, places)
        nought = not any(digit in text for digit in "123456789")
        if nought:
            return text.removeprefix(MINUS)
        return text if text.startswith(MINUS) else "+" + text

    def worked_out(self, value: Number, places: int | None = None) -> str:
        """`(8,1)`: worked out, not measured."""
        return f"({self.plain(value, places)})"

    def span(self, low: Number, high: Number, places: int | None = None) -> str:
        """`13…48`; of deviations `+43…+68` comes from `signed_span_um`."""
        return f"{self.plain(low, places)}{ELLIPSIS}{self.plain(high, places)}"

    def share(self, share: Decimal) -> str:
        """A chance of 0…1 as it is read: `2.5 %`, never quite 0 nor 100 unless it is."""
        percent = share * 100
        if 0 < percent < Decimal("0.1"):
            return with_unit("< " + self.plain(Decimal("0.1")), "%")
        if Decimal("99.9") < percent < 100:
            return with_unit("> " + self.plain(Decimal("99.9")), "%")
        return with_unit(self.plain(percent, 1).removesuffix(f"{self.decimal_sign}0"), "%")

    def um(self, value_nm: int, places: int | None = None) -> str:
        """Micrometres from integer nanometres: 8100 → `8,1`; places None drops idle noughts."""
        return self.plain(_scaled(value_nm, 3, places), places)

    def deviation_um(self, value_nm: int, places: int | None = None) -> str:
        """Signed micrometres from integer nanometres: 11000 → `+11`."""
        return self.signed(_scaled(value_nm, 3, places), places)

    def span_um(self, low_nm: int, high_nm: int, places: int | None = None) -> str:
        """`13…48` from integer nanometres."""
        return f"{self.um(low_nm, places)}{ELLIPSIS}{self.um(high_nm, places)}"

    def signed_span_um(self, low_nm: int, high_nm: int, places: int | None = None) -> str:
        """`+43…+68` from integer nanometres."""
        return f"{self.deviation_um(low_nm, places)}{ELLIPSIS}{self.deviation_um(high_nm, places)}"

    def mm(self, value_nm: int, places: int | None = None) -> str:
        """Millimetres from integer nanometres: 80009000 → `80,009`."""
        return self.plain(_scaled(value_nm, 6, places), places)

    def celsius(self, value_mdegc: int, places: int | None = None) -> str:
        """Degrees Celsius from integer thousandths: 68200 → `68,2`; without the unit."""
        return self.plain(_scaled(value_mdegc, 3, places), places)

    def tenths_of_celsius(self, value_mdegc: int) -> str:
        """As finely as a thermometer is read, an idle nought dropped: 21667 → `21,7`."""
        return self.celsius(value_mdegc, 1).removesuffix(f"{self.decimal_sign}0")

    def worked_out_celsius(self, value_mdegc: int, places: int | None = 0) -> str:
        """`(68)`: a temperature nobody read, to whole degrees unless told."""
        return f"({self.celsius(value_mdegc, places)})"


def _scaled(value: int, exponent: int, places: int | None) -> Decimal:
    number = Decimal(value).scaleb(-exponent)
    if places is not None:
        return number
    return number.quantize(Decimal(1)) if number == number.to_integral_value() else number.normalize()


def visible(typed: str) -> str:
    """What was typed, with a box for every sign that cannot be seen."""
    return "".join(sign if sign.isprintable() else UNSEEN for sign in typed)


def own_unit(typed: str, unit: str) -> str:
    """The unit to write behind a figure as typed; '' where somebody typed the unit with it."""
    with_it = any(each.isdigit() for each in typed) and typed.rstrip()[-1:].isalpha()
    return "" if with_it else unit


def with_unit(text: str, unit: str) -> str:
    """`13` and `µm` with a thin gap that never breaks; angles and seconds of arc have none (ISO 80000-1)."""
    return text + unit if unit in ("°", "′", "″") else text + THIN_GAP + unit
