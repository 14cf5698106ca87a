"""Preparing: burrs off, fillet checked, every filing wiped away, gear at hand, the zone kept."""

from qrecords.steps.fields import Choice, Field
from qrecords.steps.rules import Stage, choice_rule
from qrecords.steps.step import Step

_YES_NO = Choice(("yes", "no"))
_MANUAL = "US Army TM 10-3930-643-34 §2-14: remove burrs and slivers, clean keyways"


STEP = Step(
    id="preparation",
    version=1,
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
            "edge-burrs", Stage.RECEIVE, "preparation", "edge_burrs", ("none", "removed"), _MANUAL, hold="fit"
        ),
        choice_rule(
            "shoulder-burrs",
            Stage.RECEIVE,
            "preparation",
            "shoulder_burrs",
            ("none", "removed"),
            _MANUAL,
            hold="fit",
        ),
        choice_rule(
            "fillet-clears",
            Stage.RECEIVE,
            "preparation",
            "fillet",
            ("clears the ring",),
            "JIS B 1566, from memory: fillet radius at most the ring's chamfer",
            hold="fit",
        ),
        choice_rule(
            "wiped-clean", Stage.RECEIVE, "preparation", "wiped", ("yes",), "common practice, no source"
        ),
        choice_rule(
            "gear-ready", Stage.RECEIVE, "preparation", "gear_ready", ("yes",), "common practice, no source"
        ),
        choice_rule(
            "zone-kept",
            Stage.RECEIVE,
            "preparation",
            "zone",
            ("yes",),
            "Directive 2013/35/EU, from memory; EN 50527",
        ),
    ),
)
