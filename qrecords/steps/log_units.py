"""What the words over the columns of a heating log say: °C or °F, and what the time is counted in."""

import re
from collections.abc import Sequence

_UNIT = re.compile(
    r"(?:°|º|˚|\bdeg\.?\s?)\s?([CF])\b|[\[(]\s*([CF])\s*[\])]|(?:^|[\s,;/_])([CF])\s*$|\b(Cel|Fahr)"
)
_TIME_UNIT = re.compile(r"(?:[\[(,/_\s]|^)\s*(ms|s|secs?|seconds?|min|minutes?|h|hours?)\s*[\])]?\s*$", re.I)


def unit(words: str) -> str:
    said = {next(filter(None, found))[0] for found in _UNIT.findall(words)}
    return f"°{said.pop()}" if len(said) == 1 else ""


def unit_in(cells: Sequence[str]) -> str:
    """The unit behind the numbers, where it stands behind one of the first."""
    return next((f"°{cell[-1]}" for cell in cells[:5] if len(cell) > 1 and cell[-1] in "CF"), "")


def unit_of_all(header: Sequence[tuple[int, Sequence[str]]]) -> str:
    return unit("\n".join(cell for _, cells in header for cell in cells))


def time_unit(name: str) -> str:
    said = _TIME_UNIT.search(name)
    word = said[1].lower() if said else "s"
    if word.startswith("s"):
        return "s"
    return word if word == "ms" else "min" if word.startswith("min") else "h"
