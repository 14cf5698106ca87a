"""States of a mounting, and which acts of authority are refused when. Facts are never refused."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from qrecords.steps.acts import Decision, Release, signed_as_it_stands
from qrecords.steps.answers import Value
from qrecords.steps.case import Case
from qrecords.steps.decision_rows import ROWS
from qrecords.steps.findings import OPEN_VERDICTS, Finding, Verdict
from qrecords.steps.gauges import STEP_ID as MEASUREMENT
from qrecords.steps.identification import OWN_READING, read_since, unlike_order
from qrecords.steps.measurement import wanted_places
from qrecords.steps.runs import is_on
from qrecords.steps.telephone import heard_wrong


class State(StrEnum):
    OPEN = "open"
    READY = "ready for inspection"
    RETURNED = "returned"
    AMENDING = "open for amendment"
    SIGNED_OFF = "signed off"
    REWORKED = "closed as reworked"
    SCRAPPED = "closed as scrapped"
    WITHDRAWN = "closed as withdrawn"


LIVE = frozenset({State.OPEN, State.RETURNED, State.AMENDING})
CLOSED = frozenset({State.SIGNED_OFF, State.REWORKED, State.SCRAPPED, State.WITHDRAWN})


@dataclass(frozen=True)
class Refusal:
    """Why an act of authority may not be done now: a stable code and its facts, names as they are kept."""

    code: str
    facts: Mapping[str, str | tuple[str, ...]]


def _names(findings: Iterable[Finding]) -> tuple[str, ...]:
    return tuple(finding.characteristic for finding in findings)


def state_of(case: Case) -> State:
    """Where a mounting stands, from its entries alone."""
    if case.withdrawn:
        return State.WITHDRAWN
    closed = closing(case)
    if closed:
        return State(closed.closes)
    if signed_as_it_stands(case.signatures, case.amendments):
        return State.SIGNED_OFF
    # What was signed and returned before an amendment counts for the record as it was.
    opened = case.amendments[-1].index if case.amendments else -1
    ready = max((s.index for s in case.signatures if s.meaning == "performed"), default=-1)
    returned = max((r.index for r in case.returns), default=-1)
    if ready > max(returned, opened):
        return State.READY
    if returned > opened:
        return State.RETURNED
    return State.AMENDING if case.amendments else State.OPEN


def closing(case: Case) -> Decision | None:
    """The decision that closed a mounting as reworked or scrapped."""
    return next((decision for decision in case.decisions if decision.closes), None)


def standing_release(case: Case, hold: str) -> Release | None:
    """The newest release of a hold whose captures still stand; a later capture voids it visibly."""
    of_hold = [release for release in case.releases if release.hold == hold]
    return of_hold[-1] if of_hold and not voided(case, of_hold[-1]) else None


def voided(case: Case, release: Release, felt_again: frozenset[str] = frozenset()) -> bool:
    """A capture the release does not name stands now in the steps it covers, another drawing judges since, or
    what was read off the ring since is not what was ordered; read again as it was, it voids nothing.
    `felt_again`: captures of a later heating, which say nothing against an earlier one."""
    if case.drawing_index > release.index:
        return True
    if release.means == "telephone" and not release.captures:
        return False  # nothing had been sent yet; the code says which readings were heard
    if release.hold == "fit" and unlike_order(case, read_since(case, release.index)):
        return True
    return not case.standing_captures(release.hold) - felt_again <= release.captures


ACCEPTING = frozenset({"accept", "concession", "note"})
"""Decisions after which nothing is to be done but to keep their conditions; any other is work."""


def newest_decisions(case: Case) -> dict[str, Decision]:
    """The decision that counts, by finding digest: a later one takes the place of an earlier, whatever it
    said. Who worked accepts nothing."""
    counting = [d for d in case.decisions if d.kind not in ACCEPTING or d.author not in case.worked_by]
    return {digest: decision for decision in counting for digest in decision.digests}


def decided(case: Case, finding: Finding) -> bool:
    """A decision accepts exactly this finding with exactly these numbers, and none was taken since."""
    decision = newest_decisions(case).get(finding.digest)
    return decision is not None and decision.kind in ACCEPTING


def settled(case: Case, finding: Finding) -> bool:
    """Nothing is left to do about this finding."""
    if finding.verdict == Verdict.CONFORMING:
        return True
    if finding.verdict == Verdict.QUERY:
        return finding.digest in case.looked
    return decided(case, finding)


def undecided(case: Case, findings: Iterable[Finding]) -> list[Finding]:
    """The findings that keep the record from being signed."""
    return [f for f in findings if f.verdict in OPEN_VERDICTS and not decided(case, f)]


def expired(case: Case, findings: Iterable[Finding], day: date) -> list[Finding]:
    """The findings that an acceptance answered whose last day is over."""
    newest = newest_decisions(case)
    return [f for f in findings if (held := newest.get(f.digest)) and decided(case, f) and held.expired(day)]


def to_be_remeasured(case: Case) -> Decision | None:
    """A rework of the journal after which no inspector has measured it himself, at every wanted place."""
    mended = [
        d
        for d in case.decisions
        if d.kind == "rework" and any(ROWS[r].remeasured for r in d.rows if r in ROWS)
    ]
    if not mended:
        return None
    since = case.order[mended[-1].entry]
    by_inspector = (a for a in case.given.get(MEASUREMENT, ()) if a.check)
    beside = case.checks.get(MEASUREMENT, {}).values()
    measured = {
        tuple(a.key.split(".")[1:3])
        for a in (*by_inspector, *beside)
        if a.key.startswith("journal.") and isinstance(a.answer, Value) and case.order[a.entry] > since
    }
    return None if measured.issuperset(wanted_places(case)) else mended[-1]


def _not_independent(case: Case, author: str) -> Refusal | None:
    if author in case.worked_by:
        return Refusal("not-independent", {"person": author})
    return None


def refuse_release(
    case: Case, author: str, hold: str, findings: Iterable[Finding], day: date | None = None
) -> Refusal | None:
    """Ruling 21: no release while a finding of what it covers is open, or a query about it was not looked at:
    answered, it may be a bore that does not conform (ruling 5); and none before heat without the inspector's
    own reading of the marking, nor of a reworked journal that no inspector measured. An acceptance whose
    last day is over on this `day` answers nothing any more. `findings` are the hold's own."""
    if state_of(case) in CLOSED:
        return Refusal("closed", {"state": state_of(case)})
    refusal = _not_independent(case, author)
    if refusal:
        return refusal
    own = list(findings)
    open_ = open_for_release(case, own)
    if open_:
        return Refusal("open-findings", {"findings": _names(open_)})
    if unread_by_inspector(own):
        return Refusal("own-reading-missing", {"missing": "the inspector's own reading of the ring marking"})
    if hold == "fit" and to_be_remeasured(case):
        return Refusal("remeasure", {"missing": "the inspector's own measurement of the reworked journal"})
    return _expired(case, own, day)


def _expired(case: Case, findings: Iterable[Finding], day: date | None) -> Refusal | None:
    over = expired(case, findings, day) if day else []
    return Refusal("expired", {"findings": _names(over)}) if over else None


def unread_by_inspector(findings: Iterable[Finding]) -> bool:
    """Who releases has not read the marking off the ring."""
    return any(f.rule == OWN_READING and f.verdict == Verdict.MISSING for f in findings)


def open_for_release(case: Case, findings: Iterable[Finding]) -> list[Finding]:
    """Of a hold's own findings those that keep it from being released, the reading apart which who releases
    makes himself."""
    own = [f for f in findings if not unread_by_inspector([f])]
    unlooked = [f for f in own if f.verdict == Verdict.QUERY and f.digest not in case.looked]
    return [*undecided(case, own), *unlooked]


def refuse_telephone(case: Case, code: str, lowest_nm: int, highest_nm: int) -> Refusal | None:
    """No release on what was heard where the readings that have come say otherwise."""
    wrong = heard_wrong(case, code, lowest_nm, highest_nm)
    return Refusal("telephone-differs", {"differs": tuple(wrong)}) if wrong else None


def refuse_ready(case: Case, author: str) -> Refusal | None:
    """The signature means *performed*: only who performed something can give it."""
    state = state_of(case)
    if state not in LIVE:
        return Refusal("not-open", {"state": state})
    if not case.answers:
        return Refusal("nothing-recorded", {})
    if author not in case.worked_by:
        return Refusal("not-performed", {"person": author})
    return None


HELD_BY_THE_ENGINEER = frozenset({Verdict.NONCONFORMING, Verdict.NOT_PROVEN})
"""What was found of the fit is not made undone by who found it."""


def refuse_withdrawal(
    case: Case, author: str, fit: Iterable[Finding], *, own_alone: bool = False
) -> Refusal | None:
    """Opened by mistake and not heated: once heat was on, what happened to the ring has to be decided. While
    a finding of the `fit` does not conform or is not proven, undecided, only the engineer withdraws it, who
    did not work on it; `own_alone`: the author may withdraw because he opened it, and for no other reason."""
    state = state_of(case)
    if state not in LIVE or case.amendments:
        return Refusal("not-open", {"state": state})
    if any(tap.what == "heater on" for tap in case.taps):
        return Refusal("heated", {"state": state})
    held = [f for f in undecided(case, fit) if f.verdict in HELD_BY_THE_ENGINEER]
    if held and (own_alone or author in case.worked_by):
        return Refusal("engineer-withdraws", {"findings": _names(held)})
    return None


def refuse_return(case: Case, author: str) -> Refusal | None:
    state = state_of(case)
    if state != State.READY:
        return Refusal("not-ready", {"state": state})
    return _not_independent(case, author)


def refuse_decision(case: Case, author: str, kind: str, findings: Iterable[Finding]) -> Refusal | None:
    """Who worked decides nothing; who authored a reading grants no concession resting on it."""
    state = state_of(case)
    if state in CLOSED:
        return Refusal("closed", {"state": state})
    refusal = _not_independent(case, author)
    if refusal:
        return refusal
    if kind == "concession":
        rests_on = {entry for finding in findings for entry in finding.inputs}
        said = (*case.answers.values(), *case.checks.values())
        own = [a for step in said for a in step.values() if a.author == author]
        if any(a.entry in rests_on for a in own):
            return Refusal("own-reading", {"person": author})
    return None


def refuse_sign(
    case: Case, author: str, findings: Iterable[Finding], day: date | None = None
) -> Refusal | None:
    """`day`: an acceptance whose last day is over then answers nothing any more."""
    findings = list(findings)
    state = state_of(case)
    if state != State.READY:
        return Refusal("not-ready", {"state": state})
    refusal = _not_independent(case, author)
    if refusal:
        return refusal
    if case.signatures[-1].author == author:
        return Refusal("not-independent", {"person": author})
    open_ = undecided(case, findings)
    if open_:
        return Refusal("open-findings", {"findings": _names(open_)})
    if worked_since_ready(case):
        return Refusal("worked-since-ready", {"signed": case.signatures[-1].at.isoformat()})
    return _expired(case, findings, day)


def refuse_amendment(case: Case) -> Refusal | None:
    """Only a signed record is amended; any other is still worked on, or closed by a decision."""
    state = state_of(case)
    return None if state == State.SIGNED_OFF else Refusal("not-signed-off", {"state": state})


def worked_since_ready(case: Case) -> bool:
    """Work came that the fitter's signature does not cover, readable or not: it goes back to him."""
    ready = max((s.index for s in case.signatures if s.meaning == "performed"), default=-1)
    return any(case.order[entry] > ready for entry in case.work)


OF_THE_BEARING = frozenset({"ring-marking", "bore-in-class", "clearance-in-group", "clearance-forecast"})
"""Rules whose findings are mended before heat by another bearing, and another bearing is another mounting."""


def closes(case: Case, kind: str, findings: Iterable[Finding] = ()) -> str:
    """The state that a decision about some findings closes a mounting with: scrap and quarantine always;
    rework once the ring is on, or where all that is to be mended is which bearing is to go on."""
    if kind == "scrap":
        return State.SCRAPPED
    if kind == "quarantine":
        return State.REWORKED
    rules = {finding.rule for finding in findings}
    if kind == "rework" and (is_on(case) or (rules and rules <= OF_THE_BEARING)):
        return State.REWORKED
    return ""


UNDERGONE = frozenset({"peak-temperature", "probe-on-inner-ring", "not-dropped", "not-hammered"})
"""Rules about what the ring itself went through: taking it off the shaft mends none of it."""


def refuse_rework(case: Case, findings: Iterable[Finding]) -> Refusal | None:
    """A rework that closes the mounting sends its ring on to another; what the ring went through is answered
    first. Before it was heated nothing of it is missing."""
    heated = any(tap.what == "heater on" for tap in case.taps)
    asked = [f for f in undecided(case, findings) if f.rule in UNDERGONE]
    open_ = [f for f in asked if heated or f.verdict != Verdict.MISSING]
    if open_:
        return Refusal("ring-undecided", {"findings": _names(open_)})
    return None
