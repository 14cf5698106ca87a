"""Rules over one number and its limits: the same sentence for all of them, and no guard where nothing is
known of the gauge (ruling 2: fillet, run-out, Ra have guard 0)."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from qrecords.engineering import measurement as metrology
from qrecords.engineering.result import Result
from qrecords.steps.case import Answered, Case
from qrecords.steps.findings import Fact, Finding, Verdict
from qrecords.steps.rules import INSPECTOR, Rule, Stage, absent, before_heat, standing


@dataclass(frozen=True)
class Bounds:
    """What a number may be, in its base unit, and where that is written. `rests` are the answers the limits
    follow from."""

    lower: int | None
    upper: int | None
    source: str = ""
    unconfirmed: tuple[str, ...] = ()
    rests: tuple[Answered | str, ...] = ()
    working: Result | None = None
    lacking: str = ""
    """The field of the same step without which there are no limits: that is asked instead."""


BoundsOf = Callable[[Case], Bounds | None]


def at_most(upper: int) -> BoundsOf:
    """A limit that no drawing changes."""
    return lambda case: Bounds(None, upper)


def limit_rule(
    id: str,
    stage: Stage,
    step: str,
    key: str,
    unit: str,
    source: str,
    bounds: BoundsOf,
    *,
    gauge: str = "",
    bad: Verdict = Verdict.NONCONFORMING,
    may: tuple[str, ...] = INSPECTOR,
    hold: str = "",
    after_heat: bool = False,
    over: str = "",
    row: str = "",
    version: int = 1,
) -> Rule:
    """A number inside its bounds; nothing is said where there are none. `gauge` is the field that names what
    measured it, whose u gives the guard; `bad` is what is said of a number outside, and `after_heat` that an
    answer from before the last heating does not count."""

    def judge(rule: Rule, case: Case) -> list[Finding]:
        found, limits = case.value_of(step, key), bounds(case)
        if limits is None:
            return []
        own = standing(case, step, key, *([gauge] if gauge else []))
        rests: list[Answered | str] = [*own, *limits.rests]
        if found is None or limits.lacking:
            return absent(rule, case, step, key if found is None else limits.lacking, id, rests)
        overtaken = before_heat(rule, case, id, [found], rests) if after_heat else []
        if overtaken:
            return overtaken
        gear = case.gear(step, gauge) if gauge else None
        u = gear.standard_u if gear else None
        decision = metrology.decide(
            found.base, limits.lower, limits.upper, u or 0, case.procedure.guard_factor
        )
        verdict = bad if decision == Verdict.NONCONFORMING else Verdict(decision)
        return [_measured(rule, limits, verdict, found.base, unit, u, rests)]

    return Rule(id, version, stage, source, judge, may, hold=hold, over=over, row=row)


def _measured(
    rule: Rule,
    limits: Bounds,
    verdict: Verdict,
    value: int,
    unit: str,
    u: int | None,
    rests: list[Answered | str],
) -> Finding:
    facts: dict[str, Fact] = {"number": value, "base_unit": unit}
    facts |= {name: end for name, end in (("least", limits.lower), ("most", limits.upper)) if end is not None}
    message = f"measured-{verdict.value.replace(' ', '-')}"
    finding = rule.finding(rule.id, verdict, message, inputs=rests, **facts)
    return replace(
        finding,
        unit=unit,
        value=value,
        u=u,
        lower=limits.lower,
        upper=limits.upper,
        source=limits.source or rule.source,
        unconfirmed=limits.unconfirmed,
        working=limits.working,
    )
