"""Protecting: covered at once, and only after the cold check was released."""

from qrecords.steps.case import Answered, Case
from qrecords.steps.fields import Choice, Field, Words
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.rules import Rule, Stage, absent, choice_rule
from qrecords.steps.step import Step
from qrecords.steps.transitions import standing_release


def _released_cold(rule: Rule, case: Case) -> list[Finding]:
    """The cold check is seen before the bearing is covered: a hold point where the procedure has one."""
    if "cold" not in case.procedure.holds:
        return []
    covered = case.value_of("protection", "covered")
    if covered is None:
        return absent(rule, case, "protection", "covered", "cold check released")
    before = [
        release
        for release in case.releases
        if release.hold == "cold" and release.index < case.order[covered.entry]
    ]
    if not before:
        later = any(release.hold == "cold" for release in case.releases)
        verdict = Verdict.NONCONFORMING if later else Verdict.NOT_PROVEN
        return [rule.finding("cold check released", verdict, inputs=[covered])]
    stands = standing_release(case, "cold") is not None
    verdict = Verdict.CONFORMING if stands else Verdict.NOT_PROVEN
    message = "" if stands else "voided"
    inputs: list[Answered | str] = [covered, before[-1].entry]
    return [rule.finding("cold check released", verdict, message, inputs=inputs)]


STEP = Step(
    id="protection",
    version=1,
    row=33,
    stage=Stage.CLOSE,
    fields=(Field("covered", Choice(("yes", "no"))), Field("wrap", Words(80), optional=True)),
    rules=(
        choice_rule("covered", Stage.CLOSE, "protection", "covered", ("yes",), "common practice, no source"),
        Rule("cold-released", 1, Stage.CLOSE, "house rule", _released_cold),
    ),
)
