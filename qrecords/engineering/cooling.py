"""How a hot ring cools: in the air on its way, and on the journal until it grips.

Lumped for the carry (Biot number far below 0.1), an air gap for the grip. Lengths in mm, temperatures in °C,
times in s, mass in kg. Valid to about walking pace; a draught or fan over 1.5 m/s is outside.
"""

import math
from typing import NamedTuple

from .errors import OutsideValidityError
from .materials import ALPHA_RING, DENSITY_KG_M3, HEAT_CAPACITY_J_KG_K
from .ranges import above, inside
from .result import Result, said
from .validity import SOUND_WALLS, STILL_AIR, thin_ring_doubt, walking_pace

INCROPERA_CH5 = "Incropera, Heat and Mass Transfer, ch. 5 (lumped capacity)"
INCROPERA_CH3 = "Incropera, Heat and Mass Transfer, ch. 3 (gap conductance k/g)"
AIR_W_MK = 0.028
ROUGHNESS_GAP_UM = 3.0
INNER_SHARE = 0.30  # of the heat capacity, where the rings' masses are unknown


class Ring(NamedTuple):
    """A bearing as a body that cools: sizes in mm; mass in kg, or None to estimate it; `mass_from` says
    where a mass was taken from."""

    bore_mm: float
    outside_mm: float
    width_mm: float
    mass_kg: float | None = None
    mass_from: str = ""

    @property
    def area_m2(self) -> float:
        """Surface that gives heat to the air: outside, both faces, bore."""
        d, big, b = self.bore_mm / 1000, self.outside_mm / 1000, self.width_mm / 1000
        return math.pi * big * b + math.pi / 2 * (big**2 - d**2) + math.pi * d * b

    @property
    def film_w_m2k(self) -> float:
        """Design value of heat transfer, on the cool side of still air and of 1 m/s."""
        return 25.0 if self.outside_mm <= 60 else 20.0


def mass_estimate(ring: Ring) -> Result:
    """Mass in kg from the dimensions, ± 15 %: weigh it where it matters."""
    d, big, b = ring.bore_mm / 1000, ring.outside_mm / 1000, ring.width_mm / 1000
    mass = 0.65 * DENSITY_KG_M3 * math.pi / 4 * (big**2 - d**2) * b
    return Result(
        mass, "kg", 0.15 * mass, "m = 0.65·ρ·π/4·(D² − d²)·B",
        (("D", said(ring.outside_mm, "mm")), ("d", said(ring.bore_mm, "mm")),
         ("B", said(ring.width_mm, "mm"))),
        ("65 % of the ring's envelope is steel",), "house rule", ("mass by estimate, ± 15 %",),
    )  # fmt: skip


def time_constant(ring: Ring) -> Result:
    """Seconds in which the difference to the air falls to 1/e: τ = m·cp/(h·A)."""
    _ring_asked(ring)
    mass = mass_estimate(ring) if ring.mass_kg is None else None
    m = mass.value if mass else ring.mass_kg or 0.0
    return Result(
        m * HEAT_CAPACITY_J_KG_K / (ring.film_w_m2k * ring.area_m2), "s", None, "τ = m·cp/(h·A)",
        (("m", said(m, "kg")), ("cp", said(HEAT_CAPACITY_J_KG_K, "J/(kg·K)")),
         ("h", said(ring.film_w_m2k, "W/(m²·K)")), ("A", said(ring.area_m2, "m²"))),
        ("still air or walking pace; no draught over 1.5 m/s", *_weighed(ring)), INCROPERA_CH5,
        mass.unconfirmed if mass else (), STILL_AIR,
    )  # fmt: skip


def _ring_asked(ring: Ring) -> None:
    above("bore d", ring.bore_mm, "mm")
    above("outside diameter D", ring.outside_mm, "mm", ring.bore_mm)
    above("width B", ring.width_mm, "mm")
    if ring.mass_kg is not None:
        above("mass", ring.mass_kg, "kg")


def _weighed(ring: Ring) -> tuple[str, ...]:
    return (f"m {ring.mass_from}",) if ring.mass_kg is not None and ring.mass_from else ()


def carry_time(ring: Ring, start_c: float, least_c: float, air_c: float, air_m_s: float = 0.0) -> Result:
    """Seconds until the ring has cooled from `start_c` to `least_c` in the air; 0 if it is there already.

    Raises OutsideValidityError for a draught (`air_m_s` over 1.5) and a least temperature not above the air.
    """
    walking_pace("carry time", air_m_s)
    inside("start", start_c, "°C")
    if inside("least temperature", least_c, "°C") <= inside("air", air_c, "°C"):
        raise OutsideValidityError("carry time", "a ring does not cool below the air around it")
    tau = time_constant(ring)
    seconds = 0.0 if start_c <= least_c else tau.value * math.log((start_c - air_c) / (least_c - air_c))
    return _carried(tau, seconds, "s", "t = τ·ln[(T0 − T_air)/(T_min − T_air)]", start_c, air_c,
                    ("T_min", said(least_c, "°C")))  # fmt: skip


def carry_drop(ring: Ring, start_c: float, air_c: float, seconds: float, air_m_s: float = 0.0) -> Result:
    """Kelvin lost to the air in `seconds`; OutsideValidityError for a draught (`air_m_s` over 1.5)."""
    walking_pace("carry drop", air_m_s)
    inside("start", start_c, "°C")
    inside("air", air_c, "°C")
    inside("time", seconds, "s", 0.0)
    tau = time_constant(ring)
    drop = (start_c - air_c) * -math.expm1(-seconds / tau.value)
    return _carried(tau, drop, "K", "ΔT = (T0 − T_air)·(1 − e^(−t/τ))", start_c, air_c,
                    ("t", said(seconds, "s")))  # fmt: skip


def _carried(
    tau: Result, value: float, unit: str, formula: str, start_c: float, air_c: float, last: tuple[str, str]
) -> Result:
    put_in = (*tau.put_in, ("T0", said(start_c, "°C")), ("T_air", said(air_c, "°C")), last)
    return Result(
        value,
        unit,
        None,
        f"{formula}, {tau.formula}",
        put_in,
        tau.assumptions,
        tau.source,
        tau.unconfirmed,
        tau.validity,
    )


def equalised_c(inner_c: float, outer_c: float, inner_share: float = INNER_SHARE) -> Result:
    """Temperature in °C when inner and outer ring have become one: the start of the carry."""
    return Result(
        inner_share * inner_c + (1 - inner_share) * outer_c, "°C", None, "T_eq = s·T_i + (1 − s)·T_o",
        (("s", said(inner_share)), ("T_i", said(inner_c, "°C")), ("T_o", said(outer_c, "°C"))),
        (f"the inner ring holds {inner_share:.0%} of the heat capacity",), "energy balance",
    )  # fmt: skip


class Pressing(NamedTuple):
    """Seconds until the ring first grips, and seconds to keep pressing."""

    grip: Result
    hold: Result


def pressing_time(
    bore_mm: float,
    raceway_mm: float,
    interference_um: float,
    ring_c: float,
    shaft_c: float,
    alpha_per_k: float = ALPHA_RING,
) -> Pressing:
    """How long to keep pressing: t_grip = τ·ln[growth/δ], t_hold = 2·t_grip + 5 s.

    `raceway_mm` is the equivalent raceway diameter F of the inner ring (d + 0.25·(D − d) without better). The
    gap is taken concentric, the slowest case. A ring without interference, or one too cold to have gone on,
    grips at once as far as this model sees: t_grip 0 for no gap, OutsideValidityError for no interference.
    """
    above("bore d", bore_mm, "mm")
    above("raceway F", raceway_mm, "mm", bore_mm)
    for name, value in (("ring", ring_c), ("shaft", shaft_c)):
        inside(name, value, "°C")
    if inside("interference δ", interference_um, "um") <= 0:
        raise OutsideValidityError("pressing time", "a ring without interference never grips")
    growth_um = alpha_per_k * bore_mm * 1000 * (ring_c - shaft_c)
    gap_um = max(0.0, growth_um - interference_um)
    wall_m = (raceway_mm - bore_mm) / 2000
    conductance = AIR_W_MK / ((gap_um / 2 + ROUGHNESS_GAP_UM) * 1e-6)
    tau = DENSITY_KG_M3 * HEAT_CAPACITY_J_KG_K * wall_m / conductance
    grip = tau * math.log(growth_um / interference_um) if gap_um else 0.0
    put_in = (
        ("d", said(bore_mm, "mm")), ("F", said(raceway_mm, "mm")), ("δ", said(interference_um, "um")),
        ("T0", said(ring_c, "°C")), ("T_s", said(shaft_c, "°C")), ("α", said(alpha_per_k * 1e6, "10⁻⁶/K")),
        ("c0", said(gap_um, "um")), ("τ", said(tau, "s")),
    )  # fmt: skip

    doubts = (
        "pressing rule 2·t_grip + 5 s: house rule, checked against own finite volumes",
        *thin_ring_doubt(bore_mm, raceway_mm),
    )

    def answer(seconds: float, formula: str) -> Result:
        return Result(
            seconds, "s", None, f"{formula}; τ = ρ·cp·s·(c0/2 + g0)/k_air, s = (F − d)/2, c0 = growth − δ",
            put_in, ("ring concentric on a long shaft, air gap; k_air 0.028 W/(m·K), g0 3 µm",),
            INCROPERA_CH3, doubts, SOUND_WALLS,
        )  # fmt: skip

    return Pressing(
        answer(grip, "t_grip = τ·ln[(T0 − T_s)·α·d/δ]"), answer(2 * grip + 5, "t_hold = 2·t_grip + 5 s")
    )
