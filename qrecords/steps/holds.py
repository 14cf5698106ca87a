"""Which findings a hold point is about: of a built-in one its rules say so, of a procedure's own the steps
that it covers."""

from collections.abc import Iterable

from qrecords.steps.case import Case
from qrecords.steps.findings import Finding
from qrecords.steps.points import BUILT_IN_HOLDS
from qrecords.steps.standard import RULES, STEPS


def of_hold(case: Case, findings: Iterable[Finding], hold: str) -> list[Finding]:
    """The findings that a release of this hold has to be settled for."""
    point = None if hold in BUILT_IN_HOLDS else case.procedure.point(hold)
    if point is None:
        return [finding for finding in findings if RULES[finding.rule].hold == hold]
    rules = {rule.id for step in point.steps for rule in STEPS[step].rules}
    return [finding for finding in findings if finding.rule in rules]
