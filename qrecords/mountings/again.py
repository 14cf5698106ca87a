"""Judging a recorded mounting again with something put right: a gauge's error taken off its readings, the
right drawing revision in place of the wrong one.

The one way to do it, for look-backs and for decisions. What is recorded and what was found of it stay; the
new findings are a judgement of their own, labelled with what caused it, and its class is kept as an index.
"""

import uuid
from collections.abc import Callable
from dataclasses import dataclass

from qrecords.ledger.append import atomic
from qrecords.mountings.judging import Judged, judged_now, store_judgement
from qrecords.mountings.models import JudgedAgain, Mounting
from qrecords.people.acting import Acting
from qrecords.steps.again import IN_DOUBT, Change, changes, class_of
from qrecords.steps.case import Case
from qrecords.steps.standard import all_findings

PutRight = Callable[[Case], Case]
"""What is put right: `steps.corrected.corrected` with a suspect, or `steps.again.with_requirement`."""


@dataclass(frozen=True)
class Again:
    """A mounting as it is recorded and as it would have been, judged by the same rules on the same day."""

    before: Judged
    after: Judged
    changed: tuple[Change, ...]
    verdict: str
    """Its class; *in doubt* where nothing could be put right."""


def judged_again(mounting: Mounting, put_right: PutRight | None) -> Again:
    """Judge without writing anything. Without anything to put right it is as it stands, and in doubt."""
    before = judged_now(mounting)
    if put_right is None:
        return Again(before, before, (), IN_DOUBT)
    case = put_right(before.case)
    after = Judged(case, tuple(all_findings(case)))
    changed = tuple(changes(before.findings, after.findings))
    return Again(before, after, changed, class_of(changed).value)


@atomic()
def judge_again(
    *, acting: Acting, mounting: Mounting, put_right: PutRight | None, occasion: str, cause: uuid.UUID
) -> Again | None:
    """Judge and keep it as an entry beside the record, whatever state that is in: it says what is known now
    and changes nothing. None where this cause had it judged before, so that a job may come twice."""
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    if JudgedAgain.objects.filter(mounting=locked, cause=cause).exists():
        return None
    again = judged_again(locked, put_right)
    seen = {"class": again.verdict, "changed": [change.document() for change in again.changed]}
    store_judgement(acting, locked, again.after, occasion, cause=cause, seen=seen)
    keep_again(locked, judged_now(locked).case)
    return again


def again_rows(mounting: Mounting, case: Case) -> list[JudgedAgain]:
    return [
        JudgedAgain(
            mounting=mounting,
            occasion=told.occasion,
            cause=uuid.UUID(told.cause),
            verdict=told.verdict,
            entry=uuid.UUID(told.entry),
            at=told.at,
            document=list(told.changed),
        )
        for told in case.judged_again
    ]


def keep_again(mounting: Mounting, case: Case) -> None:
    """Make the index rows of one mounting say what its entries say."""
    wanted = again_rows(mounting, case)
    JudgedAgain.objects.filter(mounting=mounting).exclude(cause__in=[row.cause for row in wanted]).delete()
    for row in wanted:
        JudgedAgain.objects.update_or_create(
            mounting=mounting,
            cause=row.cause,
            defaults={
                name: getattr(row, name) for name in ("occasion", "verdict", "entry", "at", "document")
            },
        )
