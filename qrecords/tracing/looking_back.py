"""The jobs of a look-back: its mountings judged again, a few a job, each in a transaction of its own.

A job that is killed comes due again from where it began; what has its class by then is passed over, so
nothing is judged twice and nothing left out. Memory does not grow with how many are touched.
"""

import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from django.utils import timezone

from qrecords.ledger.append import atomic
from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.looking_back import judge_for, say_judged
from qrecords.mountings.again import Again, judged_again
from qrecords.mountings.look_backs import asked_of, is_judged, pages_of, put_right_of, results
from qrecords.mountings.models import Mounting
from qrecords.outbox.jobs import enqueue
from qrecords.people.acting import Acting
from qrecords.people.models import Person
from qrecords.steps.new_look_back import Asked
from qrecords.workshop.look_back_actions import JOB
from qrecords.workshop.models import LookBack, Site

A_JOB = 50
"""Mountings judged in one job: short enough to be done before it is thought dead."""
PREVIEWED = 20


def judge_touched(look_back: str, after: str = "") -> None:
    """Judge the next mountings of a look-back and write the job for those that follow; after the last say
    that all are judged."""
    row = LookBack.objects.get(id=look_back)
    acting = _as_opened(row)
    touched = _touched(asked_of(row), row.site, uuid.UUID(after) if after else None)
    for judged, mounting in enumerate(touched, start=1):
        judge_for(acting=acting, look_back=row, mounting=mounting)
        if judged == A_JOB:
            with atomic():
                enqueue(JOB, look_back=look_back, after=str(mounting.id))
            return
    if not is_judged(row):
        say_judged(acting=acting, look_back=row, entry_id=new_id())


def _touched(asked: Asked, site: uuid.UUID, after: uuid.UUID | None = None) -> Iterator[Mounting]:
    return (mounting for page in pages_of(asked, site, after) for mounting in page)


def _as_opened(look_back: LookBack) -> Acting:
    """What follows from the opening is said as by who opened it."""
    zone = Site.objects.get(id=look_back.site).zone
    return Acting(author=Person.objects.get(id=look_back.opened_by), now=timezone.now(), zone=zone)


@dataclass(frozen=True)
class Preview:
    """What a look-back would touch: the first mountings with what they would come to, and whether there are
    more."""

    shown: tuple[tuple[Mounting, Again], ...]
    more: bool


def preview(asked: Asked, site: uuid.UUID) -> Preview:
    """Judged without writing anything."""
    found = list(islice(_touched(asked, site), PREVIEWED + 1))
    judged = [(mounting, judged_again(mounting, put_right_of(asked, mounting))) for mounting in found]
    return Preview(tuple(judged[:PREVIEWED]), len(found) > PREVIEWED)


@dataclass(frozen=True)
class Progress:
    """How far the jobs of a look-back are."""

    judged: int
    done: bool


def progress(look_back: LookBack) -> Progress:
    """Two queries."""
    return Progress(results(look_back).count(), is_judged(look_back))
