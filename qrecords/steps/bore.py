"""The bearing's bore: measured by plane and direction, or taken from its class."""

from dataclasses import replace

from qrecords.engineering import measurement as metrology
from qrecords.engineering.materials import ALPHA_RING
from qrecords.steps.case import Case, once_a_case
from qrecords.steps.chosen_rows import OF_LOST
from qrecords.steps.fields import Choice, Field, Gear
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.measurement import ACROSS, PLACE, Measured, measured, temperature_doubt
from qrecords.steps.rules import Rule, Stage, absent, entries, standing
from qrecords.steps.step import Step

STEP_ID = "bore"


@once_a_case
def bore(case: Case) -> Measured | None:
    """The measured bore; None if it was taken from the class or is missing."""
    return measured(case, STEP_ID, "bore", "bearing", ALPHA_RING)


def from_class(case: Case) -> bool:
    source = case.value_of(STEP_ID, "source")
    return source is not None and source.word == "from class"


def _lost(rule: Rule, case: Case) -> list[Finding]:
    """No bore though it was not taken from its class: once readings were to be made, they say why."""
    if not case.value_of(STEP_ID, "source"):
        return absent(rule, case, STEP_ID, "source", "bore")
    said = next((answered.key for answered in case.many(STEP_ID, "bore")), "bore")
    return absent(rule, case, STEP_ID, said, "bore", standing(case, STEP_ID, "source"))


def _in_class(rule: Rule, case: Case) -> list[Finding]:
    """The mean against ISO 492 (ruling 5). Above zero in a class that ends at zero is first a query: sign or
    field may be swapped; once that was looked at (`sign_checked`), it does not conform."""
    found = bore(case)
    if found is None:
        if from_class(case):
            return []
        return _lost(rule, case)
    limits = case.requirement.bore
    mean = found.mean_nm
    u_nm = found.u_nm or 0
    verdict = Verdict(
        metrology.decide(mean, limits.lower_nm, limits.upper_nm, u_nm, case.procedure.guard_factor)
    )
    message = verdict.value.replace(" ", "-")
    doubt = temperature_doubt(case) or ("no-uncertainty" if found.u_nm is None else "")
    if doubt:
        verdict, message = Verdict.NOT_PROVEN, doubt
    elif verdict == Verdict.NONCONFORMING and mean > limits.upper_nm:
        verdict, message = Verdict.QUERY, "above"
    finding = Finding(
        rule=rule.id,
        version=rule.version,
        characteristic="bore",
        verdict=verdict,
        message=f"{rule.id}.{message}",
        facts={"mean_nm": mean, "lower_nm": limits.lower_nm, "upper_nm": limits.upper_nm},
        unit="nm",
        value=mean,
        u=found.u_nm,
        lower=limits.lower_nm,
        upper=limits.upper_nm,
        source=limits.source,
        inputs=entries([*found.rests, *standing(case, STEP_ID, "sign_checked")]),
        working=found.working,
        unconfirmed=limits.unconfirmed,
    )
    if message == "above" and (case.value_of(STEP_ID, "sign_checked") or finding.digest in case.looked):
        return [replace(finding, verdict=Verdict.NONCONFORMING)]
    return [finding]


STEP = Step(
    id=STEP_ID,
    version=1,
    row=13,
    stage=Stage.MEASURE,
    task="measure",
    fields=(
        Field("source", Choice(("measured", "from class"))),
        Field("gauge", Gear(("bore gauge",), ("bore",)), optional=True),
        Field("master", Gear(("setting master",), ("bore",)), optional=True),
        Field("bore", ACROSS, many=True, place=PLACE, optional=True),
        Field("sign_checked", Choice(("yes",)), optional=True),
    ),
    rules=(Rule("bore-in-class", 2, Stage.MEASURE, "ISO 492", _in_class, hold="fit", row=OF_LOST),),
)
