"""Growth of the bore, the clearance it gives at the seat, and the temperature a fit needs."""

import math

from .errors import OutsideValidityError
from .limits import Size, limits_of_size
from .materials import (
    ALPHA_RING,
    ALPHA_SHAFT,
    DEFAULTS_UNCONFIRMED,
    REFERENCE_C,
    U_ALPHA_RING,
)
from .result import Result, said
from .tables import BUILT_IN, Tables
from .validity import FREE_RINGS

LINEAR_EXPANSION = "linear expansion, any text on strength of materials; reference 20 °C, ISO 1:2022"


def growth(bore_mm: float, rise_k: float, alpha_per_k: float = ALPHA_RING) -> Result:
    """Growth of the bore on its diameter in µm: every length of a free ring grows by the same factor."""
    value = alpha_per_k * bore_mm * 1000 * rise_k
    return Result(
        value, "um", abs(value) * U_ALPHA_RING / ALPHA_RING, "Δd = α·d·ΔT",
        (("α", said(alpha_per_k * 1e6, "10⁻⁶/K")), ("d", said(bore_mm, "mm")), ("ΔT", said(rise_k, "K"))),
        ("free ring, one temperature throughout",), LINEAR_EXPANSION, DEFAULTS_UNCONFIRMED,
        FREE_RINGS,
    )  # fmt: skip


def seat_clearance(
    bore_mm: float,
    interference_um: float,
    ring_c: float,
    shaft_c: float,
    ring_alpha_per_k: float = ALPHA_RING,
    shaft_alpha_per_k: float = ALPHA_SHAFT,
) -> Result:
    """Clearance in µm between hot ring and journal at one moment, exact; negative: it cannot slide on."""
    ring_mm = bore_mm * (1 + ring_alpha_per_k * (ring_c - REFERENCE_C))
    shaft_mm = (bore_mm + interference_um / 1000) * (1 + shaft_alpha_per_k * (shaft_c - REFERENCE_C))
    return Result(
        (ring_mm - shaft_mm) * 1000, "um", None,
        "c = d·[1 + α_b·(T_b − 20 °C)] − (d + δ)·[1 + α_s·(T_s − 20 °C)]",
        (*_heat_put_in(bore_mm, interference_um, shaft_c, ring_alpha_per_k, shaft_alpha_per_k),
         ("T_b", said(ring_c, "°C"))),
        ("each part has one temperature throughout",), LINEAR_EXPANSION, DEFAULTS_UNCONFIRMED,
        FREE_RINGS,
    )  # fmt: skip


def required_temperature(
    bore_mm: float,
    interference_um: float,
    clearance_um: float,
    shaft_c: float,
    interference_u_um: float = 0.0,
    ring_alpha_per_k: float = ALPHA_RING,
    shaft_alpha_per_k: float = ALPHA_SHAFT,
) -> Result:
    """Ring temperature in °C at which the clearance on the journal is `clearance_um`.

    The rise counts from the shaft, not from the air; where the ring started plays no part. u holds the
    interference's and the ring's expansion.
    """
    per_k = ring_alpha_per_k * bore_mm * 1000
    shaft_um = shaft_alpha_per_k * (bore_mm * 1000 + interference_um) * (shaft_c - REFERENCE_C)
    value = REFERENCE_C + (interference_um + clearance_um + shaft_um) / per_k
    u = math.hypot(interference_u_um / per_k, (value - shaft_c) * U_ALPHA_RING / ring_alpha_per_k)
    put_in = _heat_put_in(bore_mm, interference_um, shaft_c, ring_alpha_per_k, shaft_alpha_per_k)
    return Result(
        value, "°C", u, "T = 20 °C + [δ + c + α_s·(d + δ)·(T_s − 20 °C)]/(α_b·d)",
        (*put_in, ("c", said(clearance_um, "um")), ("u(δ)", said(interference_u_um, "um"))),
        ("each part has one temperature throughout",), LINEAR_EXPANSION, DEFAULTS_UNCONFIRMED,
        FREE_RINGS,
    )  # fmt: skip


def warmest_shaft(
    bore_mm: float,
    interference_um: float,
    clearance_um: float,
    ring_c: float,
    ring_alpha_per_k: float = ALPHA_RING,
    shaft_alpha_per_k: float = ALPHA_SHAFT,
) -> Result:
    """The shaft temperature in °C at which a ring of `ring_c` just has this clearance."""
    room_um = ring_alpha_per_k * bore_mm * 1000 * (ring_c - REFERENCE_C) - interference_um - clearance_um
    put_in = _heat_put_in(bore_mm, interference_um, None, ring_alpha_per_k, shaft_alpha_per_k)
    return Result(
        REFERENCE_C + room_um / (shaft_alpha_per_k * (bore_mm * 1000 + interference_um)), "°C", None,
        "T_s = 20 °C + [α_b·d·(T_b − 20 °C) − δ − c]/[α_s·(d + δ)]",
        (*put_in, ("T_b", said(ring_c, "°C")), ("c", said(clearance_um, "um"))),
        ("each part has one temperature throughout",), LINEAR_EXPANSION, DEFAULTS_UNCONFIRMED,
        FREE_RINGS,
    )  # fmt: skip


def least_clearance(bore_mm: Size, tables: Tables = BUILT_IN) -> Result:
    """c_min in µm, the close sliding clearance: ISO 286 deviation g of this size."""
    return _deviation_as_clearance(bore_mm, "g", tables)


def recommended_clearance(bore_mm: Size, tables: Tables = BUILT_IN) -> Result:
    """c_rec in µm, the running clearance to aim for: ISO 286 deviation f of this size."""
    return _deviation_as_clearance(bore_mm, "f", tables)


def _deviation_as_clearance(bore_mm: Size, letter: str, tables: Tables) -> Result:
    limits = limits_of_size(bore_mm, f"{letter}6", tables)
    return Result(
        -limits.upper_um, "um", None, f"c = −es of {letter}", (("d", said(float(limits.nominal_mm), "mm")),),
        ("mounting clearance taken from ISO 286: no bearing standard gives one",),
        limits.source, limits.unconfirmed,
    )  # fmt: skip


def ring_difference_allowed(
    clearance_um: float, raceway_mm: float, outer_raceway_mm: float, alpha_per_k: float = ALPHA_RING
) -> tuple[Result, Result]:
    """How much hotter than the outer the inner ring may be, in K: the safe bound and the one that clamps.

    Up to G/(α·F_o) nothing is clamped; between that and G/(α·F) look; beyond, the rolling elements are
    clamped. Source: own arithmetic on linear expansion.
    """
    if clearance_um <= 0:
        raise OutsideValidityError("ring difference", "no internal clearance to use up")

    def answer(diameter_mm: float, symbol: str, elements: str) -> Result:
        return Result(
            clearance_um / (alpha_per_k * diameter_mm * 1000), "K", None, f"ΔT = G/(α·{symbol})",
            (("G", said(clearance_um, "um")), ("α", said(alpha_per_k * 1e6, "10⁻⁶/K")),
             (symbol, said(diameter_mm, "mm"))),
            (f"rolling elements as warm as the {elements} ring",),
            LINEAR_EXPANSION, DEFAULTS_UNCONFIRMED,
        FREE_RINGS,
        )  # fmt: skip

    return answer(outer_raceway_mm, "F_o", "inner"), answer(raceway_mm, "F", "outer")


def _heat_put_in(
    bore_mm: float, interference_um: float, shaft_c: float | None, ring_alpha: float, shaft_alpha: float
) -> tuple[tuple[str, str], ...]:
    shaft = () if shaft_c is None else (("T_s", said(shaft_c, "°C")),)
    return (
        ("d", said(bore_mm, "mm")), ("δ", said(interference_um, "um")), *shaft,
        ("α_b", said(ring_alpha * 1e6, "10⁻⁶/K")), ("α_s", said(shaft_alpha * 1e6, "10⁻⁶/K")),
    )  # fmt: skip
