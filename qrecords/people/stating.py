"""From an act to an entry: the one place where an envelope is filled in."""

import uuid
from collections.abc import Mapping, Sequence
from typing import Any

from qrecords.ledger.append import append
from qrecords.ledger.envelope import Envelope, File, Known, Pseudonym, RegisterObject, Versions
from qrecords.ledger.models import Entry
from qrecords.people import queries
from qrecords.people.acting import Acting
from qrecords.people.models import Person

APP_VERSION = "0.1.0"


def state(
    acting: Acting,
    kind: str,
    *,
    id: uuid.UUID,
    site: uuid.UUID,
    said: Mapping[str, Any],
    seen: Mapping[str, Any] | None = None,
    mounting: uuid.UUID | None = None,
    about: tuple[str, uuid.UUID] | None = None,
    files: Sequence[Mapping[str, Any]] = (),
    prev: uuid.UUID | None = None,
    reason: str | None = None,
    versions: Mapping[str, str] | None = None,
) -> Entry:
    """Append what one person states. `about` names a register object; `mounting` a mounting.

    `said` is what the person stated, `seen` what the server froze beside it. Raises the ledger's
    DifferentContentError when the id was used before for something else.
    """
    sender = acting.sender or acting.author
    envelope = Envelope(
        kind=kind,
        id=id,
        site=site,
        mounting=mounting,
        object=RegisterObject(*about) if about else None,
        author=_pseudonym(acting.author, acting),
        sender=_pseudonym(sender, acting),
        device=acting.device,
        counter=acting.counter,
        identity=acting.identity,
        at_device=acting.act_time,
        at_server=acting.now,
        zone=acting.zone,
        versions=Versions(**{"app": APP_VERSION, **(versions or {})}),
        said=said,
        seen=seen or {},
        files=tuple(File(**file) for file in files),
        prev=prev,
        reason=reason,
        known=Known(**acting.known) if acting.known else None,
    )
    return append(envelope)


def _pseudonym(person: Person, acting: Acting) -> Pseudonym:
    stamp = queries.stamp(person, acting.now)
    return Pseudonym(uuid.UUID(stamp["person"]), stamp["hash"])
