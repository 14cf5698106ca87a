"""The fit of a ring on its journal: interference, what of it is left after smoothing, and what it does.

Diameters in mm, interferences diametral in µm, positive when the journal is larger. Temperatures are those of
readings already brought to 20 °C.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

from .limits import Limits
from .materials import POISSON, YOUNG_GPA
from .measurement import normal_below
from .ranges import above, inside
from .result import Result, said
from .validity import SOUND_WALLS, STRAIGHT_BORES, ring_wall, shaft_wall

Planes = Sequence[Sequence[float]]
_NORMAL_FIT = "the fit normally distributed"
_NORMAL_PARTS = "each part normal, centred in its tolerance, tolerance = 6σ; false for sorted parts"


class Interference(NamedTuple):
    """Interference in µm over one journal: the mean and the extremes, each with its uncertainty."""

    mean: Result
    local_max: Result
    local_min: Result


def from_readings(journal_mm: Planes, bore_mm: Planes, journal_u_um: float, bore_u_um: float) -> Interference:
    """Interference from measured journal and measured bore, planes of whole diameters at 20 °C."""
    journal, bore = _flat(journal_mm), _flat(bore_mm)
    pairs = (
        ("δ = mean(journal) − mean(bore)", _mean(journal), _mean(bore)),
        ("δ = max(journal) − min(bore)", max(journal), min(bore)),
        ("δ = min(journal) − max(bore)", min(journal), max(bore)),
    )
    u = math.hypot(journal_u_um, bore_u_um)
    results = (
        Result((j - b) * 1000, "um", u, f"{formula}; u = √(u_j² + u_b²)",
               (("journal", f"{j:.9g} mm"), ("bore", f"{b:.9g} mm"),
                ("u_j", said(journal_u_um, "um")), ("u_b", said(bore_u_um, "um"))),
               (), "JCGM 100:2008, 5.1", validity=STRAIGHT_BORES)
        for formula, j, b in pairs
    )  # fmt: skip
    return Interference(*results)


def from_bore_class(journal_mm: Planes, bore: Limits, journal_u_um: float) -> Interference:
    """Interference from a measured journal and a bore taken from its class, 6σ = its tolerance."""
    readings, nominal = _flat(journal_mm), float(bore.nominal_mm)
    middle = (bore.lower_um + bore.upper_um) / 2
    u = math.hypot(journal_u_um, bore.it_um / 6)
    cases = (
        ("δ = mean(journal) − d − (Δlow + Δup)/2", _mean(readings), middle),
        ("δ = max(journal) − d − Δlow", max(readings), bore.lower_um),
        ("δ = min(journal) − d − Δup", min(readings), bore.upper_um),
    )
    results = (
        Result((j - nominal) * 1000 - deviation, "um", u, f"{formula}; u = √(u_j² + (t_b/6)²)",
               (("journal", f"{j:.9g} mm"), ("d", said(nominal, "mm")), ("Δ", said(deviation, "um")),
                ("u_j", said(journal_u_um, "um")), ("t_b", said(bore.it_um, "um"))),
               ("bore not measured: taken from its class", _NORMAL_PARTS), bore.source, bore.unconfirmed,
               STRAIGHT_BORES)
        for formula, j, deviation in cases
    )  # fmt: skip
    return Interference(*results)


def from_journal_class(journal: Limits, bore_mm: Planes, bore_u_um: float) -> Interference:
    """Interference from a measured bore and a journal taken from its class, 6σ = its tolerance."""
    readings, nominal = _flat(bore_mm), float(journal.nominal_mm)
    middle = (journal.lower_um + journal.upper_um) / 2
    u = math.hypot(bore_u_um, journal.it_um / 6)
    cases = (
        ("δ = d + (es + ei)/2 − mean(bore)", middle, _mean(readings)),
        ("δ = d + es − min(bore)", journal.upper_um, min(readings)),
        ("δ = d + ei − max(bore)", journal.lower_um, max(readings)),
    )
    results = (
        Result(deviation - (b - nominal) * 1000, "um", u, f"{formula}; u = √((T_s/6)² + u_b²)",
               (("d", said(nominal, "mm")), ("e", said(deviation, "um")), ("bore", f"{b:.9g} mm"),
                ("T_s", said(journal.it_um, "um")), ("u_b", said(bore_u_um, "um"))),
               ("journal not measured: taken from its class", _NORMAL_PARTS), journal.source,
               journal.unconfirmed, STRAIGHT_BORES)
        for formula, deviation, b in cases
    )  # fmt: skip
    return Interference(*results)


class ClassFit(NamedTuple):
    """Interference of two classes in µm: the extremes, the mean and the band that holds 99.73 %."""

    minimum: Result
    maximum: Result
    mean: Result
    probable_low: Result
    probable_high: Result


def from_classes(journal: Limits, bore: Limits) -> ClassFit:
    """What the drawing's journal class and the bearing's bore class allow."""
    mean = (journal.lower_um + journal.upper_um - bore.lower_um - bore.upper_um) / 2
    half_band = math.hypot(journal.it_um, bore.it_um) / 2
    put_in = (
        ("es", said(journal.upper_um, "um")), ("ei", said(journal.lower_um, "um")),
        ("Δup", said(bore.upper_um, "um")), ("Δlow", said(bore.lower_um, "um")),
    )  # fmt: skip

    def answer(value: float, formula: str, *assumptions: str) -> Result:
        source = f"{journal.source}; {bore.source}"
        doubts = journal.unconfirmed + bore.unconfirmed
        return Result(value, "um", None, formula, put_in, assumptions, source, doubts, STRAIGHT_BORES)

    return ClassFit(
        minimum=answer(journal.lower_um - bore.upper_um, "δmin = ei − Δup"),
        maximum=answer(journal.upper_um - bore.lower_um, "δmax = es − Δlow"),
        mean=answer(mean, "δ = (es + ei)/2 − (Δup + Δlow)/2"),
        probable_low=answer(mean - half_band, "δ − ½·√(T_s² + T_b²)", _NORMAL_PARTS),
        probable_high=answer(mean + half_band, "δ + ½·√(T_s² + T_b²)", _NORMAL_PARTS),
    )


class Outside(NamedTuple):
    """The shares of a fit, 0…1, that lie below and above what is allowed."""

    below: Result
    above: Result


def share_outside(mean: Result, low_um: float, high_um: float) -> Outside:
    """How probable it is that a fit of this mean and u lies below or above two limits in µm.

    The fit is taken as normal, as its u says; with a u of 0 it is where its mean is. Raises OutOfRangeError
    where the fit tells no u, or the limits are swapped. Source: JCGM 106:2012, 7.
    """
    inside("least allowed", low_um, "um")
    inside("most allowed", high_um, "um", low_um)
    u = inside("u of the fit", math.nan if mean.u is None else mean.u, mean.unit, 0)

    def share(past_um: float, formula: str, limit: tuple[str, float]) -> Result:
        value = normal_below(past_um / u) if u else float(past_um > 0)
        put_in = (("δ", said(mean.value, "um")), ("u", said(u, "um")), (limit[0], said(limit[1], "um")))
        assumptions = (*mean.assumptions, _NORMAL_FIT)
        return Result(
            value,
            "1",
            None,
            formula,
            put_in,
            assumptions,
            "JCGM 106:2012, 7",
            mean.unconfirmed,
            mean.validity,
        )

    return Outside(
        share(low_um - mean.value, "P = Φ((δmin − δ)/u)", ("δmin", low_um)),
        share(mean.value - high_um, "P = Φ((δ − δmax)/u)", ("δmax", high_um)),
    )


_FINISH_MM = {"ground": 2.0, "turned": 3.0}
_SMOOTHING_UNCONFIRMED = ("seat smoothing d/(d+2) and d/(d+3): bearing literature, from memory",)


def smoothed(interference_um: float, nominal_mm: float, finish: str = "ground") -> Result:
    """Effective interference in µm after the seat has smoothed: d/(d+2) ground, d/(d+3) fine-turned.

    Ignores the measured roughness; compare `smoothed_by_roughness` and take the lower for grip, the higher
    for stress and clearance.
    """
    n = _FINISH_MM[finish]
    return Result(
        interference_um * nominal_mm / (nominal_mm + n), "um", None, f"δ·d/(d + {n:.0f} mm)",
        (("δ", said(interference_um, "um")), ("d", said(nominal_mm, "mm"))),
        (f"seat {finish}",), "common practice, no source", _SMOOTHING_UNCONFIRMED,
    )  # fmt: skip


def smoothed_by_roughness(interference_um: float, shaft_rz_um: float, bore_rz_um: float) -> Result:
    """Effective interference in µm by measured roughness Rz: δ − 0.8·(Rz1 + Rz2)."""
    return Result(
        interference_um - 0.8 * (shaft_rz_um + bore_rz_um), "um", None, "δ − 0.8·(Rz1 + Rz2)",
        (("δ", said(interference_um, "um")), ("Rz1", said(shaft_rz_um, "um")),
         ("Rz2", said(bore_rz_um, "um"))),
        (), "DIN 7190-1", ("DIN 7190-1 smoothing: from memory",),
    )  # fmt: skip


def stress_raceway_mm(bore_mm: float, outside_mm: float) -> float:
    """Equivalent raceway diameter in mm of the inner ring for pressure and stress: equal cross-section.

    Within 3 % and 1 % of own finite elements with a real groove; `clearance_raceway_mm` is another one.
    """
    return bore_mm + 0.25 * (outside_mm - bore_mm)


def clearance_raceway_mm(bore_mm: float, outside_mm: float) -> float:
    """Equivalent raceway diameter in mm for loss of clearance: the groove bottom moves more than the rest."""
    return bore_mm + 0.20 * (outside_mm - bore_mm)


def outer_raceway_mm(bore_mm: float, outside_mm: float) -> float:
    """Equivalent raceway diameter of the outer ring in mm."""
    return outside_mm - 0.20 * (outside_mm - bore_mm)


# A shaft longer than the ring presses harder than equal widths do (finite elements, own: +1…5 %, +7…13 %).
HOOP_ALLOWANCE_SOLID, HOOP_ALLOWANCE_HOLLOW = 1.05, 1.13


class PressFit(NamedTuple):
    """Stresses in MPa, raceway growth in µm, axial force in kN (None without a width).

    `equivalent_bore` is the stress of von Mises at the bore, to hold against a yield strength.
    """

    pressure: Result
    hoop_bore: Result
    equivalent_bore: Result
    hoop_raceway: Result
    hoop_with_allowance: Result
    raceway_growth: Result
    axial_force: Result | None


def press_fit(
    nominal_mm: float,
    raceway_mm: float,
    interference_um: float,
    shaft_bore_mm: float = 0.0,
    width_mm: float | None = None,
    friction: float = 0.15,
    ring: tuple[float, float] = (YOUNG_GPA, POISSON),
    shaft: tuple[float, float] = (YOUNG_GPA, POISSON),
) -> PressFit:
    """Lamé's press fit of a ring on a solid or hollow shaft; `ring` and `shaft` are (E in GPa, ν).

    Equal widths, plane stress, elastic. Raises OutsideValidityError for a thin ring (F/d under 1.1) and a
    shaft whose bore is not smaller than its seat, OutOfRangeError for no interference. Source: Lamé;
    Timoshenko, Strength of Materials II, built-up cylinders.
    """
    _fit_asked(nominal_mm, raceway_mm, interference_um, shaft_bore_mm, ring, shaft)
    d, f, d0 = nominal_mm, raceway_mm, shaft_bore_mm
    ring_ratio = (f**2 + d**2) / (f**2 - d**2)
    shaft_ratio = (d**2 + d0**2) / (d**2 - d0**2)
    compliance = (ring_ratio + ring[1]) / ring[0] + (shaft_ratio - shaft[1]) / shaft[0]  # 1/GPa
    pressure = interference_um / (d * compliance)  # µm/mm·GPa is MPa
    hoop_bore, hoop_raceway = pressure * ring_ratio, 2 * pressure * d**2 / (f**2 - d**2)
    put_in = (
        ("d", said(d, "mm")), ("F", said(f, "mm")), ("d0", said(d0, "mm")),
        ("δ", said(interference_um, "um")),
        ("E, ν ring", f"{said(ring[0], 'GPa')}, {said(ring[1])}"),
        ("E, ν shaft", f"{said(shaft[0], 'GPa')}, {said(shaft[1])}"),
    )  # fmt: skip

    def answer(
        value: float, unit: str, formula: str, *assumptions: str, more: tuple[tuple[str, str], ...] = ()
    ) -> Result:
        source = "Lamé; Timoshenko, Strength of Materials II"
        told = ("elastic, equal widths", *assumptions)
        return Result(value, unit, None, formula, (*put_in, *more), told, source, validity=SOUND_WALLS)

    allowance = HOOP_ALLOWANCE_HOLLOW if d0 else HOOP_ALLOWANCE_SOLID
    force_kn = None if width_mm is None else _axial_force_kn(pressure, d, width_mm, friction)
    return PressFit(
        pressure=answer(pressure, "MPa", "p = δ / (d·[(C_o + ν_o)/E_o + (C_i − ν_i)/E_i])"),
        hoop_bore=answer(hoop_bore, "MPa", "σ = p·C_o, C_o = (F² + d²)/(F² − d²)"),
        equivalent_bore=answer(
            math.sqrt(hoop_bore**2 + pressure**2 + hoop_bore * pressure), "MPa", "√(σ² + p² + σ·p)"
        ),
        hoop_raceway=answer(hoop_raceway, "MPa", "σ_F = 2·p·d²/(F² − d²)"),
        hoop_with_allowance=answer(hoop_bore * allowance, "MPa", f"{allowance}·p·C_o", "long shaft, own FEM"),
        raceway_growth=answer(hoop_raceway * f / ring[0], "um", "ΔF = σ_F·F/E"),
        axial_force=None
        if force_kn is None
        else answer(
            force_kn,
            "kN",
            "µ·p·π·d·B",
            f"µ = {friction}",
            more=(("p", said(pressure, "MPa")), ("B", said(width_mm or 0.0, "mm")), ("µ", said(friction))),
        ),
    )


def _fit_asked(
    nominal_mm: float,
    raceway_mm: float,
    interference_um: float,
    shaft_bore_mm: float,
    *parts: tuple[float, float],
) -> None:
    ring_wall("press fit", nominal_mm, raceway_mm)
    shaft_wall("press fit", nominal_mm, shaft_bore_mm)
    above("interference δ", interference_um, "um")
    for young_gpa, poisson in parts:
        above("E", young_gpa, "GPa")
        inside("ν", poisson, "1", 0.0, 0.5)


def _axial_force_kn(pressure_mpa: float, nominal_mm: float, width_mm: float, friction: float) -> float:
    above("width B", width_mm, "mm")
    above("friction µ", friction, "1")
    return friction * pressure_mpa * math.pi * nominal_mm * width_mm / 1000


def _flat(planes: Planes) -> list[float]:
    return [reading for plane in planes for reading in plane]


def _mean(readings: Sequence[float]) -> float:
    return math.fsum(readings) / len(readings)
