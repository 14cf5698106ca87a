"""What a fit loses at work: to a ring warmer than its shaft, and to speed.

Interferences diametral in µm, diameters in mm. Small strains, ring and shaft of one steel.
"""

import math

from .growth import LINEAR_EXPANSION
from .materials import ALPHA_RING, DEFAULTS_UNCONFIRMED, DENSITY_KG_M3, POISSON, YOUNG_GPA
from .ranges import above, inside
from .result import Result, said
from .validity import SOUND_WALLS, ring_wall, shaft_wall

ROTATING_DISC = "Timoshenko, Strength of Materials II, rotating discs; Lamé"


def loss_by_warmth(bore_mm: float, ring_above_shaft_k: float, alpha_per_k: float = ALPHA_RING) -> Result:
    """Interference lost in µm while the ring runs warmer than the shaft; below zero where it runs cooler."""
    above("bore d", bore_mm, "mm")
    inside("ring above shaft", ring_above_shaft_k, "K")
    above("α", alpha_per_k, "1/K")
    return Result(
        alpha_per_k * bore_mm * 1000 * ring_above_shaft_k, "um", None, "Δ = α·d·ΔT",
        (("α", said(alpha_per_k * 1e6, "10⁻⁶/K")), ("d", said(bore_mm, "mm")),
         ("ΔT", said(ring_above_shaft_k, "K"))),
        ("ring and shaft have one temperature each",), LINEAR_EXPANSION, DEFAULTS_UNCONFIRMED,
    )  # fmt: skip


def loss_by_speed(
    bore_mm: float, raceway_mm: float, turns_per_min: float, shaft_bore_mm: float = 0.0
) -> Result:
    """Interference lost in µm to the centrifugal load at this speed, ring and shaft turning together.

    Δ = ρ·ω²·a·(3 + ν)·(b² − r0²)/(2·E) with a = d/2, b = F/2, r0 = d0/2. Source: rotating discs, plane
    stress; compared with own finite elements.
    """
    ring_wall("loss by speed", bore_mm, raceway_mm)
    shaft_wall("loss by speed", bore_mm, shaft_bore_mm)
    omega = inside("speed", turns_per_min, "1/min", 0.0) * math.tau / 60
    a, b, r0 = bore_mm / 2000, raceway_mm / 2000, shaft_bore_mm / 2000
    value_m = DENSITY_KG_M3 * omega**2 * a * (3 + POISSON) * (b**2 - r0**2) / (2 * YOUNG_GPA * 1e9)
    return Result(
        value_m * 1e6, "um", None, "Δ = ρ·ω²·a·(3 + ν)·(b² − r0²)/(2·E), a = d/2, b = F/2, r0 = d0/2",
        (("d", said(bore_mm, "mm")), ("F", said(raceway_mm, "mm")), ("d0", said(shaft_bore_mm, "mm")),
         ("n", said(turns_per_min, "1/min")), ("ρ", said(DENSITY_KG_M3, "kg/m³")),
         ("E, ν", f"{said(YOUNG_GPA, 'GPa')}, {said(POISSON)}")),
        ("one steel, plane stress, equal widths", "rolling elements and cage carry themselves"),
        ROTATING_DISC, validity=SOUND_WALLS,
    )  # fmt: skip


def left_in_service(interference_um: float, *losses: Result) -> Result:
    """Interference in µm that is left of `interference_um` at work; at zero and below the ring is loose."""
    above("interference δ", interference_um, "um")
    return Result(
        interference_um - math.fsum(loss.value for loss in losses), "um", None, "δ_w = δ − ΣΔ",
        (("δ", said(interference_um, "um")), *(("Δ", said(loss.value, "um")) for loss in losses)),
        ("loads that drive the ring apart are not in it",), "own arithmetic",
        tuple(dict.fromkeys(doubt for loss in losses for doubt in loss.unconfirmed)),
    )  # fmt: skip
