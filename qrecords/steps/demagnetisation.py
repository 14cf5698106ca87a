"""The demagnetising cycle (one tap) and the residual field, measured cold."""

from dataclasses import replace

from qrecords.engineering import measurement as metrology
from qrecords.steps.case import Answered, Case
from qrecords.steps.fields import Choice, Field, Gear, Quantity, Words
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.gear import WITHOUT_FIELD
from qrecords.steps.rules import Rule, Stage, absent, before_heat, standing
from qrecords.steps.step import Step

STEP_ID = "demagnetisation"
CYCLE_SECONDS = (3, 4)
"""How long the cycle takes; shown beside the tap (common practice, no source)."""
_BY_PLACE = tuple(f"field_places.{place}" for place in ("ring_edge", "ring_chamfer", "rolling_element"))
"""What a procedure has read place by place, with the same meter."""


def no_field(case: Case) -> bool:
    """The heater is known to make no magnetic field: oven, hot plate, oil bath."""
    heater = case.gear("heating", "heater")
    return heater is not None and heater.heater_kind in WITHOUT_FIELD


def _cycle(rule: Rule, case: Case) -> list[Finding]:
    if no_field(case):
        return []
    found = case.value_of(STEP_ID, "cycle")
    if found is None:
        return absent(rule, case, STEP_ID, "cycle", "demagnetising cycle")
    done = found.word == "done"
    verdict = Verdict.CONFORMING if done else Verdict.NONCONFORMING
    inputs = [found, *standing(case, "heating", "heater")]
    return [rule.finding("demagnetising cycle", verdict, inputs=inputs, said=found.word)]


def rests(case: Case) -> list[Answered]:
    return [*standing(case, STEP_ID, "field", "meter"), *standing(case, "heating", "heater")]


def _residual(rule: Rule, case: Case) -> list[Finding]:
    """2 A/cm in air (0.2513 mT), the worst place, with guard; earth's field not subtracted (ruling 20).
    Measured after the last heating: every heating may magnetise again (ruling 22)."""
    if no_field(case):
        return []
    found = case.value_of(STEP_ID, "field")
    if found is None:
        return absent(rule, case, STEP_ID, "field", "residual field", rests(case))
    overtaken = before_heat(rule, case, "residual field", [found], rests(case))
    if overtaken:
        return overtaken
    meter = case.gear(STEP_ID, "meter")
    u_nt = meter.standard_u if meter else None
    limit = case.procedure.field_limit_nt
    decision = metrology.decide(found.base, None, limit, u_nt or 0, case.procedure.guard_factor)
    verdict = Verdict(decision) if u_nt is not None else Verdict.NOT_PROVEN
    message = "no-meter" if u_nt is None else ""
    finding = rule.finding(
        "residual field", verdict, message, inputs=rests(case), field_nt=found.base, limit_nt=limit
    )
    return [replace(finding, unit="nT", value=found.base, u=u_nt, upper=limit)]


STEP = Step(
    id=STEP_ID,
    version=1,
    row=21,
    stage=Stage.HEAT,
    fields=(
        Field("cycle", Choice(("done", "left out"))),
        Field("field", Quantity("field", ("A/cm", "mT", "G"), 0, 5_000_000)),
        Field("where", Words(60), optional=True),
        Field("meter", Gear(("field meter",), ("field", *_BY_PLACE)), optional=True),
    ),
    rules=(
        Rule("demagnetised", 2, Stage.HEAT, "common practice, no source", _cycle),
        Rule(
            "residual-field",
            3,
            Stage.COLD,
            "2 A/cm: house limit, common practice, no source",
            _residual,
            hold="cold",
            row="residual-field",
        ),
    ),
)
