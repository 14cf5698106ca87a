"""From an act to an entry: the one place where an envelope is filled in."""

import uuid
from collections.abc import Mapping, Sequence
from typing import Any

from qrecords.ledger.append import append
from qrecords.ledger.envelope import APP_VERSION, Envelope, File, Pseudonym, RegisterObject, Versions
from qrecords.ledger.models import Entry
from qrecords.people import queries
from qrecords.people.acting import Acting
from qrecords.people.models import Person


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
    files: Sequence[File] = (),
    prev: uuid.UUID | None = None,
    reason: str | None = None,
    schema: str | None = None,
    procedure: str | None = None,
    tables: str | None = None,
) -> Entry:
    """Append what one person states. `about` names a register object; `mounting` a mounting.

    `said` is what the person stated, `seen` what the server froze beside it. Raises the ledger's
    DifferentContentError when the id was used before for something else.
    """
    author = _pseudonym(acting.author, acting)
    return append(
        Envelope(
            kind=kind,
            id=id,
            site=site,
            versions=Versions(APP_VERSION, schema, procedure, tables),
            mounting=mounting,
            object=RegisterObject(*about) if about else None,
            author=author,
            sender=_pseudonym(acting.sender, acting) if acting.sender else author,
            device=acting.device,
            counter=acting.counter,
            identity=acting.identity,
            at_device=acting.act_time,
            at_server=acting.now,
            zone=acting.zone,
            said=said,
            seen=seen or {},
            files=tuple(files),
            prev=prev,
            reason=reason,
            known=acting.known,
        )
    )


def _pseudonym(person: Person, acting: Acting) -> Pseudonym:
    return Pseudonym(person.id, queries.version_at(person.id, acting.now).hash)
