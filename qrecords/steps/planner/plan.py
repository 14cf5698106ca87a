"""From the question to the plan: the fit, the clearance left, the stress in the ring, and the heat."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from qrecords.engineering import clearance, fits, heating
from qrecords.engineering.ceilings import Ceiling, ceiling_for
from qrecords.engineering.cooling import Ring
from qrecords.engineering.errors import EngineeringError, OutsideValidityError
from qrecords.engineering.measurement import GUARD_FACTOR
from qrecords.engineering.result import Result
from qrecords.engineering.validity import thin_ring_doubt
from qrecords.steps.clearance import FEELER_U_NM, POSSIBLE
from qrecords.steps.measurement import HOUSE_U_T_MK
from qrecords.steps.planner.asked import Asked, Candidate
from qrecords.steps.requirement import said_from

NOT_MEASURED = "gauge's U not given: taken as 0"
Heat = heating.Plan | EngineeringError | None
"""The plan, or why there can be none: too hot for its ceiling, or nothing that would grip."""


@dataclass(frozen=True)
class Left:
    """What clearance one bearing has left when cold; `by_group` is the same had G0 not been measured.
    Both None where neither a group's table nor a reading of G0 is there."""

    candidate: Candidate
    forecast: clearance.Forecast | None
    by_group: clearance.Forecast | None
    factor: Result
    safe: Result | None
    """How much hotter than the outer ring the inner may be, in K; None where nothing can be clamped."""
    clamped: Result | None

    @property
    def measured(self) -> bool:
        return self.candidate.g0_nm is not None


@dataclass(frozen=True)
class FitPlan:
    """The whole answer. `allowed` is what the two classes allow, `outside` the chance of lying outside of it,
    None without a class of the journal;
    `heat` is the plan, or why there can be none; None until the shaft's temperature is known."""

    asked: Asked
    fit: fits.Interference
    allowed: fits.ClassFit | None
    outside: fits.Outside | None
    left: tuple[Left, ...]
    heated: int
    """Which of `left` the heat plan is for."""
    effective: Result
    press: fits.PressFit | None
    ceiling: Ceiling
    heat: Heat

    @property
    def measured(self) -> bool:
        """Journal or bore was measured."""
        return self.asked.journal_nm is not None or self.asked.bore_nm is not None

    @property
    def heated_left(self) -> Left:
        return self.left[self.heated]


def plan_fit(asked: Asked) -> FitPlan:
    """Work it all out. Nothing of what `read_asked` lets through raises."""
    fit = interference(asked)
    left = tuple(_left(asked, fit, candidate) for candidate in asked.candidates)
    d = float(asked.sizes.bore_mm)
    effective = fits.smoothed(fit.local_max.value, d, asked.seat)
    ceiling = ceiling_for(asked.kinds, asked.own)
    allowed = fits.from_classes(asked.journal, asked.bore) if asked.journal else None
    return FitPlan(
        asked=asked,
        fit=fit,
        allowed=allowed,
        outside=_outside(fit, allowed),
        left=left,
        heated=_better(left),
        effective=effective,
        press=_press(asked, effective.value),
        ceiling=ceiling,
        heat=_heat(asked, fit, ceiling),
    )


def _outside(fit: fits.Interference, allowed: fits.ClassFit | None) -> fits.Outside | None:
    if allowed is None:
        return None
    return fits.share_outside(fit.mean, allowed.minimum.value, allowed.maximum.value)


def interference(asked: Asked) -> fits.Interference:
    """Each of journal and bore as measured, else from its class."""
    u_um = asked.u_um or 0.0
    if asked.journal_nm is None:
        assert asked.journal is not None  # noqa: S101 - one of the two was asked for
        if asked.bore_nm is None:
            return _of_classes(fits.from_classes(asked.journal, asked.bore), asked)
        found = fits.from_journal_class(asked.journal, [[_whole_mm(asked, asked.bore_nm)]], u_um)
    else:
        journal = [[_whole_mm(asked, nm) for nm in asked.journal_nm]]
        if asked.bore_nm is None:
            found = fits.from_bore_class(journal, asked.bore, u_um)
        else:
            found = fits.from_readings(journal, [[_whole_mm(asked, asked.bore_nm)]], u_um, u_um)
    return found if asked.u_um is not None else _doubted(found)


def _of_classes(allowed: fits.ClassFit, asked: Asked) -> fits.Interference:
    assert asked.journal is not None  # noqa: S101 - its class was just used
    u = math.hypot(asked.journal.it_um, asked.bore.it_um) / 6
    mean = replace(allowed.mean, u=u, assumptions=("neither journal nor bore measured: taken from classes",))
    return fits.Interference(mean, allowed.maximum, allowed.minimum)


def _doubted(found: fits.Interference) -> fits.Interference:
    """The same, saying that nobody told the gauge's uncertainty."""
    ends = (found.mean, found.local_max, found.local_min)
    return fits.Interference(*(replace(r, assumptions=(*r.assumptions, NOT_MEASURED)) for r in ends))


def _whole_mm(asked: Asked, deviation_nm: int) -> float:
    return (asked.nominal_nm + deviation_nm) / 1_000_000


def _left(asked: Asked, fit: fits.Interference, candidate: Candidate) -> Left:
    d, big = float(asked.sizes.bore_mm), float(asked.sizes.outside_mm)
    raceway_mm = None if asked.raceway_mm is None else float(asked.raceway_mm)
    factor = clearance.loss_factor(
        d, big, float(asked.shaft_bore_mm), raceway_mm, said_from(asked.raceway_from)
    )
    spread = _interference_spread(asked, fit)
    group, g0 = _of_group(candidate), _of_reading(candidate)

    def forecast(before: clearance.Spread | None) -> clearance.Forecast | None:
        if before is None:
            return None
        return clearance.forecast(before, spread, d, factor, asked.seat, asked.least_um)

    by_group = candidate.limits.unconfirmed if candidate.limits is not None and g0 is None else ()
    thin = thin_ring_doubt(d, raceway_mm or fits.clearance_raceway_mm(d, big))
    rings = _ring_difference(asked, g0 or group, (d, big))
    safe, clamped = (result and doubting(result, (*by_group, *thin)) for result in rings)
    found = forecast(g0 or group)
    if found is not None:
        found = found._replace(mean=doubting(found.mean, (*fit.mean.unconfirmed, *by_group)))
    return Left(candidate, found, forecast(group), factor, safe, clamped)


def doubting(result: Result, doubts: tuple[str, ...]) -> Result:
    """The same result, which rests on these unconfirmed rows too."""
    return replace(result, unconfirmed=tuple(dict.fromkeys((*doubts, *result.unconfirmed))))


def _of_group(candidate: Candidate) -> clearance.Spread | None:
    limits = candidate.limits
    return None if limits is None else clearance.Spread.of_limits(limits.min_um, limits.max_um)


def _of_reading(candidate: Candidate) -> clearance.Spread | None:
    """G0 as felt with blades: no gauge is named here, so the house's u (ruling 18)."""
    if candidate.g0_nm is None:
        return None
    return clearance.Spread.of_reading(candidate.g0_nm / 1000, FEELER_U_NM / 1000)


def _interference_spread(asked: Asked, fit: fits.Interference) -> clearance.Spread:
    if asked.journal_nm is None and asked.bore_nm is None and asked.journal is not None:
        journal = (asked.journal.lower_um, asked.journal.upper_um)
        return clearance.Spread.of_class_fit(journal, (asked.bore.lower_um, asked.bore.upper_um))
    mean = fit.mean
    return clearance.Spread.of_reading(mean.value, mean.u or 0.0, fit.local_min.value, fit.local_max.value)


def _ring_difference(
    asked: Asked, before: clearance.Spread | None, sizes: tuple[float, float]
) -> tuple[Result | None, Result | None]:
    """Of the least clearance before the fit. A separable inner ring is heated alone: nothing clamps it."""
    if before is None or before.low_um <= 0 or "separable_inner_ring" in asked.kinds:
        return None, None
    d, big = sizes
    inner_mm = float(asked.raceway_mm or fits.clearance_raceway_mm(d, big))
    return heating.ring_difference_allowed(before.low_um, inner_mm, fits.outer_raceway_mm(d, big))


def _better(left: tuple[Left, ...]) -> int:
    """The other bearing where the first may lack clearance and the other is likelier to have it."""
    if len(left) < 2 or left[1].forecast is None:
        return 0
    first, other = left[0].forecast, left[1].forecast
    return int(first is None or (first.p_below >= POSSIBLE and other.p_below < first.p_below))


def _press(asked: Asked, effective_um: float) -> fits.PressFit | None:
    """Stresses at the largest interference; None without any, and for a ring too thin for the model."""
    if effective_um <= 0:
        return None
    d, big, b = (float(x) for x in (asked.sizes.bore_mm, asked.sizes.outside_mm, asked.sizes.width_mm))
    try:
        return fits.press_fit(d, fits.stress_raceway_mm(d, big), effective_um, float(asked.shaft_bore_mm), b)
    except OutsideValidityError:
        return None


def ring_of(asked: Asked) -> Ring:
    """The bearing as a body that cools; its mass by estimate where nobody told it."""
    sizes = asked.sizes
    mass_kg = None if asked.mass_kg is None else float(asked.mass_kg)
    edges = (float(sizes.bore_mm), float(sizes.outside_mm), float(sizes.width_mm))
    return Ring(*edges, mass_kg, said_from(asked.mass_from))


def _heat(asked: Asked, fit: fits.Interference, ceiling: Ceiling) -> Heat:
    if asked.shaft_c is None:
        return None
    cold = heating.ColdFit(float(asked.sizes.bore_mm), fit.local_max.value, fit.mean.value, fit.mean.u or 0.0)
    try:
        return heating.plan(
            cold,
            ceiling,
            asked.shaft_c,
            asked.shaft_c if asked.air_c is None else asked.air_c,
            HOUSE_U_T_MK / 1000,
            ring_of(asked),
            GUARD_FACTOR,
            outer_below_inner_k=asked.evenly_k,
            air_m_s=asked.air_m_s,
            tables=asked.tables,
        )
    except EngineeringError as error:
        return error


def results(plan: FitPlan) -> Mapping[str, Result]:
    """Every worked-out number by its name, each with formula, inputs, assumptions and source."""
    found: dict[str, Result | None] = {
        "interference": plan.fit.mean,
        "interference_most": plan.fit.local_max,
        "interference_least": plan.fit.local_min,
    }
    if plan.allowed is not None:
        found |= {
            "class_least": plan.allowed.minimum,
            "class_most": plan.allowed.maximum,
            "class_mean": plan.allowed.mean,
            "class_probable_least": plan.allowed.probable_low,
            "class_probable_most": plan.allowed.probable_high,
        }
    if plan.outside is not None:
        found |= {"share_below": plan.outside.below, "share_above": plan.outside.above}
    for name, left in zip(("", "other_"), plan.left, strict=False):
        found[f"{name}clearance_left"] = left.forecast.mean if left.forecast else None
        found[f"{name}ring_difference"], found[f"{name}ring_difference_clamped"] = left.safe, left.clamped
    found["loss_factor"] = plan.left[0].factor
    follows: dict[str, Result | None] = {"effective_interference": plan.effective, **_of_heat(plan.heat)}
    if plan.press is not None:
        follows |= {
            "pressure": plan.press.pressure,
            "hoop_stress": plan.press.hoop_with_allowance,
            "raceway_growth": plan.press.raceway_growth,
            "axial_force": plan.press.axial_force,
        }
    doubts = plan.fit.mean.unconfirmed
    found |= {name: result and doubting(result, doubts) for name, result in follows.items()}
    return {name: result for name, result in found.items() if result is not None}


def _of_heat(heat: Heat) -> dict[str, Result | None]:
    if not isinstance(heat, heating.Plan):
        return {}
    return {
        "at_contact": heat.contact,
        "to_aim_for": heat.wanted,
        "growth": heat.grown,
        "carry_drop": heat.drop,
        "even": heat.start,
        "carry": heat.carry,
        "grip": heat.pressing.grip if heat.pressing else None,
        "pressing": heat.pressing.hold if heat.pressing else None,
    }


def needed_c(plan: FitPlan) -> float | None:
    """What the ring must have when it leaves the heater; None where nobody can tell."""
    return plan.heat.needed_c if isinstance(plan.heat, heating.Plan | heating.UnreachableError) else None


def most_c(plan: FitPlan) -> float:
    """The ceiling less its guard."""
    return heating.most_allowed_c(plan.ceiling, HOUSE_U_T_MK / 1000)
