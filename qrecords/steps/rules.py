"""How a rule is written: small pure functions from a case to findings, and the absent answers they share."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from qrecords.steps.answers import Absent, State
from qrecords.steps.case import Answered, Case
from qrecords.steps.deciding import Row, RowOf, Way, kinds_of
from qrecords.steps.decision_rows import ROWS, general
from qrecords.steps.findings import OPEN_VERDICTS, Fact, Finding, Verdict
from qrecords.steps.runs import Found, found_when, is_on, runs


class Stage(StrEnum):
    """The screen on which a rule's answer is given."""

    RECEIVE = "receive"
    MEASURE = "measure"
    HEAT = "heat"
    COLD = "check cold"
    CLOSE = "close"


INSPECTOR = ("measure again", "rework", "accept", "scrap")
ENGINEER = ("measure again", "rework", "concession", "scrap")
LOOK = ("looked",)


@dataclass(frozen=True)
class Rule:
    """`id` and `version` name it for ever; `source` is a clause, *common practice, no source* or *house
    rule*; `may` is what can be decided about its findings; `hold` the release it must be settled for.
    Why it matters stands in `web/why.py`, a sentence a rule."""

    id: str
    version: int
    stage: Stage
    source: str
    judge: Callable[["Rule", Case], Iterable[Finding]]
    may: tuple[str, ...] = INSPECTOR
    hold: str = ""
    over: str = ""
    """`step.field` without which this rule has nothing to ask: silent where the procedure does not ask it."""
    row: str | RowOf = ""
    """The row of the table of findings and decisions that says what may be decided about what does not
    conform; a rule without one leaves it to `may`, and to those who hold the right."""

    @property
    def confirmed(self) -> bool:
        """Whether somebody read the source; values from memory and common practice say that nobody did."""
        return "from memory" not in self.source and "no source" not in self.source

    def row_of(self, finding: Finding, case: Case) -> Row:
        """The row of the table that this finding falls under."""
        if isinstance(self.row, RowOf):
            row = ROWS.get(self.row.choose(finding, case))
        else:
            row = ROWS.get(self.row) if finding.verdict == Verdict.NONCONFORMING else None
        return row or general(self._may(finding.verdict))

    def ways(self, finding: Finding, case: Case) -> tuple[Way, ...]:
        """What may be done about this finding now, by whom, and what has to be proven first."""
        on = is_on(case)
        ways = self.row_of(finding, case).ways(on=on)
        if on and self.stage not in (Stage.COLD, Stage.CLOSE):
            # Once the ring is on, what came before heat can never be measured again.
            return tuple(way for way in ways if way.kind != "measure again")
        return ways

    def decisions(self, finding: Finding, case: Case) -> tuple[str, ...]:
        """What may be decided about this finding now."""
        return kinds_of(self.ways(finding, case))

    def asks_engineer(self, verdict: Verdict) -> bool:
        """Whether something about a finding of this verdict may be the engineer's alone, as far as the rule
        alone tells."""
        among = self.row.among if isinstance(self.row, RowOf) else (self.row,)
        rows = [*(ROWS[name] for name in among if name in ROWS), general(self._may(verdict))]
        return any(way.by == ("engineer",) for row in rows for way in (*row.before, *row.after))

    def _may(self, verdict: Verdict) -> tuple[str, ...]:
        """The inspector accepts what is not proven; what does not conform, and any other
        answer that is missing, is the engineer's to concede. A query is only looked at; what its rule calls
        missing or not proven keeps the record from being signed, and is decided like any other."""
        may = INSPECTOR if self.may == LOOK and verdict in OPEN_VERDICTS else self.may
        if verdict == Verdict.NOT_PROVEN:
            return may
        return tuple(dict.fromkeys("concession" if kind == "accept" else kind for kind in may))

    def findings(self, case: Case) -> list[Finding]:
        return list(self.judge(self, case))

    def finding(
        self,
        characteristic: str,
        verdict: Verdict,
        message: str = "",
        *,
        inputs: Iterable[Answered | str] = (),
        **facts: Fact,
    ) -> Finding:
        """A finding without numbers, of this rule."""
        return Finding(
            rule=self.id,
            version=self.version,
            characteristic=characteristic,
            verdict=verdict,
            message=f"{self.id}.{message or verdict.replace(' ', '-')}",
            facts=facts,
            source=self.source,
            inputs=entries(inputs),
        )


def entries(inputs: Iterable[Answered | str]) -> tuple[str, ...]:
    """The distinct entries behind some answers, sorted."""
    return tuple(sorted({i if isinstance(i, str) else i.entry for i in inputs}))


def standing(case: Case, step: str, *keys: str) -> list[Answered]:
    """What stands for these fields, absent answers too: what a finding that asked them rests on."""
    return [answered for key in keys if (answered := case.said(step, key))]


def absent(
    rule: Rule,
    case: Case,
    step: str,
    key: str,
    characteristic: str,
    rests: Iterable[Answered | str] = (),
) -> list[Finding]:
    """What the lack of a value means: *missing*, unless the procedure calls the field optional or allows
    *not applicable* there. `rests` is what else was asked before this field mattered."""
    head = key.split(".", 1)[0]
    name = f"{step}.{head}"
    optional = name in case.procedure.optional_for(case.requirement)
    found = case.said(step, key)
    if found is None:
        if optional:
            return []
        return [rule.finding(characteristic, Verdict.MISSING, "not-entered", inputs=rests, field=name)]
    answer = found.answer
    assert isinstance(answer, Absent)  # noqa: S101 - callers ask value_of first
    if answer.state == State.NOT_APPLICABLE:
        if case.procedure.allows(name):
            return []
    elif optional:
        return []
    facts: dict[str, Fact] = {"field": name, "state": answer.state.value, "reason": answer.reason}
    return [rule.finding(characteristic, Verdict.MISSING, "absent", inputs=[found, *rests], **facts)]


def said_absent(
    rule: Rule,
    case: Case,
    characteristic: str,
    asked: Iterable[tuple[str, str]],
    rests: Iterable[Answered | str] = (),
) -> list[Finding]:
    """What follows from other rules' answers cannot be told where one of these, as (step, key), was said to
    be absent: *missing*, with that reason. What nobody entered yet is told once, by the rule that asks it."""
    said = [(step, key) for step, key in asked if case.said(step, key) and not case.value_of(step, key)]
    told = (absent(rule, case, step, key, characteristic, rests) for step, key in said)
    return next((found for found in told if found), [])


def before_heat(
    rule: Rule, case: Case, characteristic: str, found: Sequence[Answered], rests: Iterable[Answered | str]
) -> list[Finding]:
    """What was found before the last heating says nothing of the ring as it is now: *missing* (ruling 22), or
    *not proven* where ledger and clocks disagree on the order. Nothing where it counts."""
    when = found_when(case, *found)
    if when == Found.SINCE:
        return []
    verdict = Verdict.MISSING if when == Found.BEFORE else Verdict.NOT_PROVEN
    inputs = [*rests, runs(case)[-1].heater_on.entry]
    return [rule.finding(characteristic, verdict, f"{when.value}-heat", inputs=inputs)]


def choice_rule(
    id: str,
    stage: Stage,
    step: str,
    key: str,
    good: tuple[str, ...],
    source: str,
    *,
    bad: Verdict = Verdict.NONCONFORMING,
    may: tuple[str, ...] = INSPECTOR,
    hold: str = "",
    after_heat: bool = False,
    version: int = 1,
    over: str = "",
    row: str | RowOf = "",
) -> Rule:
    """A rule over one chosen word: `good` words conform, every other one gives `bad`. `after_heat`: an answer
    from before the last heating does not count."""

    def judge(rule: Rule, case: Case) -> list[Finding]:
        found = case.value_of(step, key)
        if found is None:
            return absent(rule, case, step, key, id)
        overtaken = before_heat(rule, case, id, [found], [found]) if after_heat else []
        if overtaken:
            return overtaken
        verdict = Verdict.CONFORMING if found.word in good else bad
        return [rule.finding(id, verdict, "", inputs=[found], said=found.word, wanted=" or ".join(good))]

    return Rule(id, version, stage, source, judge, may, hold=hold, over=over, row=row)


def look_rule(
    id: str, stage: Stage, step: str, key: str, good: tuple[str, ...], source: str, *, hold: str = ""
) -> Rule:
    """A rule over one chosen word that accuses nobody: what is not `good` somebody looks at."""
    return choice_rule(id, stage, step, key, good, source, bad=Verdict.QUERY, may=LOOK, hold=hold)


def asked_rule(id: str, stage: Stage, step: str, key: str, source: str) -> Rule:
    """A rule that asks only for an answer: each one conforms."""

    def judge(rule: Rule, case: Case) -> list[Finding]:
        found = case.value_of(step, key)
        if found is None:
            return absent(rule, case, step, key, id)
        return [rule.finding(id, Verdict.CONFORMING, inputs=[found], said=found.word)]

    return Rule(id, 1, stage, source, judge)
