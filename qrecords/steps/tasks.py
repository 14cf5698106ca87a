"""The tasks that a person's competence is assessed for, and the kinds of bearing it may be limited to."""

from qrecords.engineering.designation import KINDS as DESIGNATED
from qrecords.engineering.designation import parse_designation
from qrecords.engineering.errors import EngineeringError
from qrecords.steps.designated import CLEARANCE_KINDS
from qrecords.steps.requirement import Requirement
from qrecords.steps.work import STEPS

OF_WORK = tuple(dict.fromkeys(step.task for step in STEPS.values() if step.task))
"""Measure, heat, mount: what a step asks of who records it."""
RELEASE, SIGN, CONCEDE, STAND_IN = "release", "sign off", "concession", "stand in"
TASKS = (*OF_WORK, RELEASE, SIGN, CONCEDE, STAND_IN)
"""*Stand in*: a second fitter who may release and sign on a shift without an inspector (house rule)."""
KINDS = tuple(sorted(set(DESIGNATED)))
CHECK, WORK, READY, DECIDE = "check", "work", "ready", "decide"
"""What else a person does in a mounting; no competence is recorded for it."""


def kind_of(requirement: Requirement) -> str:
    """The kind of bearing, by its designation, else by its table of clearances; '' where neither tells."""
    try:
        return parse_designation(requirement.designation).kind
    except EngineeringError:
        tables = {table: kind for kind, table in CLEARANCE_KINDS.items()}
        return tables.get(requirement.clearance_kind, "")
