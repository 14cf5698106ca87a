"""Photos: announced by an entry, received by another; in whatever order they come."""

import uuid

from qrecords.evidence import actions as evidence
from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.intake import TakenIn
from qrecords.ledger.append import atomic
from qrecords.ledger.envelope import File
from qrecords.ledger.models import Entry
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Mounting
from qrecords.outbox.jobs import enqueue
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.people.stating import state


@atomic()
def announce_file(
    *,
    acting: Acting,
    mounting: Mounting,
    entry_id: uuid.UUID,
    shot: str,
    sha256: str,
    size: int,
    media: str,
    camera: bool,
) -> Entry:
    """Say that a photo exists: which shot, which bytes. Until it is received it is a finding, no error."""
    require(acting, Action.ATTACH, mounting.site)
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    entry = state(
        acting,
        "attachment",
        id=entry_id,
        site=locked.site,
        mounting=locked.id,
        said={"shot": shot, "from": "camera" if camera else "gallery"},
        files=[File(sha256, size, media, shot)],
    )
    judge(locked)
    return entry


@atomic()
def receive_file(*, acting: Acting, mounting: Mounting, taken: TakenIn) -> Entry | None:
    """The last byte has come: keep the row, say so in the ledger, judge, and have the small pictures made.

    None if this mounting had it already.
    """
    require(acting, Action.ATTACH, mounting.site)
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    new = evidence.receive(taken=taken, mounting=locked.id, sender=acting.author.id, at=acting.now)
    if not new:
        return None
    entry = state(
        acting,
        "file received",
        id=uuid.uuid5(locked.id, taken.sha256),
        site=locked.site,
        mounting=locked.id,
        said={"sha256": taken.sha256, "size": taken.size, "media": taken.photo.media},
        seen={"taken_at": taken.photo.taken_at or "", "camera": taken.photo.camera or ""},
    )
    enqueue("derive", sha256=taken.sha256)
    judge(locked)
    return entry


def refuse_file(*, acting: Acting, mounting: Mounting, sha256: str, error: FileRefusedError) -> None:
    """Keep that a file came and could not be read. The entry that announced it stays."""
    require(acting, Action.ATTACH, mounting.site)
    evidence.refuse(sha256=sha256, error=error, mounting=mounting.id, sender=acting.author.id, at=acting.now)
