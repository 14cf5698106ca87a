"""Rows 19 and 20: a second thermometer on the same ring, the spot under the probe, whether it was turned."""

import math
from dataclasses import replace

from qrecords.steps.case import Answered, Case
from qrecords.steps.fields import Choice, Field, Gear, Quantity
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.heating import difference_allowed, peak, peak_rests
from qrecords.steps.heating_log import log_rests, peak_u_mk, peak_u_rests, ring_difference
from qrecords.steps.heatings import each_heating
from qrecords.steps.rules import ENGINEER, LOOK, Rule, Stage, absent, look_rule, standing
from qrecords.steps.step import Step

STEP_ID = "heat_check"
PRACTICE = "common practice, no source"
LEAST_MK = 5_000
"""Nearer than this two thermometers on one ring agree, however fine they are (house rule)."""
FIELDS = ("probe_spot", "contact_gauge", "turned_hot", "above_target_for")


def _contact(rule: Rule, case: Case) -> list[Finding]:
    """The contact thermometer beside the probe, where both read the inner ring."""
    gauge = case.gear(STEP_ID, "contact_gauge")
    rests = [*peak_rests(case), *peak_u_rests(case), *standing(case, STEP_ID, "contact_gauge")]
    if gauge is None:
        return absent(rule, case, STEP_ID, "contact_gauge", rule.id, rests)
    read, cross = case.value_of("heating", "peak"), case.value_of("heating", "cross_check")
    probe = case.value_of("heating", "probe")
    if read is None or cross is None or probe is None or probe.word != "inner ring":
        return []
    both = math.hypot(peak_u_mk(case), gauge.standard_u or 0)
    allowed = max(LEAST_MK, -int(-2 * both // 1))
    off = abs(read.base - cross.base)
    verdict = Verdict.CONFORMING if off <= allowed else Verdict.QUERY
    facts = {"probe_mdegc": read.base, "contact_mdegc": cross.base, "off_mk": off, "allowed_mk": allowed}
    finding = rule.finding(rule.id, verdict, "", inputs=rests, **facts)
    return [replace(finding, unit="mK", value=off, upper=allowed)]


def _turned(rule: Rule, case: Case) -> list[Finding]:
    """Turned or loaded while the inner ring was hotter than its clearance allowed, the elements were pinched;
    not turned, nothing happened (ruling 13). By how much it was hotter is not proven where nobody read both
    rings, or the clearance is not known; a ring heated alone is clamped by nothing."""
    told = case.value_of(STEP_ID, "turned_hot")
    rests: list[Answered | str] = [
        *peak_rests(case),
        *standing(case, STEP_ID, "turned_hot"),
        *standing(case, "heating", "peak_outer"),
        *log_rests(case),
        *standing(case, "clearance_before", "g0", "gauge", "method"),
    ]
    if told is None:
        return absent(rule, case, STEP_ID, "turned_hot", rule.id, rests)
    verdict = Verdict.CONFORMING if told.word == "not turned" else _pinched(case)
    return [rule.finding(rule.id, verdict, inputs=rests, said=told.word, wanted="not turned")]


def _pinched(case: Case) -> Verdict:
    """What is known of a ring that was turned or loaded."""
    if "separable_inner_ring" in case.requirement.kinds:
        return Verdict.CONFORMING
    inner, outer = peak(case), case.value_of("heating", "peak_outer")
    logged, allowed = ring_difference(case), difference_allowed(case)
    difference = logged[0] if logged else inner.base - outer.base if inner and outer else None
    if difference is None or allowed is None:
        return Verdict.NOT_PROVEN
    over = difference > round(allowed[0].value * 1000)
    return Verdict.NONCONFORMING if over else Verdict.CONFORMING


STEP = Step(
    id=STEP_ID,
    version=1,
    row=20,
    stage=Stage.HEAT,
    task="heat",
    of_one_heating=FIELDS,
    fields=(
        Field("probe_spot", Choice(("cleaned", "as it was"))),
        Field("contact_gauge", Gear(("thermometer",), ("heating.cross_check",))),
        Field("turned_hot", Choice(("not turned", "turned by hand", "loaded"))),
        Field("above_target_for", Quantity("time", ("s", "min"), 0, 7_200_000), optional=True),
    ),
    rules=(
        each_heating(look_rule("probe-spot", Stage.HEAT, STEP_ID, "probe_spot", ("cleaned",), PRACTICE)),
        each_heating(Rule("contact-check", 1, Stage.HEAT, "own arithmetic: 2 u of both", _contact, LOOK)),
        each_heating(Rule("not-turned-hot", 2, Stage.HEAT, "own arithmetic: G/(α·F_o)", _turned, ENGINEER)),
    ),
)
