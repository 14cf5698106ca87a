"""Row 21: the residual field place by place, on the ring cold: readings beside the yoke mislead."""

from dataclasses import replace

from qrecords.engineering import measurement as metrology
from qrecords.steps.case import Case
from qrecords.steps.demagnetisation import no_field
from qrecords.steps.fields import Field, Quantity
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.rules import Rule, Stage, absent, before_heat, standing
from qrecords.steps.step import Step

STEP_ID = "field_places"
PLACES = ("ring_edge", "ring_chamfer", "rolling_element")
_FIELD = Quantity("field", ("A/cm", "mT", "G"), 0, 5_000_000)


def _by_place(rule: Rule, case: Case) -> list[Finding]:
    """Every place against the limit, with guard; the finding names the worst (ruling 20)."""
    if no_field(case):
        return []
    rests = [
        *standing(case, STEP_ID, *PLACES),
        *standing(case, "demagnetisation", "meter"),
        *standing(case, "heating", "heater"),
    ]
    read = [found for key in PLACES if (found := case.value_of(STEP_ID, key))]
    lacking = [key for key in PLACES if case.value_of(STEP_ID, key) is None]
    if lacking:
        return absent(rule, case, STEP_ID, lacking[0], rule.id, rests)
    overtaken = before_heat(rule, case, rule.id, read, rests)
    if overtaken:
        return overtaken
    worst, limit = max(read, key=lambda found: found.base), case.procedure.field_limit_nt
    meter = case.gear("demagnetisation", "meter")
    u = meter.standard_u if meter else None
    decision = Verdict(metrology.decide(worst.base, None, limit, u or 0, case.procedure.guard_factor))
    verdict, message = (decision, "") if u is not None else (Verdict.NOT_PROVEN, "no-meter")
    place = worst.key.replace("_", " ")
    facts = {"field_nt": worst.base, "limit_nt": limit}
    finding = rule.finding(rule.id, verdict, message, inputs=rests, place=place, **facts)
    return [replace(finding, unit="nT", value=worst.base, u=u, upper=limit)]


STEP = Step(
    id=STEP_ID,
    version=1,
    row=21,
    stage=Stage.COLD,
    repeated=True,
    fields=tuple(Field(place, _FIELD) for place in PLACES),
    rules=(
        Rule(
            "field-by-place",
            1,
            Stage.COLD,
            "2 A/cm: house limit, common practice, no source",
            _by_place,
            hold="cold",
        ),
    ),
)
