"""How each result of a plan stands: the words of ISO 14253-1, why, and the facts that a sentence needs."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from qrecords.engineering import heating
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.measurement import decide
from qrecords.engineering.validity import FASTEST_AIR_M_S
from qrecords.steps.clearance import CERTAIN, POSSIBLE
from qrecords.steps.findings import Fact, Verdict
from qrecords.steps.measurement import worst_verdict
from qrecords.steps.overheated import UNCODED_STABLE_C
from qrecords.steps.planner.plan import FitPlan, Left, most_c, needed_c

HOOP_LIMIT_MPA = 130
"""The lower of two limits in use for through-hardened rings, 130 and 150 MPa (from memory, no standard)."""
SOFT, SOFT_MOST_C = frozenset({"sealed", "greased", "polyamide_cage"}), 120
"""What bears less heat than steel, and the most that any of it bears (common practice, no source)."""
WORTH_SAYING_C = 5.0
"""A fixed temperature within this of the plan's own is the same."""


@dataclass(frozen=True)
class Judged:
    """One verdict. `about` is a slug; `reason` says why; facts are in nm, m°C, mK, kPa, ppm and mm/s."""

    about: str
    verdict: Verdict
    reason: str
    facts: Mapping[str, Fact] = field(default_factory=dict)


def judged(plan: FitPlan) -> tuple[Judged, ...]:
    """Every verdict of a plan: readings, fit, clearance of each bearing, stress, heat, rings, habit."""
    clearances = [
        _clearance(about, left)
        for about, left in zip(("clearance", "other clearance"), plan.left, strict=False)
    ]
    before, after = (
        (*_readings(plan), _fit(plan)),
        (*_hoop(plan), *_heat(plan), *_own_ceiling(plan), *_marks(plan), *_rings(plan), *_habit(plan)),
    )
    return (*before, *clearances, *after)


def of(verdicts: tuple[Judged, ...], about: str) -> Judged | None:
    return next((each for each in verdicts if each.about == about), None)


def _u_nm(plan: FitPlan) -> int | None:
    return None if plan.asked.u_um is None else math.ceil(plan.asked.u_um * 1000)


def _decided(values: tuple[int, ...], low: int, high: int, u_nm: int | None) -> tuple[Verdict, int]:
    """The worst of some values, and that value. Without the gauge's U nothing is proven inside."""
    verdicts = [Verdict(decide(value, low, high, u_nm or 0)) for value in values]
    worst = worst_verdict(verdicts)
    value = min(values, key=lambda each: min(each - low, high - each))
    if u_nm is None and worst == Verdict.CONFORMING:
        worst = Verdict.NOT_PROVEN
    return worst, value


def _readings(plan: FitPlan) -> Iterator[Judged]:
    """Journal and bore as measured against their classes."""
    asked = plan.asked
    measured = (
        ("journal", asked.journal_nm, asked.journal),
        ("bore", None if asked.bore_nm is None else (asked.bore_nm,), asked.bore),
    )
    for about, values, limits in measured:
        if values is None or limits is None:
            continue
        verdict, worst = _decided(values, limits.lower_nm, limits.upper_nm, _u_nm(plan))
        facts = {"value_nm": worst, "lower_nm": limits.lower_nm, "upper_nm": limits.upper_nm}
        yield Judged(about, verdict, _reason(verdict, plan), facts)


def _reason(verdict: Verdict, plan: FitPlan) -> str:
    no_u = verdict == Verdict.NOT_PROVEN and plan.asked.u_um is None
    return "no-uncertainty" if no_u else verdict.value.replace(" ", "-")


def _fit(plan: FitPlan) -> Judged:
    """The local extremes against what the two classes allow."""
    least, most = (round(r.value * 1000) for r in (plan.fit.local_min, plan.fit.local_max))
    facts: dict[str, Fact] = {
        "mean_nm": round(plan.fit.mean.value * 1000),
        "least_nm": least,
        "most_nm": most,
    }
    if not plan.measured:
        return Judged("fit", Verdict.MISSING, "not-measured", facts)
    if plan.allowed is None:
        return Judged("fit", Verdict.MISSING, "no-class", facts)
    low, high = (round(r.value * 1000) for r in (plan.allowed.minimum, plan.allowed.maximum))
    verdict, worst = _decided((least, most), low, high, _fit_u_nm(plan))
    return Judged(
        "fit",
        verdict,
        _reason(verdict, plan),
        {**facts, "lower_nm": low, "upper_nm": high, "worst_nm": worst},
    )


def _fit_u_nm(plan: FitPlan) -> int | None:
    """u of what was measured; what comes from a class stands at its limits already, and adds none."""
    u_nm = _u_nm(plan)
    both = plan.asked.journal_nm is not None and plan.asked.bore_nm is not None
    return u_nm if u_nm is None or not both else math.ceil(u_nm * math.sqrt(2))


def _clearance(about: str, left: Left) -> Judged:
    """P(below the least) as the rule of the forecast has it: from 50 % out, from 5 % too close to call."""
    found, group = left.forecast, left.by_group
    if found is None:
        return Judged(about, Verdict.MISSING, "no-group", {"name": left.candidate.name})
    facts: dict[str, Fact] = {
        "name": left.candidate.name,
        "mean_nm": round(found.mean.value * 1000),
        "worst_low_nm": round(found.worst_low_um * 1000),
        "worst_high_nm": round(found.worst_high_um * 1000),
        "probable_low_nm": round(found.probable_low_um * 1000),
        "probable_high_nm": round(found.probable_high_um * 1000),
        "below_ppm": round(found.p_below * 1_000_000),
        "least_nm": round(found.minimum_um * 1000),
    }
    if found.p_below >= CERTAIN:
        return Judged(about, Verdict.NONCONFORMING, "none-left", facts)
    if found.p_below >= POSSIBLE:
        return Judged(about, Verdict.NOT_PROVEN, "may-be-none", facts)
    by_reading = left.measured and group is not None and group.p_below >= POSSIBLE
    reason = "by-reading" if by_reading else "left-measured" if left.measured else "left-by-group"
    return Judged(about, Verdict.CONFORMING, reason, facts)


def _hoop(plan: FitPlan) -> Iterator[Judged]:
    if plan.press is None:
        if plan.effective.value > 0:
            yield Judged("hoop", Verdict.QUERY, "thin-ring")
        return
    stress = plan.press.hoop_with_allowance.value
    facts: dict[str, Fact] = {"stress_kpa": round(stress * 1000), "limit_kpa": HOOP_LIMIT_MPA * 1000}
    over = stress > HOOP_LIMIT_MPA
    yield Judged("hoop", Verdict.QUERY if over else Verdict.CONFORMING, "over" if over else "under", facts)


def _heat(plan: FitPlan) -> Iterator[Judged]:
    heat = plan.heat
    ceiling: dict[str, Fact] = {"ceiling": plan.ceiling.kind, "cap_mdegc": _milli(plan.ceiling.cap_c)}
    if heat is None:
        yield Judged("heat", Verdict.MISSING, "no-temperature", ceiling)
    elif isinstance(heat, heating.UnreachableError):
        facts = {
            "needed_mdegc": _milli(heat.needed_c), "shaft_mdegc": _milli(heat.shaft_c),
            "cool_to_mdegc": _milli(heat.shaft_at_most_c),
        }  # fmt: skip
        yield Judged("heat", Verdict.NONCONFORMING, "unreachable", {**ceiling, **facts})
    elif isinstance(heat, EngineeringError) and plan.asked.air_m_s > FASTEST_AIR_M_S:
        facts = {"air_mm_s": _milli(plan.asked.air_m_s), "fastest_mm_s": _milli(FASTEST_AIR_M_S)}
        yield Judged("heat", Verdict.QUERY, "draught", {**ceiling, **facts})
    elif isinstance(heat, EngineeringError):
        yield Judged("heat", Verdict.MISSING, "loose", ceiling)
    else:
        yield Judged("heat", Verdict.CONFORMING, "planned", ceiling)


def _milli(value: float) -> int:
    return round(value * 1000)


def _marks(plan: FitPlan) -> Iterator[Judged]:
    """Marks that only the maker can interpret: one of them may be a seal or a cage that bears less heat."""
    designation = plan.asked.designation
    if designation is not None and designation.asked_for and plan.asked.own is None:
        yield Judged("marks", Verdict.QUERY, "ask", {"marks": ", ".join(designation.asked_for)})


def _rings(plan: FitPlan) -> Iterator[Judged]:
    """Whether the rings are heated evenly enough for the bearing that the plan is for."""
    left = plan.heated_left
    if left.safe is None or left.clamped is None:
        return
    facts: dict[str, Fact] = {"allowed_mk": _milli(left.safe.value), "clamped_mk": _milli(left.clamped.value)}
    if plan.asked.evenly_k is None:
        yield Judged("rings", Verdict.MISSING, "not-told", facts)
        return
    facts["difference_mk"] = _milli(plan.asked.evenly_k)
    over = plan.asked.evenly_k > left.safe.value
    yield Judged("rings", Verdict.QUERY if over else Verdict.CONFORMING, "over" if over else "even", facts)


def _own_ceiling(plan: FitPlan) -> Iterator[Judged]:
    """A ceiling that the reader brought and that no such bearing bears as a rule: steel that bears no mark
    tempers from 150 °C (ruling 12), seals, grease and polyamide bear 120 °C at most (common practice, no
    source)."""
    if plan.asked.own is None:
        return
    soft = SOFT & set(plan.asked.kinds)
    usual_c = SOFT_MOST_C if soft else UNCODED_STABLE_C
    if plan.ceiling.cap_c > usual_c:
        facts: dict[str, Fact] = {"cap_mdegc": _milli(plan.ceiling.cap_c), "usual_mdegc": _milli(usual_c)}
        yield Judged("own ceiling", Verdict.QUERY, "soft" if soft else "tempers", facts)


def _habit(plan: FitPlan) -> Iterator[Judged]:
    """The fixed temperature that is always set, against what this fit needs and this bearing bears."""
    needed, habit = needed_c(plan), plan.asked.habit_c
    if needed is None:
        return
    facts: dict[str, Fact] = {
        "habit_mdegc": _milli(habit), "needed_mdegc": _milli(needed), "cap_mdegc": _milli(plan.ceiling.cap_c),
        "ceiling": plan.ceiling.kind, "measured": "yes" if plan.measured else "no",
    }  # fmt: skip
    set_c = plan.heat.set_c if isinstance(plan.heat, heating.Plan) else None
    if set_c is not None:
        facts["set_mdegc"] = _milli(set_c)
    if habit > most_c(plan):
        yield Judged("habit", Verdict.NONCONFORMING, "too-hot", facts)
    elif habit < needed:
        yield Judged("habit", Verdict.NONCONFORMING, "not-enough", facts)
    elif isinstance(plan.heat, heating.Plan) and habit <= plan.heat.must_reach_c:
        must: dict[str, Fact] = {"must_mdegc": _milli(plan.heat.must_reach_c)}
        yield Judged("habit", Verdict.QUERY, "no-time", facts | must)
    elif set_c is not None and habit > set_c + WORTH_SAYING_C:
        yield Judged("habit", Verdict.QUERY, "not-needed", facts)
    else:
        yield Judged("habit", Verdict.CONFORMING, "serves", facts)
