"""Rules of thumb of the workshop beside what the models say, one function a habit, from plain numbers.

Each answers with the habit's number, the computed one and the key of a sentence. A habit is not wrong
everywhere: the difference says how wrong it is here.
"""

import math
from typing import NamedTuple

from .ceilings import COMMON_PRACTICE
from .clearance import loss_factor
from .cooling import Ring, carry_time, equalised_c, pressing_time
from .fits import press_fit, smoothed, smoothed_by_roughness, stress_raceway_mm
from .growth import growth, recommended_clearance, required_temperature
from .magnetism import in_air
from .materials import ALPHA_RING, ALPHA_SHAFT
from .measurement import GUARD_FACTOR, at_20
from .power import TwoRings, heating_time, time_to_reach
from .ranges import above, inside
from .result import Result, said
from .tables import BUILT_IN, Tables

ALWAYS_C, SHARE_OF_INTERFERENCE, HELD_S, THOUSANDTH = 110.0, 0.80, 10.0, 0.001


class Habit(NamedTuple):
    """One rule of thumb at one set of numbers: `key` names its sentence; both results are in one unit."""

    key: str
    habit: Result
    computed: Result

    @property
    def difference(self) -> float:
        """Habit less computed, in their unit."""
        return self.habit.value - self.computed.value


def always_110(bore_mm: float, interference_um: float, shaft_c: float, tables: Tables = BUILT_IN) -> Habit:
    """*Heat to 110 °C, always*: too cold for a small bore with a tight fit, hotter than needed for others."""
    clearance_um = recommended_clearance(above("bore d", bore_mm, "mm"), tables).value
    above("interference δ", interference_um, "um")
    inside("shaft", shaft_c, "°C")
    computed = required_temperature(bore_mm, interference_um, clearance_um, shaft_c)
    return Habit("habit-always-110", _by_habit(ALWAYS_C, "°C", "T = 110 °C"), computed)


def rise_from_air(
    bore_mm: float, interference_um: float, clearance_um: float, shaft_c: float, air_c: float
) -> Habit:
    """*The rise counts from the air*: it counts from the shaft, degree for degree."""
    above("bore d", bore_mm, "mm")
    above("interference δ", interference_um, "um")
    inside("clearance c", clearance_um, "um", 0.0)
    inside("shaft", shaft_c, "°C")
    rise_k = (interference_um + clearance_um) / (ALPHA_RING * bore_mm * 1000)
    habit = _by_habit(
        inside("air", air_c, "°C") + rise_k, "°C", "T = T_air + (δ + c)/(α·d)",
        ("T_air", said(air_c, "°C")), ("δ", said(interference_um, "um")), ("c", said(clearance_um, "um")),
    )  # fmt: skip
    return Habit(
        "habit-rise-from-air", habit, required_temperature(bore_mm, interference_um, clearance_um, shaft_c)
    )


def thousandth_of_the_bore(bore_mm: float, tables: Tables = BUILT_IN) -> Habit:
    """*A thousandth of the bore as clearance*: the rise in K that the clearance alone asks for."""
    per_k = ALPHA_RING * above("bore d", bore_mm, "mm") * 1000
    wanted = recommended_clearance(bore_mm, tables)
    habit = _by_habit(
        THOUSANDTH * bore_mm * 1000 / per_k, "K", "ΔT = (d/1000)/(α·d)", ("d", said(bore_mm, "mm"))
    )
    computed = Result(
        wanted.value / per_k, "K", None, "ΔT = c/(α·d), c of ISO 286 f",
        (("c", said(wanted.value, "um")), ("d", said(bore_mm, "mm"))), wanted.assumptions, wanted.source,
        wanted.unconfirmed,
    )  # fmt: skip
    return Habit("habit-thousandth-of-the-bore", habit, computed)


def eighty_percent(
    bore_mm: float, outside_mm: float, interference_um: float, shaft_bore_mm: float = 0.0
) -> Habit:
    """*The clearance loses 80 % of the interference*: rather more on a solid shaft, less on a hollow one."""
    above("interference δ", interference_um, "um")
    factor = loss_factor(bore_mm, outside_mm, shaft_bore_mm)
    put_in = (("δ", said(interference_um, "um")),)
    computed = Result(
        factor.value * interference_um, "um", (factor.u or 0.0) * interference_um, f"f·δ, {factor.formula}",
        (*factor.put_in, *put_in), factor.assumptions, factor.source, factor.unconfirmed,
    )  # fmt: skip
    habit = _by_habit(SHARE_OF_INTERFERENCE * interference_um, "um", "0.8·δ", *put_in)
    return Habit("habit-eighty-percent", habit, computed)


def one_raceway(bore_mm: float, outside_mm: float, interference_um: float) -> Habit:
    """*One equivalent raceway does for all*: that of the stress tells too small a loss of clearance."""
    above("interference δ", interference_um, "um")
    right, wrong = (
        loss_factor(bore_mm, outside_mm, raceway_mm=raceway)
        for raceway in (None, stress_raceway_mm(bore_mm, outside_mm))
    )
    put_in = (*wrong.put_in, ("δ", said(interference_um, "um")))
    computed = Result(
        right.value * interference_um, "um", (right.u or 0.0) * interference_um,
        "δ·d/F, F = d + 0.20·(D − d)",
        (*right.put_in, ("δ", said(interference_um, "um"))), right.assumptions, right.source,
        right.unconfirmed,
    )  # fmt: skip
    habit = _by_habit(wrong.value * interference_um, "um", "δ·d/F, F = d + 0.25·(D − d)", *put_in)
    return Habit("habit-one-raceway", habit, computed)


def narrow_ring(
    bore_mm: float, outside_mm: float, interference_um: float, shaft_bore_mm: float = 0.0
) -> Habit:
    """*Lamé is exact*: a shaft longer than the ring presses harder; hoop stress at the bore in MPa."""
    raceway_mm = stress_raceway_mm(bore_mm, outside_mm)
    fit = press_fit(bore_mm, raceway_mm, interference_um, shaft_bore_mm)
    habit = _by_habit(fit.hoop_bore.value, "MPa", fit.hoop_bore.formula, *fit.hoop_bore.put_in)
    return Habit("habit-narrow-ring", habit, fit.hoop_with_allowance)


def any_surface(interference_um: float, bore_mm: float, shaft_rz_um: float, bore_rz_um: float) -> Habit:
    """*d/(d + 2) whatever the surface*: a rough seat keeps less of its interference."""
    above("interference δ", interference_um, "um")
    above("bore d", bore_mm, "mm")
    inside("Rz of the shaft", shaft_rz_um, "um", 0.0)
    inside("Rz of the bore", bore_rz_um, "um", 0.0)
    kept = smoothed(interference_um, bore_mm)
    habit = _by_habit(kept.value, "um", kept.formula, *kept.put_in)
    return Habit("habit-any-surface", habit, smoothed_by_roughness(interference_um, shaft_rz_um, bore_rz_um))


def warm_shaft_as_read(reading_mm: float, shaft_c: float, gauge_c: float) -> Habit:
    """*A warm shaft is near enough*: the reading as it stands, in mm, beside the diameter at 20 °C."""
    above("reading", reading_mm, "mm")
    computed = at_20(
        reading_mm, inside("shaft", shaft_c, "°C"), inside("gauge", gauge_c, "°C"), ALPHA_SHAFT, ALPHA_SHAFT
    )
    return Habit("habit-warm-shaft", _by_habit(reading_mm, "mm", "d = L", computed.put_in[0]), computed)


def three_equal_diameters(lobes: int, lobe_um: float) -> Habit:
    """*Three equal diameters are round*: the roundness in µm that three two-point readings see of a journal
    whose radius goes up and down by `lobe_um` in `lobes` lobes, beside the whole of it."""
    inside("lobes", lobes, "1", 2)
    above("lobe", lobe_um, "um")

    def radius_um(at_deg: int) -> float:
        return lobe_um * math.cos(math.radians(lobes * at_deg))

    diameters = [radius_um(at) + radius_um(at + 180) for at in (0, 60, 120)]
    put_in = (("lobes", str(lobes)), ("a", said(lobe_um, "um")))
    habit = _by_habit((max(diameters) - min(diameters)) / 2, "um", "(d_max − d_min)/2 of three", *put_in)
    computed = Result(
        2 * lobe_um, "um", None, "r_max − r_min = 2·a", put_in, ("lobes of one height all round",), "ISO 1101"
    )
    return Habit("habit-three-equal-diameters", habit, computed)


def carry_by_air_alone(
    sizes_mm: tuple[float, float, float],
    mass_kg: float,
    inner_c: float,
    outer_c: float,
    least_c: float,
    air_c: float,
) -> Habit:
    """*The air alone cools it on the way*: seconds from what the inner ring reads, beside those from where
    both rings meet; none where they meet below the least. `sizes_mm` are bore, outside diameter and width."""
    ring = Ring(*sizes_mm, mass_kg)
    inside("outer ring", outer_c, "°C", high=inside("inner ring", inner_c, "°C"))
    met_c = equalised_c(inner_c, outer_c)
    by_air = carry_time(ring, inner_c, least_c, air_c)
    habit = _by_habit(by_air.value, "s", by_air.formula, *by_air.put_in)
    return Habit("habit-carry-by-air", habit, carry_time(ring, met_c.value, least_c, air_c))


def held_10_s(
    bore_mm: float, outside_mm: float, interference_um: float, ring_c: float, shaft_c: float
) -> Habit:
    """*Hold it for 10 s*: long enough for the smallest, far too short for a large one."""
    above("outside diameter D", outside_mm, "mm", above("bore d", bore_mm, "mm"))
    raceway_mm = stress_raceway_mm(bore_mm, outside_mm)
    computed = pressing_time(bore_mm, raceway_mm, interference_um, ring_c, shaft_c).hold
    return Habit("habit-held-10-s", _by_habit(HELD_S, "s", "t = 10 s"), computed)


def time_of_the_whole(rings: TwoRings, net_w: float, start_c: float, stop_c: float) -> Habit:
    """*t = m·cp·ΔT/ηP*: a probe on the inner ring stops the heater while the outer ring is still cool."""
    reached = time_to_reach(rings, net_w, start_c, stop_c)
    whole = heating_time(rings.inner_kg + rings.outer_kg, stop_c - start_c, net_w, 1.0)
    habit = _by_habit(whole.value, "s", whole.formula, *whole.put_in)
    return Habit("habit-time-of-the-whole", habit, reached)


def feeler_while_hot(width_mm: float, bore_mm: float, interference_um: float) -> Habit:
    """*No blade goes in while it is hot*: the gap in µm that can still come as the ring, gripping at its far
    end, shortens until it is as cold as the shaft."""
    above("width B", width_mm, "mm")
    above("bore d", bore_mm, "mm")
    gripped_k = above("interference δ", interference_um, "um") / (ALPHA_RING * bore_mm * 1000)
    to_come = growth(width_mm, gripped_k)
    computed = Result(
        to_come.value, "um", to_come.u, "α·B·δ/(α·d)",
        (("B", said(width_mm, "mm")), ("d", said(bore_mm, "mm")), ("δ", said(interference_um, "um"))),
        ("gripped first at the end away from the shoulder",), to_come.source, to_come.unconfirmed,
    )  # fmt: skip
    return Habit("habit-feeler-while-hot", _by_habit(0.0, "um", "nothing to come"), computed)


def a_per_cm_is_gauss(field_a_per_cm: float) -> Habit:
    """*One A/cm is one gauss*: in air it is 1.257."""
    habit = _by_habit(
        inside("field", field_a_per_cm, "A/cm"), "G", "B = H", ("H", said(field_a_per_cm, "A/cm"))
    )
    return Habit("habit-a-per-cm-is-gauss", habit, in_air(field_a_per_cm, "A/cm", "G"))


def guard_is_all_of_u(standard_u_um: float) -> Habit:
    """*The guard is U*: that was the older edition, 2·u; since 2017 it is 1.65·u for 95 % on one side."""
    above("u", standard_u_um, "um")
    put_in = (("u", said(standard_u_um, "um")),)
    factor = float(GUARD_FACTOR)
    computed = Result(
        factor * standard_u_um, "um", None, f"g = {factor}·u", put_in, ("95 % on one side",),
        "ISO 14253-1:2017", ("ISO 14253-1:2017: from summaries",),
    )  # fmt: skip
    return Habit("habit-guard-is-u", _by_habit(2 * standard_u_um, "um", "g = 2·u", *put_in), computed)


def volume_coefficient(bore_mm: float, rise_k: float) -> Habit:
    """*Steel grows by 3·α*: in volume; a bore, like every length, by α."""
    computed = growth(above("bore d", bore_mm, "mm"), above("rise", rise_k, "K"))
    return Habit(
        "habit-volume-coefficient",
        _by_habit(3 * computed.value, "um", "3·α·d·ΔT", *computed.put_in),
        computed,
    )


def _by_habit(value: float, unit: str, formula: str, *put_in: tuple[str, str]) -> Result:
    return Result(value, unit, None, formula, put_in, ("a rule of thumb",), COMMON_PRACTICE)
