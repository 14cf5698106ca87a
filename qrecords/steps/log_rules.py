"""What the heater's own log is asked: can it be read, was the ring ever too hot, does it fit what was typed,
the taps, and what the heater can do. No log is a full answer, and what a sound one says gives no finding."""

from dataclasses import replace

from qrecords.engineering import curve
from qrecords.steps.case import Answered, Case
from qrecords.steps.findings import Fact, Finding, Verdict
from qrecords.steps.fit import ceiling, ceiling_rests
from qrecords.steps.heating_log import (
    INNER,
    STEP_ID,
    RingLog,
    named,
    peak_u_rests,
    ring_logs,
    standing_logs,
    unusable,
)
from qrecords.steps.heatings import each_heating
from qrecords.steps.log_fits import against_taps, as_typed, energy
from qrecords.steps.overheated import OF_OVERHEAT, OFF_INNER
from qrecords.steps.rules import LOOK, Rule, Stage, standing

Rests = list[Answered | str]
REASONS = {
    curve.PROBE_OFF: "probe-off",
    curve.NO_PEAK: "no-peak",
    curve.HIDDEN: "hidden",
    curve.SHORT_RUN: "short-run",
    curve.NEAR: "not-proven",
}
"""Ending of the message for the first of the reasons why a log proves nothing."""
VERDICT_OF_UNUSABLE = {
    "announced": Verdict.MISSING,
    "lost": Verdict.NOT_PROVEN,
    "which-ring": Verdict.MISSING,
    "which-unit": Verdict.MISSING,
}
"""What is wrong with a log that is not judged; what cannot be read at all only asks somebody to look."""


def _readable(rule: Rule, case: Case) -> list[Finding]:
    """Each log handed in: here and read, or why not. What was sent is kept, whatever it is."""
    found = []
    for number, file in enumerate(standing_logs(case), start=1):
        name = named("heating log", number)
        rests: Rests = [file.entry, *standing(case, STEP_ID, "probe")]
        why = unusable(case, file)
        if why is None:
            found.append(
                rule.finding(name, Verdict.CONFORMING, inputs=rests, samples=_samples(case, file.entry))
            )
        else:
            message, facts = why
            verdict = VERDICT_OF_UNUSABLE.get(message, Verdict.QUERY)
            found.append(rule.finding(name, verdict, message, inputs=rests, **facts))
    return found


def _samples(case: Case, entry: str) -> int:
    return next(len(log.table.times_s) for log in ring_logs(case) if log.file.entry == entry)


def _ceiling(rule: Rule, case: Case) -> list[Finding]:
    """The curve against the ceiling with its guard (ISO 14253-1): its peak, and the time above it as a
    bracket. Of another place than the inner ring only what is over: its peak proves nothing of the ring."""
    found = []
    for log in ring_logs(case):
        verdict = Verdict(log.curve.verdict)
        if log.ring == INNER or verdict == Verdict.NONCONFORMING:
            found.append(_against(rule, case, log, verdict))
    return found


def _against(rule: Rule, case: Case, log: RingLog, verdict: Verdict) -> Finding:
    limit, judged, top = ceiling(case), log.curve, log.top_mdegc
    cap = judged.limits.ceiling_mdegc
    message = OFF_INNER if log.ring != INNER else REASONS[judged.unproven[0]] if judged.unproven else ""
    off = log.taken_off or judged.curve.probe_off
    facts: dict[str, Fact] = {
        "ring": log.ring,
        "peak_mdegc": top,
        "highest_mdegc": round(judged.highest_c * 1000),
        "cap_mdegc": cap,
        "over_mk": top - cap,
        "above_low_ms": round(judged.above.low.value * 1000),
        "above_high_ms": round(judged.above.high.value * 1000),
        "ceiling": limit.kind,
        "probe": log.file.said.probe,
        "reasons": "; ".join(judged.unproven),
    }
    if off is not None:
        facts |= {"off_ms": round(off.at_s * 1000), "off_mdegc": off.from_mdegc}
    rests: Rests = [
        log.file.entry, *peak_u_rests(case), *ceiling_rests(case), *standing(case, STEP_ID, "probe"),
    ]  # fmt: skip
    finding = rule.finding(
        named("heating log peak", log.number, log.ring), verdict, message, inputs=rests, **facts
    )
    unconfirmed = () if limit.confirmed else (f"ceiling {limit.kind}: {limit.source}",)
    return replace(
        finding, unit="m°C", value=top, u=judged.limits.u_mk, upper=cap, source=limit.source,
        working=judged.peak, unconfirmed=unconfirmed,
    )  # fmt: skip


RULES = (
    each_heating(Rule("log-readable", 1, Stage.HEAT, "house rule", _readable, LOOK)),
    each_heating(Rule("log-ceiling", 2, Stage.HEAT, "common practice, no source", _ceiling, row=OF_OVERHEAT)),
    each_heating(Rule("log-as-typed", 1, Stage.HEAT, "own arithmetic: 2 u of both", as_typed, LOOK)),
    each_heating(
        Rule(
            "log-against-taps",
            1,
            Stage.HEAT,
            "own arithmetic: a ring off the heater cools",
            against_taps,
            LOOK,
        )
    ),
    each_heating(
        Rule(
            "log-energy",
            1,
            Stage.HEAT,
            "energy balance; Incropera, Heat and Mass Transfer, ch. 5",
            energy,
            LOOK,
        )
    ),
)
