"""What others may ask about files. Whoever asks has already been found to belong to the mounting."""

from dataclasses import dataclass
from pathlib import Path
from uuid import UUID

from django.db.models import QuerySet

from qrecords.evidence import derivatives, storage
from qrecords.evidence.models import Arrival, StoredFile


@dataclass(frozen=True)
class Held:
    """A file to serve. An original goes out as an attachment only, a derivative may be shown."""

    path: Path
    media: str
    attachment: bool


def is_here(sha256: str, *, mounting: UUID) -> bool:
    """Whether this very mounting has received the file; what other mountings hold is not told."""
    return _received(mounting).filter(sha256=sha256).exists()


def picture(sha256: str, *, mounting: UUID, edge_px: int) -> Held | None:
    """The derivative of 1600 or 320 px. None: not of this mounting, or not made yet."""
    if edge_px not in derivatives.EDGES_PX or not is_here(sha256, mounting=mounting):
        return None
    path = derivatives.path_of(sha256, edge_px)
    return Held(path, "image/jpeg", attachment=False) if path else None


def original(sha256: str, *, mounting: UUID) -> Held | None:
    """The untouched file of this mounting, or None."""
    if not is_here(sha256, mounting=mounting):
        return None
    media = StoredFile.objects.values_list("media", flat=True).get(sha256=sha256)
    return Held(storage.original(sha256), media, attachment=True)


def content(sha256: str) -> bytes | None:
    """The bytes of an original as sent; None where the file is not in its place. For what the record itself
    works out; never an answer to a sender."""
    try:
        return storage.original(sha256).read_bytes()
    except FileNotFoundError:
        return None


def of_mounting(mounting: UUID) -> dict[str, StoredFile]:
    """All files received for a mounting by digest, in the order of their arrival."""
    digests = list(_received(mounting).order_by("at", "pk").values_list("sha256", flat=True))
    files = StoredFile.objects.in_bulk(digests)
    return {sha256: files[sha256] for sha256 in digests}


def refused(mounting: UUID) -> list[Arrival]:
    """The files that came for a mounting and were not kept, with code and facts."""
    return list(Arrival.objects.filter(mounting=mounting, state=Arrival.State.REFUSED).order_by("at", "pk"))


def seen_elsewhere(mounting: UUID) -> dict[str, list[UUID]]:
    """Of a mounting's files those that also came for others, and for which: the same photo used twice.

    For the rules of a case only; never an answer to a sender.
    """
    mine = _received(mounting).values("sha256")
    others = Arrival.objects.filter(state=Arrival.State.RECEIVED, sha256__in=mine).exclude(mounting=mounting)
    found: dict[str, list[UUID]] = {}
    for sha256, other in others.order_by("at", "pk").values_list("sha256", "mounting"):
        found.setdefault(sha256, []).append(other)
    return found


def _received(mounting: UUID) -> QuerySet[Arrival]:
    return Arrival.objects.filter(mounting=mounting, state=Arrival.State.RECEIVED)
