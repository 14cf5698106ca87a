"""What a reading is worth: its uncertainty, its value at 20 °C, and whether it proves anything."""

import math
from collections.abc import Sequence
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction
from typing import NamedTuple

from .errors import OutOfRangeError
from .materials import ALPHA_SHAFT, REFERENCE_C
from .ranges import BIGGEST, inside
from .result import Result, said

CONFORMING, NOT_PROVEN, NONCONFORMING = "conforming", "not proven", "nonconforming"
ODD_LOBES = (
    "two-point readings cannot see odd lobes: three or five keep one diameter all round, however large"
)
GUARD_FACTOR = Decimal("1.65")  # ISO 14253-1:2017, 95 % one-sided; the older edition's is 2


def guard(standard_uncertainty: int, factor: Decimal | float | str) -> int:
    """The guard in the base unit of u: computed exactly, then rounded up (1.65 × 600 is 990)."""
    exact = Decimal(str(factor)) * standard_uncertainty
    if exact < 0:
        raise OutOfRangeError("guard", exact, "", 0, "any")
    return int(exact.to_integral_value(ROUND_CEILING))


def decide(
    value: int,
    lower: int | None,
    upper: int | None,
    standard_uncertainty: int,
    guard_factor: Decimal | float | str = GUARD_FACTOR,
) -> str:
    """`conforming`, `not proven` or `nonconforming`, all in integers of one base unit.

    A missing limit is None. The acceptance limit itself conforms; limit plus guard itself is not proven. With
    factor 0 (simple acceptance) there is no zone in between. Source: ISO 14253-1:2017.
    """
    for number in (value, lower, upper, standard_uncertainty):
        if number is not None and not isinstance(number, int):
            raise TypeError(f"verdicts compare integers of one base unit, not {number!r}")
    g = guard(standard_uncertainty, guard_factor)
    if (lower is not None and value < lower - g) or (upper is not None and value > upper + g):
        return NONCONFORMING
    if (lower is None or value >= lower + g) and (upper is None or value <= upper - g):
        return CONFORMING
    return NOT_PROVEN


def normal_below(z: float) -> float:
    """Probability that a standard normal variable is below z."""
    return math.erfc(-z / math.sqrt(2)) / 2


def p_conform(
    value: float, lower: float | None, upper: float | None, standard_uncertainty: float, unit: str = "um"
) -> Result:
    """Probability that the true value conforms, the reading being normal about it.

    All in one unit; a limit that is None is not there. Raises OutOfRangeError for a value or a limit that is
    not finite, limits the wrong way round, or an uncertainty below 0. Source: JCGM 106:2012, 7.
    """
    inside("value", value, unit)
    u = inside("standard uncertainty", standard_uncertainty, unit, 0.0)
    low = -math.inf if lower is None else inside("lower limit", lower, unit)
    high = math.inf if upper is None else inside("upper limit", upper, unit, max(low, -BIGGEST))
    if u:
        chance = normal_below((high - value) / u) - normal_below((low - value) / u)
    else:
        chance = float(low <= value <= high)
    limits = (("L", lower), ("U", upper))
    put_in = (("y", said(value, unit)), ("u", said(u, unit)))
    told = tuple((symbol, said(limit, unit)) for symbol, limit in limits if limit is not None)
    return Result(
        chance, "1", None, "P = Φ((U − y)/u) − Φ((L − y)/u)", (*put_in, *told),
        ("the reading normal about the true value, nothing known before it",), "JCGM 106:2012, 7",
    )  # fmt: skip


def gauge_uncertainty(
    expanded_um: float,
    resolution_um: float,
    repeatability_um: float = 0.0,
    repeats: int = 1,
    resolution_inside: bool = False,
    error_u_um: float = 0.0,
) -> Result:
    """Standard uncertainty of a gauge in µm, without temperature.

    Calibration U (k = 2), resolution a/√12 unless the certificate says it is inside U, and repeatability,
    which alone shrinks with repeats of one point; and where an error that was found later was taken off, that
    error's. Source: JCGM 100:2008, 4.3 and 5.1; house rule for what counts.
    """
    parts = (expanded_um / 2, 0.0 if resolution_inside else resolution_um / math.sqrt(12))
    u = math.hypot(*parts, repeatability_um / math.sqrt(repeats), error_u_um)
    corrected = error_u_um > 0
    return Result(
        value=u, unit="um", u=None,
        formula="u = √((U/2)² + a²/12 + s²/n + u_e²)" if corrected else "u = √((U/2)² + a²/12 + s²/n)",
        put_in=(("U", said(expanded_um, "um")), ("a", said(resolution_um, "um")),
                ("s", said(repeatability_um, "um")), ("n", str(repeats)),
                *((("u_e", said(error_u_um, "um")),) if corrected else ())),
        assumptions=("resolution is inside U",) if resolution_inside else (),
        source="JCGM 100:2008, 4.3 and 5.1",
    )  # fmt: skip


def reading_uncertainty(
    gauge_um: float,
    diameter_mm: float,
    shaft_u_k: float,
    gauge_u_k: float,
    alpha_per_k: float = ALPHA_SHAFT,
    gauge_alpha_per_k: float = ALPHA_SHAFT,
) -> Result:
    """Standard uncertainty of one reading in µm: the gauge's and what the two temperatures add, each with
    the expansion of what has it.

    The mean's is not divided by √n: the systematic parts dominate. Source: JCGM 100:2008, 5.1.
    """
    d_um = diameter_mm * 1000
    parts = (gauge_um, d_um * alpha_per_k * shaft_u_k, d_um * gauge_alpha_per_k * gauge_u_k)
    return Result(
        value=math.hypot(*parts), unit="um", u=None,
        formula="u = √(u_gauge² + (d·α·u_shaft)² + (d·α_g·u_T,gauge)²)",
        put_in=(("u_gauge", said(gauge_um, "um")), ("d", said(diameter_mm, "mm")),
                ("α", said(alpha_per_k * 1e6, "10⁻⁶/K")), ("u_shaft", said(shaft_u_k, "K")),
                ("α_g", said(gauge_alpha_per_k * 1e6, "10⁻⁶/K")), ("u_T,gauge", said(gauge_u_k, "K"))),
        assumptions=("not divided by √n for the mean of several points",),
        source="JCGM 100:2008, 5.1",
    )  # fmt: skip


def length_at_20(
    reading_mm: float,
    shaft_c: float,
    gauge_c: float,
    shaft_alpha_per_k: float = ALPHA_SHAFT,
    gauge_alpha_per_k: float = ALPHA_SHAFT,
) -> float:
    """The bare number of `at_20`, in mm: of every point of a surface, where the formula is shown once."""
    gauge, shaft = gauge_alpha_per_k * (gauge_c - REFERENCE_C), shaft_alpha_per_k * (shaft_c - REFERENCE_C)
    return reading_mm * (1 + gauge) / (1 + shaft)


def at_20(
    reading_mm: float,
    shaft_c: float,
    gauge_c: float,
    shaft_alpha_per_k: float = ALPHA_SHAFT,
    gauge_alpha_per_k: float = ALPHA_SHAFT,
) -> Result:
    """A reading in mm brought to 20 °C.

    For a gauge set on a master, temperature and expansion of the gauge are the master's at setting. Source:
    ISO 1:2022; ISO/TR 16015:2003.
    """
    return Result(
        value=length_at_20(reading_mm, shaft_c, gauge_c, shaft_alpha_per_k, gauge_alpha_per_k),
        unit="mm", u=None,
        formula="d20 = L·(1 + α_g·(T_g − 20 °C)) / (1 + α_s·(T_s − 20 °C))",
        put_in=(("L", f"{reading_mm:.9g} mm"), ("T_g", said(gauge_c, "°C")), ("T_s", said(shaft_c, "°C")),
                ("α_g", said(gauge_alpha_per_k * 1e6, "10⁻⁶/K")),
                ("α_s", said(shaft_alpha_per_k * 1e6, "10⁻⁶/K"))),
        assumptions=("each part has one temperature throughout",),
        source="ISO 1:2022; ISO/TR 16015:2003",
    )  # fmt: skip


class Form(NamedTuple):
    """Roundness or taper seen by a two-point gauge: the difference on diameter and its radial half, in nm.

    `radial_nm`, rounded half to even, is what compares with a tolerance of ISO 1101. Two-point readings
    cannot see odd lobes.
    """

    difference_nm: Fraction
    radial_nm: int


def roundness(planes_nm: Sequence[Sequence[int]]) -> Form:
    """The worst plane's largest less smallest diameter, and half of it. Source: ISO 1132-1, ISO 1101."""
    return _form(max(Fraction(max(plane) - min(plane)) for plane in planes_nm))


def taper(planes_nm: Sequence[Sequence[int]]) -> Form:
    """The largest less the smallest plane mean, and half of it. Source: ISO 1132-1, ISO 1101."""
    means = [Fraction(sum(plane), len(plane)) for plane in planes_nm]
    return _form(max(means) - min(means))


def two_point_roundness(planes_nm: Sequence[Sequence[int]]) -> Result:
    """Roundness in µm as a two-point gauge sees it: half of V, the worst plane's difference of diameters.

    Raises OutOfRangeError for a plane of fewer than two directions. Source: ISO 1132-1, ISO 1101.
    """
    for number, plane in enumerate(planes_nm, start=1):
        if len(plane) < 2:
            raise OutOfRangeError(f"directions in plane {number}", len(plane), "", 2, "any")
    v_um = float(roundness(planes_nm).difference_nm) / 1000
    return Result(
        value=v_um / 2, unit="um", u=None, formula="V/2, V = d_max − d_min in the worst plane",
        put_in=(("V", said(v_um, "um")), ("planes", str(len(planes_nm)))),
        assumptions=(ODD_LOBES, "the directions read are those of the largest and smallest diameter"),
        source="ISO 1132-1; ISO 1101",
    )  # fmt: skip


def form_uncertainty_um(gauge_um: float) -> float:
    """Standard uncertainty in µm of a radial half-difference: u_gauge/√2, temperature cancelling."""
    return gauge_um / math.sqrt(2)


def _form(difference: Fraction) -> Form:
    return Form(difference, round(difference / 2))
