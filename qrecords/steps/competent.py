"""What was frozen of the competence of who worked, and of the eyesight of who checked."""

from qrecords.steps.case import Answered, Case
from qrecords.steps.findings import Fact, Finding, Verdict
from qrecords.steps.frozen import days_of
from qrecords.steps.rules import Rule, Stage
from qrecords.steps.work import STEPS

_VERDICTS = {
    "held": Verdict.CONFORMING,
    "differs": Verdict.NOT_PROVEN,
    "kind unknown": Verdict.NOT_PROVEN,
}
"""Any other state does not conform (ruling 4)."""


def _competent(rule: Rule, case: Case) -> list[Finding]:
    """Competence for task, size and kind of bearing at the time of the act, as frozen beside each capture
    (ISO 9001 7.2). The finding names every capture of who lacked it; the days are those of the newest."""
    found = []
    for step in STEPS.values():
        frozen = case.competence(step.id) if step.task else None
        if frozen is None:
            continue
        state, captures = frozen
        newest = captures[-1]
        days = days_of(case, next(a for a in case.answers[step.id].values() if a.entry == newest))
        facts: dict[str, Fact] = {
            "task": step.task,
            "state": state,
            "first": days[0].isoformat(),
            "last": days[1].isoformat(),
        }
        since = case.seen[newest].get("competence_of", {}).get("not_done_since", "")
        unused = state == "lapsed" and bool(since)
        if unused:
            facts["since"] = str(since)
        finding = rule.finding(
            f"competence, {step.id}",
            _VERDICTS.get(state, Verdict.NONCONFORMING),
            "not-done" if unused else "kind-unknown" if state == "kind unknown" else "",
            inputs=captures,
            **facts,
        )
        found.append(finding)
    return found


def _saw_well(rule: Rule, case: Case) -> list[Finding]:
    """The eyesight of who checked was tested to the employer's requirement, as frozen beside the check.
    Silent where no test is kept here: whoever keeps them elsewhere is not to be asked."""
    checks: dict[str, Answered] = {a.entry: a for step in case.checks.values() for a in step.values()}
    known = {entry: state for entry in checks if (state := case.seen.get(entry, {}).get("eyesight"))}
    least = min(known.values(), key=lambda state: {"lapsed": 0, "differs": 1}.get(state, 2), default="")
    if not least:
        return []
    inputs = [entry for entry, state in known.items() if state == least]
    until = str(case.seen[inputs[-1]].get("eyesight_of", {}).get("until", ""))
    verdict = _VERDICTS.get(least, Verdict.NONCONFORMING)
    return [rule.finding("eyesight of the checker", verdict, inputs=inputs, until=until)]


COMPETENCE = Rule("competence", 4, Stage.CLOSE, "ISO 9001:2015 7.2, from memory", _competent)
EYESIGHT = Rule("eyesight", 1, Stage.CLOSE, "common practice, no source", _saw_well)
