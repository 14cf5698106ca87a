"""Every rule there is. A procedure chooses among the steps; rules of steps not chosen are silent."""

from collections.abc import Mapping

from qrecords.steps import crosschecks, fit, photos, point_rules, time_checks
from qrecords.steps.case import Case, once_a_case
from qrecords.steps.findings import Finding
from qrecords.steps.procedure import Procedure
from qrecords.steps.rules import Rule
from qrecords.steps.work import STEPS

_WHOLE = (*fit.RULES, *photos.RULES, *crosschecks.RULES, *time_checks.RULES, *point_rules.RULES)
RULES: Mapping[str, Rule] = {
    rule.id: rule for rule in (*(rule for step in STEPS.values() for rule in step.rules), *_WHOLE)
}
_SWITCHED = frozenset(name for step in STEPS.values() for name in step.switched())


def rules_of(procedure: Procedure) -> list[Rule]:
    """The rules that judge under a procedure, in the order of the work."""
    of_steps = [rule for name in procedure.steps for rule in STEPS[name].rules]
    not_asked = _SWITCHED - procedure.also
    return [rule for rule in (*of_steps, *_WHOLE) if rule.over not in not_asked]


def all_findings(case: Case) -> list[Finding]:
    """What every rule of the procedure says."""
    return list(_found(case))


@once_a_case
def _found(case: Case) -> tuple[Finding, ...]:
    return tuple(finding for rule in rules_of(case.procedure) for finding in rule.findings(case))


__all__ = ["RULES", "STEPS", "all_findings", "rules_of"]
