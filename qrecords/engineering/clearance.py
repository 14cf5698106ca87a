"""What internal clearance is left when the ring is on its seat and cold."""

import math
from typing import NamedTuple

from .fits import clearance_raceway_mm, smoothed
from .measurement import normal_below
from .ranges import above
from .result import Result, said
from .validity import SOUND_WALLS, shaft_wall, thin_ring_doubt

CHAIN = "textbook clearance chain; Lamé for the loss factor"
_NORMAL = "each part normal, centred in its tolerance, tolerance = 6σ; false for sorted parts"


class Spread(NamedTuple):
    """A quantity in µm as known: smallest and largest, the mean, and its u."""

    low_um: float
    high_um: float
    mean_um: float
    u_um: float
    measured: bool

    @classmethod
    def of_limits(cls, low_um: float, high_um: float) -> "Spread":
        """Not measured: a class or group, 6σ = its width."""
        return cls(low_um, high_um, (low_um + high_um) / 2, (high_um - low_um) / 6, False)

    @classmethod
    def of_class_fit(cls, journal_um: tuple[float, float], bore_um: tuple[float, float]) -> "Spread":
        """Interference from a journal class and a bore class, each (lower, upper) in µm."""
        low, high = journal_um[0] - bore_um[1], journal_um[1] - bore_um[0]
        widths = (journal_um[1] - journal_um[0], bore_um[1] - bore_um[0])
        return cls(low, high, (low + high) / 2, math.hypot(*widths) / 6, False)

    @classmethod
    def of_reading(
        cls, mean_um: float, u_um: float, low_um: float | None = None, high_um: float | None = None
    ) -> "Spread":
        """Measured: the mean and its u, and the local extremes where there are several readings."""
        return cls(
            mean_um if low_um is None else low_um,
            mean_um if high_um is None else high_um,
            mean_um,
            u_um,
            True,
        )


def loss_factor(
    bore_mm: float,
    outside_mm: float,
    shaft_bore_mm: float = 0.0,
    raceway_mm: float | None = None,
    raceway_from: str = "",
) -> Result:
    """Share of the effective interference that goes off the internal clearance.

    With the real raceway diameter where it is known, else F = d + 0.20·(D − d). u = 0.02 on a solid, 0.03 on
    a hollow shaft, from finite elements with a real groove. Raises OutsideValidityError for a shaft whose
    bore is not smaller than its seat. Source: Lamé.
    """
    shaft_wall("loss factor", bore_mm, shaft_bore_mm)
    above("outside diameter D", outside_mm, "mm", bore_mm)
    f = clearance_raceway_mm(bore_mm, outside_mm) if raceway_mm is None else raceway_mm
    k, k0 = bore_mm / f, shaft_bore_mm / bore_mm
    value = k * (1 - k0**2) / (1 - k**2 * k0**2)
    return Result(
        value, "1", 0.03 if shaft_bore_mm else 0.02, "f = k·(1 − k0²)/(1 − k²·k0²), k = d/F, k0 = d0/d",
        (("d", said(bore_mm, "mm")), ("F", said(f, "mm")), ("d0", said(shaft_bore_mm, "mm"))),
        (f"F {raceway_from}".strip(),) if raceway_mm else ("F = d + 0.20·(D − d), not the raceway itself",),
        "Lamé",
        ("u of the loss factor: own finite elements", *thin_ring_doubt(bore_mm, f)), SOUND_WALLS,
    )  # fmt: skip


class Forecast(NamedTuple):
    """Residual clearance in µm, cold: the mean with u, worst ends, the band of 99.73 %, P(below)."""

    mean: Result
    worst_low_um: float
    worst_high_um: float
    probable_low_um: float
    probable_high_um: float
    p_below: float
    minimum_um: float


def forecast(
    clearance: Spread,
    interference: Spread,
    nominal_mm: float,
    factor: Result,
    finish: str | None = "ground",
    minimum_um: float = 0.0,
    ring_difference_k: float = 0.0,
    outer_raceway_mm: float = 0.0,
    alpha_per_k: float = 12.0e-6,
) -> Forecast:
    """Residual clearance G = G0 − f·δ_eff − α·F_o·ΔT, each part measured or from its group or class.

    δ_eff is the interference after the seat has smoothed (`finish` None: no smoothing). P is the chance of
    lying below `minimum_um`. A housing's squeeze is not in it.
    """
    kept = 1.0 if finish is None else smoothed(1.0, nominal_mm, finish).value
    loss = factor.value * kept
    heat_um = alpha_per_k * outer_raceway_mm * 1000 * ring_difference_k
    mean = clearance.mean_um - loss * interference.mean_um - heat_um
    factor_u = (factor.u or 0.0) * kept * interference.mean_um if interference.measured else 0.0
    u = math.hypot(clearance.u_um, loss * interference.u_um, factor_u)
    whole = clearance.measured and interference.measured
    return Forecast(
        mean=Result(
            mean, "um", u, "G = G0 − f·δ·s − α·F_o·ΔT",
            (("G0", said(clearance.mean_um, "um")), ("f", said(factor.value)), ("s", said(kept)),
             ("δ", said(interference.mean_um, "um")), ("α·F_o·ΔT", said(heat_um, "um"))),
            (*factor.assumptions, "no squeeze by the housing", *(() if whole else (_NORMAL,))),
            CHAIN, (*factor.unconfirmed, "seat smoothing: from memory"),
            factor.validity,
        ),
        worst_low_um=clearance.low_um - loss * interference.high_um - heat_um,
        worst_high_um=clearance.high_um - loss * interference.low_um - heat_um,
        probable_low_um=mean - 3 * u,
        probable_high_um=mean + 3 * u,
        p_below=normal_below((minimum_um - mean) / u) if u else float(mean < minimum_um),
        minimum_um=minimum_um,
    )  # fmt: skip
