"""Preparing: burrs off, fillet checked, every filing wiped away, gear at hand, the zone kept."""

from qrecords.steps.answers import Absent
from qrecords.steps.case import Case
from qrecords.steps.demagnetisation import no_field
from qrecords.steps.fields import Choice, Field
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.rules import Rule, Stage, absent, choice_rule, standing
from qrecords.steps.step import Step

_YES_NO = Choice(("yes", "no"))
_MANUAL = "US Army TM 10-3930-643-34 §2-14: remove burrs and slivers, clean keyways"


def _zone(rule: Rule, case: Case) -> list[Finding]:
    """The marked zone was kept; *not applicable* only where the heater makes no field (ruling 9)."""
    found = case.said("preparation", "zone")
    heater = standing(case, "heating", "heater")
    if found is None or isinstance(found.answer, Absent):
        told = absent(rule, case, "preparation", "zone", rule.id, heater)
        named = case.gear("heating", "heater")
        if told or found is None or named is None or no_field(case):
            return told
        message = "heater-has-field" if named.heater_kind else "heater-of-no-kind"
        return [rule.finding(rule.id, Verdict.MISSING, message, inputs=[found, *heater])]
    verdict = Verdict.CONFORMING if found.word == "yes" else Verdict.NONCONFORMING
    return [rule.finding(rule.id, verdict, inputs=[found], said=found.word, wanted="yes")]


STEP = Step(
    id="preparation",
    version=1,
    row=5,
    stage=Stage.RECEIVE,
    fields=(
        Field("edge_burrs", Choice(("none", "removed", "left"))),
        Field("shoulder_burrs", Choice(("none", "removed", "left"))),
        Field("fillet", Choice(("clears the ring", "too large"))),
        Field("wiped", _YES_NO),
        Field("gear_ready", _YES_NO),
        Field("zone", _YES_NO),
    ),
    rules=(
        choice_rule(
            "edge-burrs",
            Stage.RECEIVE,
            "preparation",
            "edge_burrs",
            ("none", "removed"),
            _MANUAL,
            hold="fit",
            row="burr",
        ),
        choice_rule(
            "shoulder-burrs",
            Stage.RECEIVE,
            "preparation",
            "shoulder_burrs",
            ("none", "removed"),
            _MANUAL,
            hold="fit",
            row="burr",
        ),
        choice_rule(
            "fillet-clears",
            Stage.RECEIVE,
            "preparation",
            "fillet",
            ("clears the ring",),
            "JIS B 1566, from memory: fillet radius at most the ring's chamfer",
            hold="fit",
            row="fillet",
        ),
        choice_rule(
            "wiped-clean", Stage.RECEIVE, "preparation", "wiped", ("yes",), "common practice, no source"
        ),
        choice_rule(
            "gear-ready", Stage.RECEIVE, "preparation", "gear_ready", ("yes",), "common practice, no source"
        ),
        Rule(
            "zone-kept",
            3,
            Stage.RECEIVE,
            "Directive 2013/35/EU, from memory; EN 50527",
            _zone,
        ),
    ),
)
