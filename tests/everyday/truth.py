"""What is really there: sizes at 20 °C, clearances and temperatures that nobody knows exactly.

Shares of the spreads are common practice, no source: a ground journal at the stated Cp, bearings well inside
their class, instruments whose error is normal with their own standard uncertainty.
"""

import random
from collections.abc import Mapping
from dataclasses import dataclass

from qrecords.engineering.bearings import internal_clearance
from qrecords.engineering.clearance import loss_factor
from qrecords.engineering.limits import limits_of_size
from qrecords.steps.requirement import Limits, Requirement

ALPHA, ALPHA_SPREAD = 11.5e-6, 0.25e-6
"""Per kelvin; steels of shafts and gauges differ a little."""

Points = Mapping[tuple[str, str], float]
"""(plane, direction) → deviation from nominal at 20 °C, µm."""


@dataclass(frozen=True)
class Truth:
    journal: Points
    bore: Points
    g0_um: float
    g1_um: float
    air_c: float
    shaft_c: float
    bearing_c: float
    gauge_c: float


def _form(dice: random.Random, planes: str, directions: tuple[str, ...], mean: float, form: float) -> Points:
    """A surface about its mean: a little taper, a little oval, a little left over; `form` is the most that
    half of a difference may be, µm."""
    taper, oval, turn = dice.gauss(0, form / 5), abs(dice.gauss(0, form / 6)), dice.uniform(0, 360)
    middle = (len(planes) - 1) / 2

    def at(n: int, degrees: int) -> float:
        swing = 1 if (degrees - turn) % 180 < 90 else -1
        return mean + taper * (n - middle) + oval * swing + dice.gauss(0, form / 15)

    return {(plane, way): at(n, int(way)) for n, plane in enumerate(planes) for way in directions}


def _differences(points: Points) -> tuple[float, float]:
    """Half of the largest difference in a plane, and of the plane means."""
    planes = {plane: [v for (p, _), v in points.items() if p == plane] for plane, _ in points}
    means = [sum(values) / len(values) for values in planes.values()]
    ovals = [max(values) - min(values) for values in planes.values()]
    return max(ovals) / 2, (max(means) - min(means)) / 2


def within(
    dice: random.Random,
    places: tuple[str, tuple[str, ...]],
    limits_um: tuple[float, float],
    cp: float,
    form_um: float,
) -> Points:
    """A surface all of whose points are inside the limits, made by a process of this Cp in their middle,
    whose half differences are at most `form_um`; what falls outside was not sound and is made again."""
    low, high = limits_um
    while True:
        points = _form(dice, *places, dice.gauss((low + high) / 2, (high - low) / (6 * cp)), form_um)
        if all(low <= value <= high for value in points.values()) and max(_differences(points)) <= form_um:
            return points


def _um(limits: Limits) -> tuple[float, float]:
    return limits.lower_nm / 1000, limits.upper_nm / 1000


def draw(dice: random.Random, asked: Requirement, cp: float) -> Truth:
    """One sound bearing on one sound journal in a room of its own."""
    ways = ("0", "60") if asked.seat_width_mm < 30 else ("0", "60", "120")
    planes = "AB" if len(ways) == 2 else "ABC"
    it5 = limits_of_size(asked.nominal_mm, "h5")
    # Half of what is allowed: whoever grinds at this Cp grinds round.
    form_um = (it5.upper_nm - it5.lower_nm) / 4000
    journal = within(dice, (planes, ways), _um(asked.journal), cp, form_um)
    bore = within(dice, ("AB", ways), _um(asked.bore), 1.33, form_um)
    group = internal_clearance(asked.clearance_kind, asked.nominal_mm, asked.clearance_group)
    middle, half = (group.min_um + group.max_um) / 2, (group.max_um - group.min_um) / 2
    g0 = middle + max(-0.8, min(0.8, dice.gauss(0, 0.35))) * half
    mean_fit = sum(journal.values()) / len(journal) - sum(bore.values()) / len(bore)
    d = float(asked.nominal_mm)
    factor = loss_factor(d, float(asked.outside_mm), float(asked.shaft_bore_mm)).value
    loss = max(0.0, mean_fit) * d / (d + 2) * factor * dice.gauss(1, 0.04)
    air = dice.uniform(13, 27)
    near = [air + dice.gauss(0, 0.5) for _ in range(3)]
    return Truth(journal, bore, g0, g0 - loss, air, *near)


def read(dice: random.Random, true_um: float, nominal_mm: float, part_c: float, gauge_c: float,
         gauge: Mapping[str, object], bias_um: float) -> int:  # fmt: skip
    """What a gauge shows of a point in nm from nominal, warm part and warm gauge and all."""
    alpha = dice.gauss(ALPHA, ALPHA_SPREAD)
    grown = nominal_mm * 1000 * (alpha * (part_c - 20) - ALPHA * (gauge_c - 20))
    repeat, digit = float(str(gauge["repeatability"])) / 1000, float(str(gauge["resolution"])) / 1000
    shown = (true_um + grown + bias_um + dice.gauss(0, repeat)) / digit
    return round(round(shown) * digit * 1000)
