"""From an act to an entry: the one place where an envelope is filled in."""

import uuid
from collections.abc import Mapping, Sequence
from typing import Any, Required, TypedDict, Unpack

from qrecords.ledger.append import append, stored_before
from qrecords.ledger.envelope import APP_VERSION, Envelope, File, Pseudonym, RegisterObject, Versions
from qrecords.ledger.models import Entry
from qrecords.people import queries
from qrecords.people.acting import Acting
from qrecords.people.models import Person


class Told(TypedDict, total=False):
    """What is told beside who acts. `about` names a register object; `mounting` a mounting. `said` is what
    the person stated, `seen` what the server froze or worked out beside it; only the first binds a replay."""

    id: Required[uuid.UUID]
    site: Required[uuid.UUID]
    said: Required[Mapping[str, Any]]
    seen: Mapping[str, Any]
    mounting: uuid.UUID | None
    about: tuple[str, uuid.UUID]
    files: Sequence[File]
    prev: uuid.UUID | None
    reason: str | None
    schema: str | None
    procedure: str | None
    tables: str | None


def state(acting: Acting, kind: str, **told: Unpack[Told]) -> Entry:
    """Append what one person states. Raises the ledger's DifferentContentError when the id was used before
    for something else; the same statement sent again returns what is stored."""
    return append(_envelope(acting, kind, told))


def stated_before(acting: Acting, kind: str, **told: Unpack[Told]) -> Entry | None:
    """The entry of an act that was already done under this id: its precondition has changed since. What was
    said under it of another mounting, by another or otherwise is refused (DifferentContentError)."""
    return stored_before(_envelope(acting, kind, told))


def _envelope(acting: Acting, kind: str, told: Told) -> Envelope:
    author = _pseudonym(acting.author, acting)
    about = told.get("about")
    versions = (told.get("schema"), told.get("procedure"), told.get("tables"))
    return Envelope(
        kind=kind,
        id=told["id"],
        site=told["site"],
        versions=Versions(APP_VERSION, *versions),
        mounting=told.get("mounting"),
        object=RegisterObject(*about) if about else None,
        author=author,
        sender=_pseudonym(acting.sender, acting) if acting.sender else author,
        device=acting.device,
        counter=acting.counter,
        identity=acting.identity,
        at_device=acting.at_device,
        at_server=acting.now,
        zone=acting.zone,
        said=told["said"],
        seen=told.get("seen", {}),
        files=tuple(told.get("files", ())),
        prev=told.get("prev"),
        reason=told.get("reason"),
        known=acting.known,
    )


def _pseudonym(person: Person, acting: Acting) -> Pseudonym:
    return Pseudonym(person.id, queries.version_at(person.id, acting.now).hash)
