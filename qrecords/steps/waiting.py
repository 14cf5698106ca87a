"""What is still to come, and which hold points wait for a release: told once, for every list and page."""

from collections.abc import Iterable

from qrecords.steps.case import Case
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.holds import of_hold
from qrecords.steps.identification import OWN_READING
from qrecords.steps.preparation import STEP as PREPARATION
from qrecords.steps.runs import is_on, runs
from qrecords.steps.transitions import CLOSED, decided, standing_release, state_of, undecided

LAST_OF_HOLD = {"fit": "journal-size", "cold": "shoulder-gap"}
"""The finding without which a hold has nothing to be looked at yet."""
NOT_TAKEN = "not-taken"
ENDINGS = frozenset(
    {"not-entered", "incomplete", NOT_TAKEN, "not-heated", "before-heat", "field-again", "clearance-again"}
)
"""Endings of the messages that only say: the fitter is not there yet."""


def ending(message: str) -> str:
    return message.rpartition(".")[2]


def is_to_come(finding: Finding) -> bool:
    """The fitter is not there yet."""
    return finding.verdict == Verdict.MISSING and tells_what_is_to_come(finding.rule, finding.message)


def tells_what_is_to_come(rule: str, message: str) -> bool:
    """The same of a missing finding by its message; the inspector's own reading is nobody else's to come."""
    return ending(message) in ENDINGS and rule != OWN_READING


def left_of_preparation(case: Case, findings: Iterable[Finding]) -> list[Finding]:
    """What is wrong with the preparation and not decided: no bar to heat, but to be known before it."""
    preparing = {rule.id for rule in PREPARATION.rules}
    return undecided(case, [f for f in findings if f.rule in preparing and not is_to_come(f)])


def waits(case: Case, findings: Iterable[Finding], hold: str) -> bool:
    """All that the hold covers is entered, and its release does not stand; before heat only while no ring is
    being heated, or is on: then a release comes too late for it. A ring that is on and does not conform cold
    waits at once: its fitter was told to stop and call the inspector, whatever is still to come."""
    if state_of(case) in CLOSED or hold not in case.procedure.holds or standing_release(case, hold):
        return False
    if hold == "fit" and (is_on(case) or _heating(case)):
        return False
    own = of_hold(case, findings, hold)
    if hold == "cold" and is_on(case) and _does_not_conform(case, own):
        return True
    if hold in LAST_OF_HOLD:
        begun = any(f.rule == LAST_OF_HOLD[hold] and f.verdict != Verdict.MISSING for f in own)
    else:
        begun = all(case.answers.get(step) for step in case.covered(hold))
    return begun and not any(is_to_come(f) and not decided(case, f) for f in own)


def _does_not_conform(case: Case, findings: Iterable[Finding]) -> bool:
    return any(f.verdict == Verdict.NONCONFORMING for f in undecided(case, findings))


def _heating(case: Case) -> bool:
    """A heating goes on; one that was broken off is followed by another, which names its own release."""
    every = runs(case)
    return bool(every) and not every[-1].events
