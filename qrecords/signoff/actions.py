"""The only writers of acts of authority. Each is one transaction with its entries, under the locks of the
bearing and of the mounting; a bearing that may not go on is neither released nor signed (`barring`)."""

import uuid
from collections.abc import Sequence

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.actions.recording import Typed, record
from qrecords.mountings.barring import lock_with_bearing, refuse_barred
from qrecords.mountings.errors import ChangedMeanwhileError, RefusedError, refuse_closed
from qrecords.mountings.judging import Judged, judge, judged_now, look_elsewhere, store_judgement
from qrecords.mountings.look_backs import told_open
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.mountings.stating import Statement
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.signoff.authority import authority
from qrecords.signoff.effects import quarantine, roles_of, today
from qrecords.signoff.errors import (
    ExpiryError,
    LowestAboveHighestError,
    NotAmongDecisionsError,
    ReasonNeededError,
    UnknownFindingError,
    WrongCodeError,
)
from qrecords.signoff.models import Decision, Release, Signature
from qrecords.signoff.narrowing import require_left
from qrecords.steps import tasks
from qrecords.steps.case import HOLD_COVERS, Case
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.granting import NOTHING, Saying, proven, refuse_look, refuse_offer
from qrecords.steps.shown import Extent, not_shown
from qrecords.steps.standard import RULES
from qrecords.steps.telephone import as_heard, is_code
from qrecords.steps.transitions import (
    ACCEPTING,
    Refusal,
    State,
    closes,
    refuse_decision,
    refuse_release,
    refuse_return,
    refuse_rework,
    refuse_sign,
    refuse_telephone,
    state_of,
)
from qrecords.workshop.errors import UnknownObjectError

DECISIONS = {
    "measure again": Action.MEASURE_AGAIN,
    "rework": Action.REWORK,
    "accept": Action.ACCEPT,
    "scrap": Action.SCRAP,
    "concession": Action.CONCEDE,
    "note": Action.NOTE,
    "quarantine": Action.QUARANTINE,
}


def _stop(act: str, refusal: Refusal | None) -> None:
    if refusal is not None:
        raise RefusedError(act, refusal)


@atomic()
def release(
    *, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, hold: str, shown: Extent, alone: str = ""
) -> Entry:
    """Release a hold point: names the captures it rests on; a later one voids it. Refused (RefusedError)
    while a finding of the hold is open or before heat the inspector's own reading is missing, or to anybody
    who worked on the mounting. ChangedMeanwhileError if it would rest on a capture that the page did not
    show. `alone`: of a stand-in, why no inspector is there."""
    require(acting, Action.RELEASE, mounting.site)
    locked = lock_with_bearing(mounting)
    said = {"hold": hold, "shown": shown.document(), **_said_alone(alone)}
    releasing = Statement(acting=acting, mounting=locked, kind="release", id=entry_id, said=said)
    known = releasing.before()
    if known is not None:
        return known
    refuse_barred(locked)
    judged = judged_now(locked)
    if hold not in (*HOLD_COVERS, *judged.case.procedure.holds):
        raise UnknownObjectError("hold point", hold)
    require_left(acting, judged.case.procedure, "release", mounting.site)
    unseen = judged.case.standing_captures(hold) & set(not_shown(judged.case, shown))
    if unseen:
        raise ChangedMeanwhileError(sorted(unseen))
    author = str(acting.author.id)
    _stop("release", refuse_release(judged.case, author, hold, judged.of_hold(hold), today(acting)))
    means = "sign-in" if acting.sender is None else "sign-in on the fitter's device"
    return _released(releasing, judged, means)


def release_here(
    *,
    acting: Acting,
    mounting: Mounting,
    entry_id: uuid.UUID,
    hold: str,
    shown: Extent,
    reading_id: uuid.UUID,
    marking: str,
    marking_reason: str = "",
    alone: str = "",
) -> Entry:
    """Release on another's device. The marking, as the inspector reads it off the ring there, is filed
    before: his reading stands though the release be refused. Where a reading stands already, another needs
    its reason (NeedsReasonError)."""
    require(acting, Action.RELEASE, mounting.site)
    if marking.strip():
        record(
            acting=acting,
            mounting=mounting,
            entry_id=reading_id,
            step_id="identification",
            given={"marking": Typed(marking)},
            check=True,
            reason=marking_reason,
        )
    return release(acting=acting, mounting=mounting, entry_id=entry_id, hold=hold, shown=shown, alone=alone)


def _said_alone(alone: str) -> dict[str, str]:
    return {"alone": alone.strip()} if alone.strip() else {}


@atomic()
def release_by_telephone(
    *,
    acting: Acting,
    mounting: Mounting,
    entry_id: uuid.UUID,
    code: str,
    lowest_nm: int,
    highest_nm: int,
    alone: str = "",
) -> Entry:
    """Release before heat on readings heard by telephone: the code made from them, lowest and highest.

    Refused (RefusedError, which names them) where they are known to differ from readings that are here;
    whether the code fits what the fitter's device sends later is judged.
    """
    require(acting, Action.RELEASE, mounting.site)
    if not is_code(code):
        raise WrongCodeError(code)
    if lowest_nm > highest_nm:
        raise LowestAboveHighestError(lowest_nm, highest_nm)
    locked = lock_with_bearing(mounting)
    said = {
        "hold": "fit",
        "code": as_heard(code),
        "lowest_nm": lowest_nm,
        "highest_nm": highest_nm,
        **_said_alone(alone),
    }
    releasing = Statement(acting=acting, mounting=locked, kind="release", id=entry_id, said=said)
    known = releasing.before()
    if known is not None:
        return known
    refuse_barred(locked)
    judged = judged_now(locked)
    require_left(acting, judged.case.procedure, "release", mounting.site)
    # With no network nothing has come yet; what has come is judged (ruling 21).
    here = [f for f in judged.of_hold("fit") if f.verdict != Verdict.MISSING]
    _stop("release", refuse_release(judged.case, str(acting.author.id), "fit", here, today(acting)))
    _stop("release", refuse_telephone(judged.case, as_heard(code), lowest_nm, highest_nm))
    return _released(releasing, judged, "telephone")


def _released(releasing: Statement, judged: Judged, means: str) -> Entry:
    """File a release with the captures that stand and how it was given."""
    hold, mounting = str(releasing.said["hold"]), releasing.mounting
    captures = sorted(judged.case.standing_captures(hold))
    alone = str(releasing.said.get("alone", ""))
    asked = judged.case.requirement
    by = authority(releasing.acting, mounting, asked, Action.RELEASE, tasks.RELEASE, alone)
    entry = releasing.file({"captures": captures, "means": means, **by})
    Release.objects.create(entry=entry, mounting=mounting)
    store_judgement(releasing.acting, mounting, judged, f"release {hold}", cause=entry.id)
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
    saying: Saying = NOTHING,
) -> Entry:
    """Decide one or several findings with one cause, as the table of findings and decisions offers it: by
    whom, with what is proven first. Binds to the digests of their inputs: a later entry that changes them
    reopens them. Scrap and quarantine close the mounting; so does rework once the ring is on, or where
    another bearing is to go on instead: refused while what the ring went through is not decided. An
    acceptance may hold until a day (`saying`), and name the letter by which the customer agreed."""
    require(acting, DECISIONS[kind], mounting.site)
    if not reason.strip():
        raise ReasonNeededError(kind)
    if not digests:
        raise UnknownFindingError("")
    _refuse_expiry(acting, kind, saying)
    locked = lock_with_bearing(mounting)
    deciding = Statement(
        acting=acting,
        mounting=locked,
        kind="decision",
        id=entry_id,
        said={
            "decision": kind,
            "findings": sorted(digests),
            "conditions": conditions.strip(),
            **saying.document(),
        },
        reason=reason.strip(),
    )
    known = deciding.before()
    if known is not None:
        return known
    judged = judged_now(locked)
    require_left(acting, judged.case.procedure, kind, mounting.site)
    findings = _standing(judged, sorted(digests))
    _stop(f"decision {kind}", refuse_decision(judged.case, str(acting.author.id), kind, findings))
    for finding in findings:
        may = RULES[finding.rule].decisions(finding, judged.case)
        if kind not in may:
            raise NotAmongDecisionsError(kind, finding.characteristic, may)
    _stop(f"decision {kind}", refuse_offer(judged.case, kind, findings, roles_of(acting, mounting), saying))
    closing = closes(judged.case, kind, findings)
    if closing == State.REWORKED and kind == "rework":
        _stop("rework", refuse_rework(judged.case, judged.findings))
    by = _of_who_concedes(acting, locked, judged) if kind == "concession" else {}
    entry = deciding.file(_about(judged.case, kind, findings) | {"closes": closing, **by})
    Decision.objects.create(entry=entry, mounting=locked)
    if kind == "quarantine":
        quarantine(acting, locked, entry)
    store_judgement(acting, locked, judged, "decision", cause=entry.id)
    judge(locked)
    return entry


def _of_who_concedes(acting: Acting, mounting: Mounting, judged: Judged) -> dict[str, object]:
    """His competence and eyesight; NotCompetentError where what was recorded of them has run out."""
    return authority(acting, mounting, judged.case.requirement, Action.CONCEDE, tasks.CONCEDE)


def _about(case: Case, kind: str, findings: Sequence[Finding]) -> dict[str, object]:
    """What the decided findings were, the rows of the table that the decision was taken by, and what was
    proven for it: for a reader who has only this entry."""
    about = [{"key": f.key, "digest": f.digest, "verdict": f.verdict.value} for f in findings]
    rows = {f.key: RULES[f.rule].row_of(f, case).id for f in findings}
    return {"findings": about, "rows": rows, "proven": proven(case, kind, findings)}


def _refuse_expiry(acting: Acting, kind: str, saying: Saying) -> None:
    """ExpiryError for a last day that is over, or of what accepts nothing."""
    if saying.expires and (kind not in ACCEPTING or saying.expires < today(acting)):
        raise ExpiryError(kind, saying.expires, today(acting))


@atomic()
def close_query(
    *, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, digest: str, explanation: str
) -> Entry:
    """*Looked, explained by…*: a person looked at what does not fit. Accuses nobody, blocks nothing."""
    require(acting, Action.CLOSE_QUERY, mounting.site)
    if not explanation.strip():
        raise ReasonNeededError("looked")
    locked = lock_with_bearing(mounting)
    looking = Statement(
        acting=acting,
        mounting=locked,
        kind="looked",
        id=entry_id,
        said={"digest": digest},
        reason=explanation.strip(),
    )
    known = looking.before()
    if known is not None:
        return known
    judged = judged_now(locked)
    finding = _standing(judged, [digest])[0]
    if finding.verdict != Verdict.QUERY:
        raise UnknownFindingError(digest)
    refuse_closed("looked", judged.case)
    _stop("looked", refuse_look(judged.case, finding, roles_of(acting, mounting)))
    entry = looking.file({"key": finding.key})
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
    locked = lock_with_bearing(mounting)
    given = [{"about": about, "reason": reason.strip()} for about, reason in items]
    returning = Statement(acting=acting, mounting=locked, kind="return", id=entry_id, said={"items": given})
    known = returning.before()
    if known is not None:
        return known
    judged = judged_now(locked)
    _stop("return", refuse_return(judged.case, str(acting.author.id)))
    entry = returning.file()
    judge(locked)
    return entry


def sign(*, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, shown: Extent, alone: str = "") -> Entry:
    """The inspector's signature over exactly what was shown. ChangedMeanwhileError if anything came since,
    what other records say among it; RefusedError while a finding is open. The record freezes. `alone`: of a
    stand-in, why no inspector is there."""
    require(acting, Action.SIGN, mounting.site)
    _look_again(acting, mounting, entry_id)
    return _sign(acting, mounting, entry_id, shown, alone)


@atomic()
def _look_again(acting: Acting, mounting: Mounting, entry_id: uuid.UUID) -> None:
    """What other records say may have changed since *ready*. It is filed on its own, before the signature is
    tried: nobody signs a finding that he has not seen."""
    locked = lock_with_bearing(mounting)
    if state_of(case_of(locked)) == State.READY:
        look_elsewhere(acting, locked, cause=entry_id)
        judge(locked)


@atomic()
def _sign(acting: Acting, mounting: Mounting, entry_id: uuid.UUID, shown: Extent, alone: str) -> Entry:
    locked = lock_with_bearing(mounting)
    said = {"meaning": "inspected", "shown": shown.document(), **_said_alone(alone)}
    signing = Statement(acting=acting, mounting=locked, kind="signature", id=entry_id, said=said)
    known = signing.before()
    if known is not None:
        return known
    refuse_barred(locked)
    judged = judged_now(locked)
    new = not_shown(judged.case, shown)
    if new:
        raise ChangedMeanwhileError(new)
    author = str(acting.author.id)
    _stop("sign-off", refuse_sign(judged.case, author, judged.findings, today(acting)))
    by = authority(acting, locked, judged.case.requirement, Action.SIGN, tasks.SIGN, alone)
    certificate = {"language": "en", "units": "metric", "zone": acting.zone, "template": "certificate/1"}
    number = len(judged.case.amendments)
    amendment = {"amendment": number} if number else {}
    # First, so that nothing but what comes later stands after the signature.
    store_judgement(acting, locked, judged, "sign-off", cause=entry_id)
    told = {"certificate": certificate, "look_backs": told_open(locked)}
    entry = signing.file({**told, **by, **amendment})
    Signature.objects.create(entry=entry, mounting=locked, meaning="inspected", amendment=number)
    judge(locked)
    return entry
