"""Each heating as a case of its own: what was said of the ring between one *heater on* and the next.

What the ring went through stands, whatever came later: an overheat, a hammer, a fall, a ring that stuck. So
an answer belongs to the heating whose *heater on* precedes it in the ledger (what came before the first
belongs to the first), and no later heating takes its place."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace

from qrecords.steps.acts import LogFile, Tap
from qrecords.steps.case import Answered, Case, once_a_case
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.rules import Rule
from qrecords.steps.runs import mounted_run, of_one_heating, runs, said_of_one_heating


@once_a_case
def heatings(case: Case) -> tuple[Case, ...]:
    """One case a heating, in ledger order; the case itself while there is none or one."""
    every = runs(case)
    if len(every) < 2:
        return (case,)
    starts = [-1, *(case.order[run.heater_on.entry] for run in every[1:])]
    ends = [*starts[1:], len(case.order)]
    views = [_between(case, start, end) for start, end in zip(starts[:-1], ends[:-1], strict=True)]
    whole = (*views, _since(case, starts[-1]))
    return tuple(replace(view, log_files=_logs(case, nth, starts)) for nth, view in enumerate(whole, start=1))


def _between(case: Case, start: int, end: int) -> Case:
    """An earlier heating, from all that was ever said."""
    answers = dict(case.answers)
    for step in said_of_one_heating(case):
        given = [a for a in case.given.get(step, ()) if case.order[a.entry] < end]
        answers[step] = {a.key: a for a in given if _counts(case, step, a, start)}
    return replace(case, answers=answers, taps=_taps(case, start, end))


def _since(case: Case, start: int) -> Case:
    """The last heating, from what stands."""
    answers = dict(case.answers)
    for step in said_of_one_heating(case):
        said = case.answers.get(step, {})
        answers[step] = {key: a for key, a in said.items() if _counts(case, step, a, start)}
    return replace(case, answers=answers, taps=_taps(case, start, len(case.order) + 1))


def _counts(case: Case, step: str, answered: Answered, start: int) -> bool:
    """Heater and set-up go on until others are named; what happened to the ring is said of each heating."""
    return not of_one_heating(case, step, answered.key) or case.order[answered.entry] > start


def _taps(case: Case, start: int, end: int) -> tuple[Tap, ...]:
    return tuple(tap for tap in case.taps if start <= case.order[tap.entry] < end)


def _logs(case: Case, number: int, starts: Sequence[int]) -> tuple[LogFile, ...]:
    """The logs of one heating: those said to be of it, and of the others those handed in while it was the
    last."""
    return tuple(file for file in case.log_files if _heating_of(case, file, starts) == number)


def _heating_of(case: Case, file: LogFile, starts: Sequence[int]) -> int:
    if 1 <= file.said.heating <= len(starts):
        return file.said.heating
    return sum(start < case.order[file.entry] for start in starts)


def mounted_heating(case: Case) -> Case:
    """The heating the ring went on with; the case itself before heat."""
    run = mounted_run(case)
    return next((view for view in heatings(case) if run and run.heater_on in view.taps), case)


def each_heating(rule: Rule, *, also_missing: bool = False) -> Rule:
    """The same rule over every heating. The last has the rule's own characteristic; of an earlier one only
    what does not conform is told, under its number: each is decided for itself. `also_missing`: an answer
    that a ring lifted off the heater never got is missing of an earlier heating too."""
    once: Callable[[Rule, Case], Iterable[Finding]] = rule.judge

    def judge(asking: Rule, case: Case) -> list[Finding]:
        *earlier, last = heatings(case)
        found = list(once(asking, last))
        for number, view in enumerate(earlier, start=1):
            asked = also_missing and any(tap.what in ("lifted off", "home") for tap in view.taps)
            silent = {Verdict.CONFORMING} if asked else {Verdict.CONFORMING, Verdict.MISSING}
            found += [
                replace(finding, characteristic=f"{finding.characteristic}, heating {number}")
                for finding in once(asking, view)
                if finding.verdict not in silent
            ]
        return found

    return replace(rule, judge=judge)
