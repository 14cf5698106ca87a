"""Photos and heating logs: announced by an entry, received by another; in whatever order they come."""

import uuid

from qrecords.evidence import actions as evidence
from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.intake import TakenIn
from qrecords.ledger.append import atomic
from qrecords.ledger.envelope import File
from qrecords.ledger.errors import NotRecordedError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import NeedsReasonError
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of, receipt_of
from qrecords.mountings.stating import Statement
from qrecords.outbox.jobs import enqueue
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.steps.acts import LOG_SHOT, LogSaid
from qrecords.steps.papers import PAPERS
from qrecords.workshop.errors import RegisterFieldError


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
    announced = Statement(
        acting=acting,
        mounting=locked,
        kind="attachment",
        id=entry_id,
        said={"shot": shot, "from": "camera" if camera else "gallery"},
        files=(File(sha256, size, media, shot),),
    )
    entry = announced.file()
    judge(locked)
    return entry


@atomic()
def hand_in_log(
    *,
    acting: Acting,
    mounting: Mounting,
    entry_id: uuid.UUID,
    sha256: str,
    size: int,
    media: str,
    said: LogSaid,
    instead_of: uuid.UUID | None = None,
    reason: str = "",
) -> Entry:
    """Say that the heater wrote a log: which bytes, and what its text cannot say. Until it is received it is
    waited for, no error. `instead_of` names the log that it takes the place of: NotRecordedError where that
    is none of this mounting, NeedsReasonError without a reason."""
    require(acting, Action.ATTACH, mounting.site)
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    if instead_of is not None:
        if str(instead_of) not in {file.entry for file in case_of(locked).log_files}:
            raise NotRecordedError(instead_of)
        if not reason.strip():
            raise NeedsReasonError((LOG_SHOT,), str(instead_of))
    handed = Statement(
        acting=acting,
        mounting=locked,
        kind="attachment",
        id=entry_id,
        said={"shot": LOG_SHOT, "from": "file", "log": said.document()},
        files=(File(sha256, size, media, LOG_SHOT),),
        prev=instead_of,
        reason=reason.strip() or None,
    )
    entry = handed.file()
    judge(locked)
    return entry


@atomic()
def hand_in_paper(
    *, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, kind: str, sha256: str, size: int, media: str
) -> Entry:
    """Say that a paper is here that decisions rest on: which kind, which bytes."""
    require(acting, Action.ATTACH, mounting.site)
    if kind not in PAPERS:
        raise RegisterFieldError("paper", kind, ", ".join(PAPERS))
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    handed = Statement(
        acting=acting,
        mounting=locked,
        kind="attachment",
        id=entry_id,
        said={"shot": kind, "from": "file"},
        files=(File(sha256, size, media, kind),),
    )
    entry = handed.file()
    judge(locked)
    return entry


@atomic()
def receive_file(*, acting: Acting, mounting: Mounting, taken: TakenIn) -> tuple[Entry, bool]:
    """The last byte has come: keep the row, say so in the ledger, judge, and have the small pictures made.

    The entry, and whether it is new: False if this mounting had the file already.
    """
    require(acting, Action.ATTACH, mounting.site)
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    evidence.receive(taken=taken, mounting=locked.id, sender=acting.author.id, at=acting.now)
    known = receipt_of(locked.id, taken.sha256)
    if known is not None:
        return known, False
    said = {"sha256": taken.sha256}
    received = Statement(acting=acting, mounting=locked, kind="file received", id=new_id(), said=said)
    photo = taken.photo
    seen = {"taken_at": photo.taken_at or "", "camera": photo.camera or ""}
    entry = received.file({"size": taken.size, "media": photo.media, **seen})
    if taken.is_picture:
        enqueue("derive", sha256=taken.sha256)
    judge(locked)
    return entry, True


def refuse_file(*, acting: Acting, mounting: Mounting, sha256: str, error: FileRefusedError) -> None:
    """Keep that a file came and could not be read. The entry that announced it stays."""
    require(acting, Action.ATTACH, mounting.site)
    evidence.refuse(sha256=sha256, error=error, mounting=mounting.id, sender=acting.author.id, at=acting.now)
