"""What heats a bearing: energy, time and rate, and how far the inner ring runs ahead of the outer one.

Two bodies, the inner ring and the outer ring with the rolling elements, joined by a link for heat; no loss to
the air. Masses in kg, power in W, temperatures in °C, differences in K, times in s. The share of the heat
that enters the inner ring and the link belong to heater and bearing: fit them from two probes.
"""

import math
from dataclasses import dataclass
from typing import NamedTuple

from .errors import OutsideValidityError
from .growth import ring_difference_allowed
from .materials import HEAT_CAPACITY_J_KG_K
from .ranges import above, inside
from .result import Result, said

BALANCE = "energy balance; Incropera, Heat and Mass Transfer, ch. 5 (lumped capacity)"
_FITTED = ("η, f and G_b belong to the heater and the bearing: fitted, not published",)
_LOSSLESS = ("constant power, no loss to the air",)
FREE, LOOK, CLAMPED = "free", "look", "clamped"
_HALVINGS = 60  # of a bracket: more than float64 can tell apart


def energy(mass_kg: float, rise_k: float) -> Result:
    """Heat in J that a bearing takes up over a rise."""
    above("mass", mass_kg, "kg")
    above("rise", rise_k, "K")
    return Result(
        mass_kg * HEAT_CAPACITY_J_KG_K * rise_k, "J", None, "E = m·cp·ΔT",
        (*_mass_put_in(mass_kg), ("ΔT", said(rise_k, "K"))), ("one temperature throughout",), BALANCE,
    )  # fmt: skip


def heating_time(mass_kg: float, rise_k: float, power_w: float, efficiency: float) -> Result:
    """Seconds to heat the whole bearing through; a probe on the inner ring stops the heater sooner."""
    net_w = net_power(power_w, efficiency).value
    return Result(
        energy(mass_kg, rise_k).value / net_w, "s", None, "t = m·cp·ΔT/(η·P)",
        (*_mass_put_in(mass_kg), ("ΔT", said(rise_k, "K")), ("ηP", said(net_w, "W"))),
        ("one temperature throughout", *_LOSSLESS), BALANCE, _FITTED,
    )  # fmt: skip


def mean_rate(mass_kg: float, power_w: float, efficiency: float) -> Result:
    """Mean rise of the whole bearing in K/s."""
    net_w = net_power(power_w, efficiency).value
    return Result(
        net_w / (above("mass", mass_kg, "kg") * HEAT_CAPACITY_J_KG_K), "K/s", None, "r = η·P/(m·cp)",
        (*_mass_put_in(mass_kg), ("ηP", said(net_w, "W"))),
        ("one temperature throughout", *_LOSSLESS), BALANCE, _FITTED,
    )  # fmt: skip


def net_power(power_w: float, efficiency: float) -> Result:
    """The power in W that enters the bearing."""
    return Result(
        above("power P", power_w, "W") * above("efficiency η", efficiency, "1", 0.0, 1.0), "W", None, "η·P",
        (("P", said(power_w, "W")), ("η", said(efficiency))), (), BALANCE, _FITTED,
    )  # fmt: skip


@dataclass(frozen=True)
class TwoRings:
    """A bearing as two bodies.

    `outer_kg` holds the rolling elements; `inner_share` is the part of the heat that enters the inner ring,
    0 to 1; `link_w_k` is what crosses between the rings for each K.
    """

    inner_kg: float
    outer_kg: float
    inner_share: float
    link_w_k: float

    def __post_init__(self) -> None:
        above("inner ring", self.inner_kg, "kg")
        above("outer ring with rolling elements", self.outer_kg, "kg")
        inside("share of heat f", self.inner_share, "1", 0.0, 1.0)
        above("link G_b", self.link_w_k, "W/K")

    @property
    def inner_j_k(self) -> float:
        """Heat capacity of the inner ring."""
        return self.inner_kg * HEAT_CAPACITY_J_KG_K

    @property
    def outer_j_k(self) -> float:
        """Heat capacity of the outer ring with the rolling elements."""
        return self.outer_kg * HEAT_CAPACITY_J_KG_K

    @property
    def settling_s(self) -> float:
        """τ, in which the difference of the rings comes within 1/e of the one it settles at."""
        both = self.inner_j_k + self.outer_j_k
        return self.inner_j_k * self.outer_j_k / (both * self.link_w_k)

    @property
    def lead_per_joule(self) -> float:
        """f/C_i − (1 − f)/C_o in K/J: how fast the inner ring draws ahead; below zero it falls behind."""
        return self.inner_share / self.inner_j_k - (1 - self.inner_share) / self.outer_j_k


def settled_difference(rings: TwoRings, net_w: float) -> Result:
    """The difference in K, inner less outer, that long heating settles at."""
    value = above("net power ηP", net_w, "W") * rings.settling_s * rings.lead_per_joule
    return _of_rings(value, "K", "ΔT_∞ = ηP·τ·[f/C_i − (1 − f)/C_o]", rings, ("ηP", said(net_w, "W")))


def ring_difference(rings: TwoRings, net_w: float, seconds: float) -> Result:
    """How much hotter the inner ring is than the outer, in K, after `seconds` from one temperature."""
    inside("time", seconds, "s", 0.0)
    settled = settled_difference(rings, net_w).value
    return _of_rings(
        settled * -math.expm1(-seconds / rings.settling_s), "K", "ΔT = ΔT_∞·(1 − e^(−t/τ))", rings,
        ("ηP", said(net_w, "W")), ("ΔT_∞", said(settled, "K")), ("t", said(seconds, "s")),
    )  # fmt: skip


def equalised(rings: TwoRings, net_w: float, start_c: float, seconds: float) -> Result:
    """The temperature in °C both rings come to once the heater is off: the mean, from the energy put in."""
    inside("start", start_c, "°C")
    rise = above("net power ηP", net_w, "W") * inside("time", seconds, "s", 0.0)
    return _of_rings(
        start_c + rise / (rings.inner_j_k + rings.outer_j_k), "°C", "T_eq = T_0 + ηP·t/(C_i + C_o)", rings,
        ("ηP", said(net_w, "W")), ("T_0", said(start_c, "°C")), ("t", said(seconds, "s")),
    )  # fmt: skip


def inner_temperature(rings: TwoRings, net_w: float, start_c: float, seconds: float) -> Result:
    """Temperature of the inner ring in °C after `seconds`; both rings were at `start_c` at the beginning."""
    mean = equalised(rings, net_w, start_c, seconds)
    ahead = ring_difference(rings, net_w, seconds)
    return _of_rings(
        start_c + _inner_rise_k(rings, net_w, seconds), "°C", "T_i = T_eq + ΔT·C_o/(C_i + C_o)", rings,
        ("T_eq", said(mean.value, "°C")), ("ΔT", said(ahead.value, "K")), ("t", said(seconds, "s")),
    )  # fmt: skip


def time_to_reach(rings: TwoRings, net_w: float, start_c: float, inner_c: float) -> Result:
    """Seconds until the inner ring has reached `inner_c`: what a probe on it makes of the heating time."""
    inside("start", start_c, "°C")
    rise_k = above("inner ring's temperature", inner_c, "°C", start_c) - start_c
    behind_k = max(0.0, -settled_difference(rings, net_w).value)
    # The ring warms all the way; it is there at the latest when the mean is, or as much later as it lags.
    early, late = 0.0, (rise_k + behind_k) * (rings.inner_j_k + rings.outer_j_k) / net_w
    for _halving in range(_HALVINGS):
        middle = (early + late) / 2
        if _inner_rise_k(rings, net_w, middle) < rise_k:
            early = middle
        else:
            late = middle
    return _of_rings(
        late, "s", "T_i(t) = T_0 + ηP·t/(C_i + C_o) + ΔT(t)·C_o/(C_i + C_o), solved for t", rings,
        ("ηP", said(net_w, "W")), ("T_0", said(start_c, "°C")), ("T_i", said(inner_c, "°C")),
    )  # fmt: skip


class Heated(NamedTuple):
    """Heating that a probe on the inner ring stopped: seconds, and what the rings do afterwards.

    `difference` is inner less outer at the stop (K), `equalised` what both come to (°C), `drop` how far the
    inner ring falls on the way there (K).
    """

    time: Result
    difference: Result
    equalised: Result
    drop: Result


def heated_to(rings: TwoRings, net_w: float, start_c: float, stop_c: float) -> Heated:
    """Heat from `start_c` until the inner ring is at `stop_c`."""
    time = time_to_reach(rings, net_w, start_c, stop_c)
    after = equalised(rings, net_w, start_c, time.value)
    drop = _of_rings(
        stop_c - after.value, "K", "T_i − T_eq", rings,
        ("T_i", said(stop_c, "°C")), ("T_eq", said(after.value, "°C")),
    )  # fmt: skip
    return Heated(time, ring_difference(rings, net_w, time.value), after, drop)


class AgainstClearance(NamedTuple):
    """A ring difference beside what the internal clearance allows, all in K.

    `standing` is `free` (nothing is clamped), `look`, or `clamped`: do not turn it.
    """

    difference: Result
    free_to: Result
    clamped_from: Result
    standing: str


def against_clearance(
    difference: Result, clearance_um: float, raceway_mm: float, outer_raceway_mm: float
) -> AgainstClearance:
    """The difference of the rings against G/(α·F_o) and G/(α·F)."""
    inside("ring difference", difference.value, "K")
    inside("clearance G", clearance_um, "um")
    above("raceway F", raceway_mm, "mm")
    above("outer raceway F_o", outer_raceway_mm, "mm", raceway_mm)
    free_to, clamped_from = ring_difference_allowed(clearance_um, raceway_mm, outer_raceway_mm)
    standing = LOOK if difference.value < clamped_from.value else CLAMPED
    if difference.value <= free_to.value:
        standing = FREE
    return AgainstClearance(difference, free_to, clamped_from, standing)


def most_power(rings: TwoRings, allowed_k: float) -> Result:
    """The net power in W at which the inner ring never runs further ahead than `allowed_k`.

    Raises OutsideValidityError where the inner ring does not run ahead: no power is too much for it.
    """
    above("ring difference", allowed_k, "K")
    if rings.lead_per_joule <= 0:
        raise OutsideValidityError("most power", "the inner ring does not run ahead of the outer one")
    return _of_rings(
        allowed_k / (rings.settling_s * rings.lead_per_joule), "W", "ηP = ΔT/(τ·[f/C_i − (1 − f)/C_o])",
        rings, ("ΔT", said(allowed_k, "K")),
    )  # fmt: skip


def _inner_rise_k(rings: TwoRings, net_w: float, seconds: float) -> float:
    both_j_k = rings.inner_j_k + rings.outer_j_k
    ahead_k = net_w * rings.settling_s * rings.lead_per_joule * -math.expm1(-seconds / rings.settling_s)
    return net_w * seconds / both_j_k + ahead_k * rings.outer_j_k / both_j_k


def _mass_put_in(mass_kg: float) -> tuple[tuple[str, str], ...]:
    return (("m", said(mass_kg, "kg")), ("cp", said(HEAT_CAPACITY_J_KG_K, "J/(kg·K)")))


def _of_rings(value: float, unit: str, formula: str, rings: TwoRings, *more: tuple[str, str]) -> Result:
    put_in = (
        ("C_i", said(rings.inner_j_k, "J/K")), ("C_o", said(rings.outer_j_k, "J/K")),
        ("f", said(rings.inner_share)), ("G_b", said(rings.link_w_k, "W/K")),
        ("τ", said(rings.settling_s, "s")), *more,
    )  # fmt: skip
    assumptions = ("each ring has one temperature throughout", "both begin at one temperature", *_LOSSLESS)
    return Result(value, unit, None, formula, put_in, assumptions, BALANCE, _FITTED)
