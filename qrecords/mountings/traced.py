"""Index rows by which a mounting is found again: who did what in it, and what it says in words of its own."""

import uuid
from collections.abc import Iterator
from datetime import datetime

from qrecords.mountings.models import Mounting, NameRead, TaskDone
from qrecords.steps import tasks
from qrecords.steps.answers import Value
from qrecords.steps.case import Case
from qrecords.steps.errors import UnknownFieldError
from qrecords.steps.fields import Words
from qrecords.steps.work import STEPS

SEALED = "identification"
"""What was read off the ring has columns of its own, filled when a second reader has read it too."""


def task_rows(mounting: Mounting, case: Case) -> list[TaskDone]:
    """The newest act of each person and task. A tap is work; what was undone was still done."""
    newest: dict[tuple[str, str], tuple[datetime, str]] = {}
    for entry, task, at in _acts(case):
        who = case.authors.get(entry)
        if who:
            newest[who, task] = max(newest.get((who, task), (at, entry)), (at, entry))
    return [
        TaskDone(mounting=mounting, person=uuid.UUID(who), task=task, entry=uuid.UUID(entry), at=at)
        for (who, task), (at, entry) in newest.items()
    ]


def _acts(case: Case) -> Iterator[tuple[str, str, datetime]]:
    work = set(case.work)
    for entry, step, at in case.captures:
        asked = STEPS[step].task if step in STEPS else ""
        yield entry, (asked or tasks.WORK) if entry in work else tasks.CHECK, at
    for tap in case.taps:
        yield tap.entry, tasks.WORK, tap.at
    for used in case.parts:
        yield used.entry, tasks.WORK, used.at
    for release in case.releases:
        yield release.entry, tasks.STAND_IN if release.reduced else tasks.RELEASE, release.at
    for decision in case.decisions:
        yield decision.entry, tasks.CONCEDE if decision.kind == "concession" else tasks.DECIDE, decision.at
    for signature in case.signatures:
        yield signature.entry, _signed(signature.meaning, signature.reduced), signature.at


def _signed(meaning: str, reduced: str) -> str:
    if meaning == "performed":
        return tasks.READY
    return tasks.STAND_IN if reduced else tasks.SIGN


def name_rows(mounting: Mounting, case: Case) -> list[NameRead]:
    """Every standing answer in words of its own."""
    return [
        NameRead(mounting=mounting, entry=uuid.UUID(a.entry), step=step, key=key, text=a.word[:200])
        for step, answers in case.answers.items()
        if step != SEALED and step in STEPS
        for key, a in answers.items()
        if isinstance(a.answer, Value) and _in_words(step, key)
    ]


def _in_words(step: str, key: str) -> bool:
    try:
        return isinstance(STEPS[step].field(key).form, Words)
    except UnknownFieldError:  # a field of a newer program
        return False
