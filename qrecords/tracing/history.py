"""A bearing's life: its mountings in order, why each was made and how each ended. Fixed query counts."""

from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.db.models import QuerySet

from qrecords.ledger.models import Entry
from qrecords.mountings.models import Mounting
from qrecords.people.queries import Reach
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.stated import told_at
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import Bearing
from qrecords.workshop.queries import within


@dataclass(frozen=True)
class Ending:
    """How a mounting ended: *inspected* (signed off), or the decision that closed it, with its reason."""

    what: str
    at: datetime
    reason: str = ""


@dataclass(frozen=True)
class Chapter:
    """One mounting of a life. `after` is the mounting of the same journal before it, `why` how that ended."""

    mounting: Mounting
    ending: Ending | None
    after: Mounting | None = None
    why: Ending | None = None


def bearing(id: UUID, reach: Reach) -> Bearing:
    """The bearing, or UnknownObjectError as if it did not exist."""
    found = within(Bearing.objects.all(), reach).filter(id=id).first()
    if found is None:
        raise UnknownObjectError("bearing", id)
    return found


def life_of(bearing: Bearing, rows: QuerySet[Mounting]) -> list[Chapter]:
    """All mountings of a bearing among `rows`, oldest first; two queries."""
    mountings = list(rows.filter(bearing=bearing).select_related("attempt_of").order_by("opened_at", "id"))
    wanted = {m.id for m in mountings} | {m.attempt_of_id for m in mountings if m.attempt_of_id}
    endings = _endings(wanted)
    return [
        Chapter(
            mounting=mounting,
            ending=endings.get(mounting.id),
            after=mounting.attempt_of,
            why=endings.get(mounting.attempt_of_id) if mounting.attempt_of_id else None,
        )
        for mounting in mountings
    ]


def _endings(mountings: set[UUID]) -> dict[UUID, Ending]:
    """By mounting: the sign-off, or the decision that closed it; one query."""
    rows = Entry.objects.filter(subject__in=mountings, kind__in=("signature", "decision"))
    found: dict[UUID, Ending] = {}
    for subject, payload in rows.order_by("leaf__index").values_list("subject", "payload"):
        content = parse_canonical(bytes(payload))
        said = content["body"]["said"]
        at = told_at(content)
        if said.get("meaning") == "inspected":
            found[subject] = Ending("inspected", at)
        elif content["body"]["seen"].get("closes"):
            found[subject] = Ending(content["body"]["seen"]["closes"], at, content["reason"] or "")
    return found
