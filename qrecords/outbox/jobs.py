"""Writing, claiming and doing jobs.

A job is a row written in the transaction that makes it necessary, so it exists exactly when that happened.
Claiming pushes the row into the future before the work begins: a process that dies in the middle needs no
cleaning up, the job simply comes due again. So every handler must bear being called twice.
"""

import logging
from collections.abc import Callable
from datetime import timedelta
from typing import Any

from django.conf import settings
from django.db import transaction
from django.utils import timezone
from django.utils.module_loading import import_string

from qrecords.outbox.models import Job
from qrecords.outbox.waking import wake

FIRST_PAUSE_S = 60
LONGEST_PAUSE_S = 6 * 3600
ERROR_LENGTH = 2_000

log = logging.getLogger(__name__)


class UnknownKindError(LookupError):
    """No handler is named for this kind of job in OUTBOX_HANDLERS."""

    code = "unknown-job"

    def __init__(self, kind: str) -> None:
        super().__init__(f"no handler is named for jobs of kind {kind!r}")
        self.kind = kind


def enqueue(kind: str, **argument: Any) -> Job:
    """Write a job in the caller's transaction; it is worked on soon after the commit, or at the next sweep.

    The argument must be plain JSON. `UnknownKindError` if nobody could ever do it.
    """
    if kind not in settings.OUTBOX_HANDLERS:
        raise UnknownKindError(kind)
    now = timezone.now()
    job = Job.objects.create(kind=kind, argument=argument, made_at=now, run_after=now)
    transaction.on_commit(wake, robust=True)
    return job


def is_waiting(kind: str, **argument: Any) -> bool:
    """Whether a job of this kind, of what is named, is still to be done."""
    named = {f"argument__{name}": value for name, value in argument.items()}
    return Job.objects.filter(kind=kind, done_at=None, **named).exists()


def drain(at_most: int = 1_000) -> int:
    """Do what is due, one job after another; return how many were tried."""
    tried = 0
    while tried < at_most and (job := claim()) is not None:
        work(job)
        tried += 1
    return tried


def claim() -> Job | None:
    """Take the job that has been due longest, for as long as its pause lasts; None when nothing is due."""
    due = Job.objects.filter(done_at=None, run_after__lte=timezone.now()).order_by("run_after", "id")
    if not due.exists():  # a plain look, so that an idle sweep takes no write lock on SQLite
        return None
    with transaction.atomic():
        job = due.select_for_update(skip_locked=True).first()
        if job is None:
            return None
        tries = job.tries
        job.run_after = timezone.now() + _pause(tries)
        job.tries = tries + 1
        taken = Job.objects.filter(id=job.id, tries=tries, done_at=None).update(
            run_after=job.run_after, tries=job.tries
        )
    return job if taken else None


def work(job: Job) -> bool:
    """Do a claimed job; whether it succeeded. A failure is noted in the row and tried again later."""
    try:
        _handler(job.kind)(**job.argument)
    except Exception as error:
        log.exception("job %s of kind %s failed at try %s", job.id, job.kind, job.tries)
        Job.objects.filter(id=job.id).update(error=f"{type(error).__name__}: {error}"[:ERROR_LENGTH])
        return False
    Job.objects.filter(id=job.id, done_at=None).update(done_at=timezone.now(), error="")
    return True


def failing(least_tries: int = 3) -> list[Job]:
    """Jobs that were tried this often and are still not done: somebody should look."""
    return list(Job.objects.filter(done_at=None, tries__gte=least_tries).order_by("id"))


def _pause(tries: int) -> timedelta:
    return timedelta(seconds=min(FIRST_PAUSE_S * 2 ** min(tries, 20), LONGEST_PAUSE_S))


def _handler(kind: str) -> Callable[..., object]:
    path = settings.OUTBOX_HANDLERS.get(kind)
    if path is None:
        raise UnknownKindError(kind)
    handler: Callable[..., object] = import_string(path)
    return handler
