"""How a number goes wrong at the keyboard."""

from collections.abc import Mapping
from decimal import Decimal

NO_NUMBER: Mapping[str, str] = {
    "letters": "sixty",
    "comma and point": "6,0.1",
    "NaN": "NaN",
    "a hundred thousand digits": "9" * 100_000,
}
"""What yields no quantity at all: always asked back."""
SLIPS = ("10 times", "25.4 times", "1000 times", "negative", "°F typed as °C")
FAULTS = (*NO_NUMBER, "empty", *SLIPS)
SHOWN = 40
"""So much of what was typed is at least given back in words."""


def spoilt(sound: str, fault: str) -> str:
    """A sound number as it is typed after one slip."""
    if fault in NO_NUMBER:
        return NO_NUMBER[fault]
    value = Decimal(sound)
    slips = {
        "empty": "",
        "10 times": f"{value * 10:f}",
        "25.4 times": f"{value * Decimal('25.4'):f}",
        "1000 times": f"{value * 1000:f}",
        "negative": f"{-value:f}",
        "°F typed as °C": f"{value * 9 / 5 + 32:f}",
    }
    return slips[fault]
