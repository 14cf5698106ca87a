"""The only writers of acts of authority. Each is one transaction with its entries."""

import uuid
from collections.abc import Mapping, Sequence

from qrecords.engineering.tables import BUILT_IN
from qrecords.ledger.append import atomic
from qrecords.ledger.envelope import as_filed
from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import RefusedError, refuse_closed
from qrecords.mountings.judging import Judged, judge, judged_now, look_elsewhere, store_judgement
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.people.stating import state
from qrecords.proof.canonical import parse_canonical
from qrecords.signoff.errors import (
    ChangedMeanwhileError,
    LowestAboveHighestError,
    NotAmongDecisionsError,
    ReasonNeededError,
    UnknownFindingError,
    WrongCodeError,
)
from qrecords.signoff.models import Decision, Release, Signature
from qrecords.steps.case import HOLD_COVERS
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.standard import RULES
from qrecords.steps.telephone import as_heard, is_code
from qrecords.steps.transitions import (
    Refusal,
    closes,
    refuse_decision,
    refuse_release,
    refuse_return,
    refuse_sign,
)

DECISIONS = {
    "measure again": Action.MEASURE_AGAIN,
    "rework": Action.REWORK,
    "accept": Action.ACCEPT,
    "scrap": Action.SCRAP,
    "concession": Action.CONCEDE,
}


def _locked(mounting: Mounting) -> Mounting:
    return Mounting.objects.select_for_update().get(id=mounting.id)


def _stop(act: str, refusal: Refusal | None) -> None:
    if refusal is not None:
        raise RefusedError(act, refusal)


def _replay(
    acting: Acting,
    mounting: Mounting,
    entry_id: uuid.UUID,
    kind: str,
    reason: str | None = None,
    **said: object,
) -> Entry | None:
    """The entry of an act that was already done under this id: its precondition has since changed. What was
    said under it of another mounting, by another or otherwise is refused (DifferentContentError)."""
    known = Entry.objects.filter(id=entry_id).first()
    if known is None:
        return None
    content = parse_canonical(bytes(known.payload))
    before = {name: content["body"]["said"].get(name) for name in said}
    asked = (kind, mounting.id, str(acting.author.id), as_filed(reason), as_filed(said))
    if asked != (known.kind, known.subject, content["author"]["person"], content["reason"], before):
        raise DifferentContentError(entry_id)
    return known


@atomic()
def release(
    *,
    acting: Acting,
    mounting: Mounting,
    entry_id: uuid.UUID,
    hold: str,
    shown: Sequence[str] | None = None,
) -> Entry:
    """Release a hold point: names the captures it rests on; a later one voids it. Refused (RefusedError)
    while a finding of the hold is open, or to anybody who worked on the mounting. `shown` are the leaves that
    the page showed: ChangedMeanwhileError if the release would rest on one that it did not."""
    require(acting, Action.RELEASE, mounting.site)
    locked = _locked(mounting)
    known = _replay(acting, locked, entry_id, "release", hold=hold)
    if known is not None:
        return known
    judged = judged_now(locked)
    author = str(acting.author.id)
    captures = sorted(judged.case.standing_captures(HOLD_COVERS[hold]))
    if shown is not None:
        unseen = {judged.case.leaves[capture] for capture in captures} - set(shown)
        if unseen:
            raise ChangedMeanwhileError(sorted(unseen))
    _stop("release", refuse_release(judged.case, author, hold, judged.of_hold(hold)))
    said = {
        "hold": hold,
        "captures": captures,
        "means": "sign-in" if acting.sender is None else "sign-in on the fitter's device",
    }
    return _released(acting, locked, entry_id, said, judged)


@atomic()
def release_by_telephone(
    *,
    acting: Acting,
    mounting: Mounting,
    entry_id: uuid.UUID,
    code: str,
    lowest_nm: int,
    highest_nm: int,
) -> Entry:
    """Release before heat on readings heard by telephone: the code made from them, lowest and highest.

    Whether the code fits what the fitter's device later sends is judged, not asked here.
    """
    require(acting, Action.RELEASE, mounting.site)
    if not is_code(code):
        raise WrongCodeError(code)
    if lowest_nm > highest_nm:
        raise LowestAboveHighestError(lowest_nm, highest_nm)
    locked = _locked(mounting)
    known = _replay(
        acting,
        locked,
        entry_id,
        "release",
        code=as_heard(code),
        lowest_nm=lowest_nm,
        highest_nm=highest_nm,
    )
    if known is not None:
        return known
    judged = judged_now(locked)
    # With no network nothing has come yet; what has come is judged (ruling 21).
    here = [f for f in judged.of_hold("fit") if f.verdict in (Verdict.NONCONFORMING, Verdict.NOT_PROVEN)]
    _stop("release", refuse_release(judged.case, str(acting.author.id), "fit", here))
    said = {
        "hold": "fit",
        "captures": sorted(judged.case.standing_captures(HOLD_COVERS["fit"])),
        "means": "telephone",
        "code": as_heard(code),
        "lowest_nm": lowest_nm,
        "highest_nm": highest_nm,
    }
    return _released(acting, locked, entry_id, said, judged)


def _released(
    acting: Acting, mounting: Mounting, entry_id: uuid.UUID, said: Mapping[str, object], judged: Judged
) -> Entry:
    entry = state(acting, "release", id=entry_id, site=mounting.site, mounting=mounting.id, said=said)
    Release.objects.create(entry=entry, mounting=mounting)
    store_judgement(acting, mounting, judged, f"release {said['hold']}", entry_id=entry_id)
    judge(mounting)
    return entry


def _standing(judged: Judged, digests: Sequence[str]) -> list[Finding]:
    by_digest = {finding.digest: finding for finding in judged.findings}
    for digest in digests:
        if digest not in by_digest:
            raise UnknownFindingError(digest)
    return [by_digest[digest] for digest in digests]


@atomic()
def decide(
    *,
    acting: Acting,
    mounting: Mounting,
    entry_id: uuid.UUID,
    kind: str,
    digests: Sequence[str],
    reason: str,
    conditions: str = "",
) -> Entry:
    """Decide one or several findings with one cause. Binds to the digests of their inputs: a later entry
    that changes them reopens them. Scrap closes the mounting; so does rework once the ring is on, or where
    another bearing is to go on instead."""
    require(acting, DECISIONS[kind], mounting.site)
    if not reason.strip():
        raise ReasonNeededError(kind)
    locked = _locked(mounting)
    known = _replay(
        acting, locked, entry_id, "decision", reason.strip(), decision=kind, conditions=conditions.strip()
    )
    if known is not None:
        return known
    judged = judged_now(locked)
    findings = _standing(judged, digests)
    if not findings:
        raise UnknownFindingError("")
    for finding in findings:
        may = RULES[finding.rule].decisions(finding, judged.case)
        if kind not in may:
            raise NotAmongDecisionsError(kind, finding.characteristic, may)
    _stop(f"decision {kind}", refuse_decision(judged.case, str(acting.author.id), kind, findings))
    said = {
        "decision": kind,
        "findings": [
            {"key": finding.key, "digest": finding.digest, "verdict": finding.verdict.value}
            for finding in findings
        ],
        "conditions": conditions.strip(),
        "closes": closes(judged.case, kind, findings),
    }
    entry = state(
        acting,
        "decision",
        id=entry_id,
        site=locked.site,
        mounting=locked.id,
        said=said,
        reason=reason.strip(),
    )
    Decision.objects.create(entry=entry, mounting=locked)
    store_judgement(acting, locked, judged, "decision", entry_id=entry_id)
    judge(locked)
    return entry


@atomic()
def close_query(
    *, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, digest: str, explanation: str
) -> Entry:
    """*Looked, explained by…*: a person looked at what does not fit. Accuses nobody, blocks nothing."""
    require(acting, Action.CLOSE_QUERY, mounting.site)
    if not explanation.strip():
        raise ReasonNeededError("looked")
    locked = _locked(mounting)
    known = _replay(acting, locked, entry_id, "looked", explanation.strip(), digest=digest)
    if known is not None:
        return known
    judged = judged_now(locked)
    finding = _standing(judged, [digest])[0]
    if finding.verdict != Verdict.QUERY:
        raise UnknownFindingError(digest)
    refuse_closed("looked", judged.case)
    entry = state(
        acting,
        "looked",
        id=entry_id,
        site=locked.site,
        mounting=locked.id,
        said={"key": finding.key, "digest": digest},
        reason=explanation.strip(),
    )
    judge(locked)
    return entry


@atomic()
def give_back(
    *, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, items: Sequence[tuple[str, str]]
) -> Entry:
    """Return a record to the fitter, item by item, each with its reason."""
    require(acting, Action.RETURN, mounting.site)
    if not items or any(not reason.strip() for _, reason in items):
        raise ReasonNeededError("return")
    locked = _locked(mounting)
    given = [{"about": about, "reason": reason.strip()} for about, reason in items]
    known = _replay(acting, locked, entry_id, "return", items=given)
    if known is not None:
        return known
    judged = judged_now(locked)
    _stop("return", refuse_return(judged.case, str(acting.author.id)))
    entry = state(acting, "return", id=entry_id, site=locked.site, mounting=locked.id, said={"items": given})
    judge(locked)
    return entry


def shown_leaves(judged: Judged) -> list[str]:
    """What a signature covers: every leaf of the record as it stands."""
    return sorted(judged.case.leaves.values())


@atomic()
def sign(*, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, shown: Sequence[str]) -> Entry:
    """The inspector's signature over exactly what was shown (`shown` leaves). ChangedMeanwhileError if
    anything came since; RefusedError while a finding is open. The record freezes."""
    require(acting, Action.SIGN, mounting.site)
    locked = _locked(mounting)
    known = _replay(acting, locked, entry_id, "signature", meaning="inspected")
    if known is not None:
        return known
    judged = judged_now(locked)
    new = sorted(set(shown_leaves(judged)) - set(shown))
    if new:
        raise ChangedMeanwhileError(new)
    _stop("sign-off", refuse_sign(judged.case, str(acting.author.id), judged.findings))
    look_elsewhere(acting, locked, entry_id=entry_id)
    judged = judged_now(locked)
    _stop("sign-off", refuse_sign(judged.case, str(acting.author.id), judged.findings))
    store_judgement(acting, locked, judged, "sign-off", entry_id=entry_id)
    said = {
        "meaning": "inspected",
        # Every leaf, that of the judgement just stored among them.
        "leaves": shown_leaves(judged_now(locked)),
        "shown": {"language": "en", "units": "metric", "zone": acting.zone, "template": "certificate/1"},
    }
    entry = state(
        acting,
        "signature",
        id=entry_id,
        site=locked.site,
        mounting=locked.id,
        said=said,
        procedure=locked.procedure_digest,
        tables=BUILT_IN.digest,
    )
    Signature.objects.create(entry=entry, mounting=locked, meaning="inspected")
    judge(locked)
    return entry
