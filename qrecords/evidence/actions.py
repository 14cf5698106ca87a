"""The only writers of file rows. Call them inside the transaction that appends the receipt entry."""

from datetime import datetime
from uuid import UUID

from qrecords.evidence import storage
from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.intake import TakenIn
from qrecords.evidence.models import Arrival, StoredFile


def receive(*, taken: TakenIn, mounting: UUID, sender: UUID, at: datetime) -> bool:
    """Record that a kept original has arrived for a mounting. True the first time, False for a repeat.

    A file that had been refused for this mounting and is now accepted (the rules grew wider) counts as new.
    """
    if not storage.original(taken.sha256).exists():
        raise FileNotFoundError(f"no original for {taken.sha256}: take_in comes first")
    photo = taken.photo
    StoredFile.objects.get_or_create(
        sha256=taken.sha256,
        defaults={
            "size": taken.size,
            "media": photo.media,
            "width_px": photo.width_px,
            "height_px": photo.height_px,
            "taken_at": photo.taken_at,
            "camera": photo.camera,
        },
    )
    received = {"state": Arrival.State.RECEIVED, "sender": sender, "at": at, "refusal": "", "facts": {}}
    arrival, new = Arrival.objects.get_or_create(sha256=taken.sha256, mounting=mounting, defaults=received)
    if new or arrival.state == Arrival.State.RECEIVED:
        return new
    return bool(Arrival.objects.filter(pk=arrival.pk).update(**received))


def refuse(*, sha256: str, error: FileRefusedError, mounting: UUID, sender: UUID, at: datetime) -> bool:
    """Record that a file announced for a mounting came and was refused. A received one stays received."""
    _, new = Arrival.objects.get_or_create(
        sha256=sha256,
        mounting=mounting,
        defaults={
            "state": Arrival.State.REFUSED,
            "sender": sender,
            "at": at,
            "refusal": error.code,
            "facts": error.facts,
        },
    )
    return new
