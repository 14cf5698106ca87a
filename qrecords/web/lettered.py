"""A number of a base unit as a reader sees it: which unit, how many places."""

from collections.abc import Mapping
from decimal import Decimal

from qrecords.steps.findings import Fact
from qrecords.wording.figures import ELLIPSIS, NT_PER_A_CM, Figures, with_unit

Shown = tuple[str, Decimal, int]
"""The unit a reader sees, how many base units make one, and the places shown."""
UNITS: Mapping[str, Shown] = {
    "nm": ("µm", Decimal(1000), 1),
    "mK": ("K", Decimal(1000), 1),
    "m°C": ("°C", Decimal(1000), 1),
    "ms": ("s", Decimal(1000), 0),
    "nT": ("A/cm", NT_PER_A_CM, 1),
    "mg": ("g", Decimal(1000), 1),
    "ppm": ("%", Decimal(10_000), 1),
    "mN·m": ("N·m", Decimal(1000), 2),
    "µm/s": ("mm/s", Decimal(1000), 1),
    "months": ("months", Decimal(1), 0),
}
"""By base unit."""
COARSER: Mapping[str, tuple[tuple[int, Shown], ...]] = {
    "nm": ((500_000, ("mm", Decimal(1_000_000), 2)),),
    "ms": ((7_200_000, ("h", Decimal(3_600_000), 1)), (600_000, ("min", Decimal(60_000), 0))),
}
"""From so many base units on, the coarser unit that people say."""


def unit_for(unit: str, *numbers: int | None) -> Shown:
    """The unit in which these numbers are said together."""
    most = max((abs(number) for number in numbers if number is not None), default=0)
    return next((coarse for least, coarse in COARSER.get(unit, ()) if most >= least), UNITS[unit])


def number_in(shown: Shown, base: int, figures: Figures) -> str:
    _unit, per_unit, places = shown
    text = figures.plain(Decimal(base) / per_unit, places)
    return text.rstrip("0").removesuffix(figures.decimal_sign) if places else text


def measured(facts: Mapping[str, Fact], figures: Figures) -> dict[str, str]:
    """`found` and `wanted` of a number and its limits, as any rule over one number tells them."""
    value, low, high = (int(facts[key]) if key in facts else None for key in ("number", "least", "most"))
    shown = unit_for(str(facts["base_unit"]), value, low, high)
    said = [None if each is None else number_in(shown, each, figures) for each in (value, low, high)]
    found, least, most = said
    if least is not None and most is not None:
        wanted = f"{least}{ELLIPSIS}{most}"
    else:
        wanted = f"≥ {least}" if least is not None else f"≤ {most}"
    return {"found": with_unit(str(found), shown[0]), "wanted": with_unit(wanted, shown[0])}
