"""Every rule there is. A procedure chooses among the steps; rules of steps not chosen are silent."""

from collections.abc import Mapping

from qrecords.steps import crosschecks, fit, photos
from qrecords.steps.case import Case
from qrecords.steps.findings import Finding
from qrecords.steps.rules import Rule
from qrecords.steps.work import STEPS

_WHOLE = (*fit.RULES, *photos.RULES, *crosschecks.RULES)
RULES: Mapping[str, Rule] = {
    rule.id: rule for rule in (*(rule for step in STEPS.values() for rule in step.rules), *_WHOLE)
}


def all_findings(case: Case) -> list[Finding]:
    """What every rule of the procedure's steps says, in the order of the work."""
    chosen = [STEPS[name] for name in case.procedure.steps]
    rules = [rule for step in chosen for rule in step.rules] + list(_WHOLE)
    return [finding for rule in rules for finding in rule.findings(case)]


__all__ = ["RULES", "STEPS", "all_findings"]
