"""The points of the procedure, judged: a hold of its own that was passed without its release, a witness point
passed without notice or before the notice time ended, documents that nobody looked at."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from qrecords.steps.case import Case
from qrecords.steps.findings import Fact, Finding, Verdict
from qrecords.steps.point_acts import CAME, LOOKED_AT, NOTIFIED, STAYED_AWAY, WAIVED, PointAct
from qrecords.steps.points import HEAT, HOLD, REVIEW, WITNESS, Point
from qrecords.steps.rules import Rule, Stage
from qrecords.steps.transitions import standing_release

TAP_OF_STEP = {"heating": "heater on", "seating": "home"}
"""Steps whose work begins with a tap, before anything of it is typed."""


@dataclass(frozen=True)
class Begun:
    """The first work at what a point is about."""

    entry: str
    at: datetime
    index: int


def begun(case: Case, steps: Mapping[str, frozenset[str]]) -> Begun | None:
    """The first work entry about these steps, or fields of them; no check, and nothing undone."""
    work = set(case.work)
    found = [
        (said.entry, said.at)
        for step, fields in steps.items()
        for said in case.given.get(step, ())
        if said.entry in work and (not fields or said.key.split(".", 1)[0] in fields)
    ]
    taps = {TAP_OF_STEP[step] for step, fields in steps.items() if step in TAP_OF_STEP and not fields}
    found += [(tap.entry, tap.at) for tap in case.taps if tap.what in taps]
    every = [Begun(entry, at, case.order[entry]) for entry, at in found]
    return min(every, key=lambda each: each.index, default=None)


def passed(case: Case, point: Point) -> Begun | None:
    """The first work at what waits for the release of a hold; nothing waits for the sign-off but the
    signature, which is refused."""
    if point.before == HEAT:
        heated = [tap for tap in case.taps if tap.what == "heater on"]
        return Begun(heated[0].entry, heated[0].at, case.order[heated[0].entry]) if heated else None
    return begun(case, {point.before: frozenset()}) if point.before in case.procedure.steps else None


def acts_at(case: Case, point: Point, *whats: str) -> list[PointAct]:
    """What was said at a point and not taken back, in ledger order."""
    return [act for act in case.points if act.point == point.id and act.what in whats and not act.taken_back]


def span(minutes: int) -> str:
    """`48 h`, `90 min`."""
    hours, rest = divmod(minutes, 60)
    return f"{hours} h" if hours and not rest else f"{minutes} min"


def _each(
    kind: str, judge: "Callable[[Rule, Case, Point], Finding]"
) -> "Callable[[Rule, Case], list[Finding]]":
    def judged(rule: Rule, case: Case) -> list[Finding]:
        return [judge(rule, case, point) for point in case.procedure.points if point.kind == kind]

    return judged


def _said(
    rule: Rule, point: Point, verdict: Verdict, message: str, inputs: Iterable[str], **facts: Fact
) -> Finding:
    told: dict[str, Fact] = {"party": point.party, **facts}
    return rule.finding(point.title, verdict, message, inputs=inputs, **told)


def _stood_at(case: Case, point: Point, index: int) -> bool:
    """Whether a release stood at this place in the ledger: the newest before it named all that stood."""
    before = [release for release in case.releases if release.hold == point.id and release.index < index]
    if not before or before[-1].index < case.drawing_index < index:
        return False
    if before[-1].means == "telephone" and not before[-1].captures:
        return True  # as `voided`: nothing had been sent yet
    stood = {
        (step, said.key): said.entry
        for step, fields in case.covered(point.id).items()
        for said in case.given.get(step, ())
        if case.order[said.entry] < index and (not fields or said.key.split(".", 1)[0] in fields)
    }
    return before[-1].captures.issuperset(stood.values())


def _released(rule: Rule, case: Case, point: Point) -> Finding:
    """Work may not pass without written release: the order is proved by the ledger, as at the fit. One that
    was void when work passed it releases nothing, whatever is released later."""
    releases = [release for release in case.releases if release.hold == point.id]
    first = passed(case, point)
    if first is not None and not _stood_at(case, point, first.index):
        later = any(release.index > first.index for release in releases)
        verdict = Verdict.NONCONFORMING if later else Verdict.NOT_PROVEN
        return _said(rule, point, verdict, "later" if later else "passed", [first.entry])
    release = standing_release(case, point.id)
    if release is not None:
        own = release.author in case.worked_by
        verdict = Verdict.NOT_PROVEN if own else Verdict.CONFORMING
        return _said(rule, point, verdict, "own-work" if own else "", [release.entry])
    if releases:
        return _said(rule, point, Verdict.NOT_PROVEN, "voided", [releases[-1].entry])
    message = "waits.not-entered" if case.standing_captures(point.id) else "not-entered"
    return _said(rule, point, Verdict.MISSING, message, [])


def _witnessed(rule: Rule, case: Case, point: Point) -> Finding:
    """Whoever it concerns is told so long before; work goes on after that time if nobody comes. Waived, it is
    his to waive, whenever he does; who worked on it waives nothing."""
    waived = [act for act in acts_at(case, point, WAIVED) if act.author not in case.worked_by]
    came = acts_at(case, point, CAME)
    for acts, message in ((waived, "waived"), (came, "came")):
        if acts:
            return _said(rule, point, Verdict.CONFORMING, message, [acts[-1].entry], who=acts[-1].who)
    first, told = begun(case, case.covered(point.id)), acts_at(case, point, NOTIFIED)
    early = min(told, key=lambda act: act.moment, default=None)
    if first is None:
        message, who = ("told.not-entered", early.who) if early else ("not-entered", "")
        inputs = [early.entry] if early else []
        facts: dict[str, Fact] = {"notice": span(point.notice_min), "who": who}
        return _said(rule, point, Verdict.MISSING, message, inputs, **facts)
    if early is None or early.moment > first.at:
        inputs = [first.entry, *([early.entry] if early else [])]
        return _said(rule, point, Verdict.MISSING, "not-told", inputs)
    rests = [first.entry, early.entry]
    if case.order[early.entry] > first.index and early.told is not None:
        return _said(rule, point, Verdict.NOT_PROVEN, "told-after", rests, who=early.who)
    waited = int((first.at - early.moment) / timedelta(minutes=1))
    if first.at < early.moment + timedelta(minutes=point.notice_min):
        facts = {"waited": span(waited), "notice": span(point.notice_min), "who": early.who}
        return _said(rule, point, Verdict.MISSING, "too-soon", rests, **facts)
    away = acts_at(case, point, STAYED_AWAY)
    if away:
        return _said(rule, point, Verdict.CONFORMING, "nobody-came", [*rests, away[-1].entry])
    return _said(rule, point, Verdict.MISSING, "came.not-entered", rests, who=early.who)


def _reviewed(rule: Rule, case: Case, point: Point) -> Finding:
    """Who looked saw what stood then: what came later, he did not see."""
    looked = acts_at(case, point, LOOKED_AT)
    if not looked:
        return _said(rule, point, Verdict.MISSING, "not-entered", [])
    last = looked[-1]
    if last.author in case.worked_by:
        return _said(rule, point, Verdict.NOT_PROVEN, "own-work", [last.entry], who=last.who)
    standing = case.standing_captures(point.id)
    if not standing or not standing <= last.captures:
        return _said(rule, point, Verdict.NOT_PROVEN, "changed", [last.entry, *standing], who=last.who)
    return _said(rule, point, Verdict.CONFORMING, "", [last.entry], who=last.who)


CONTRACT = "the procedure, by the contract"
RULES = (
    Rule(
        "hold-released", 2, Stage.CLOSE, CONTRACT, _each(HOLD, _released), ("rework", "concession", "scrap")
    ),
    Rule("witness-told", 2, Stage.CLOSE, CONTRACT, _each(WITNESS, _witnessed), ("concession", "scrap")),
    Rule("documents-reviewed", 1, Stage.CLOSE, CONTRACT, _each(REVIEW, _reviewed), ("concession", "scrap")),
)
