"""Envelope version 1: what surrounds every statement, complete from the first entry on.

`said` is what the person stated; `seen` is what the server froze beside it. Two envelopes are the same
statement when what came from the person agrees: times, counters and versions may differ in a replay.
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import UTC, datetime
from typing import Any, Literal
from unicodedata import normalize
from uuid import UUID

from qrecords.ledger.errors import EnvelopeError
from qrecords.proof.canonical import canonical_bytes

VERSION = 1
APP_VERSION = "0.1.0"
Identity = Literal["session", "pin", "proved"]
"""How strongly the sender was known: signed in, by a PIN on a shared device, or proved again for this act."""


@dataclass(frozen=True)
class Pseudonym:
    """A person without a name: the identifier, and the salted hash of the personal data as it stood."""

    person: UUID
    hash: str


@dataclass(frozen=True)
class RegisterObject:
    """The gauge, heater, person, procedure … that an entry of a register speaks of."""

    type: str
    id: UUID


@dataclass(frozen=True)
class File:
    """A file by its content: SHA-256 in hex, length in bytes, media type, and the shot it was taken for."""

    sha256: str
    size: int
    media: str
    shot: str | None = None


@dataclass(frozen=True)
class Known:
    """The newest leaf the sender had seen: index and hash in hex."""

    index: int
    hash: str


@dataclass(frozen=True)
class Versions:
    """What was in force: the program, the schema of the step, the procedure (hash), the tables (digest)."""

    app: str
    schema: str | None = None
    procedure: str | None = None
    tables: str | None = None


@dataclass(frozen=True, kw_only=True)
class Envelope:
    """One entry before it is filed. Either `mounting` or `object` is given; author and sender are missing
    only where the installation itself speaks. `at_server` is set when the entry is appended."""

    kind: str
    id: UUID
    site: UUID
    versions: Versions
    mounting: UUID | None = None
    object: RegisterObject | None = None
    author: Pseudonym | None = None
    sender: Pseudonym | None = None
    device: str | None = None
    counter: int | None = None
    identity: Identity | None = "session"
    at_device: datetime | None = None
    at_server: datetime | None = None
    zone: str = "UTC"
    said: Mapping[str, Any] = field(default_factory=dict)
    seen: Mapping[str, Any] = field(default_factory=dict)
    files: tuple[File, ...] = ()
    prev: UUID | None = None
    reason: str | None = None
    known: Known | None = None

    def subject(self) -> UUID:
        """What the entry is about: the mounting, else the register object."""
        if self.mounting is not None:
            return self.mounting
        if self.object is None:
            raise EnvelopeError(f"entry {self.id} names neither a mounting nor a register object")
        return self.object.id

    def content(self) -> dict[str, Any]:
        """The envelope as the value whose canonical bytes are the payload."""
        plain = asdict(self)
        body = {"said": plain.pop("said"), "seen": plain.pop("seen")}
        content: dict[str, Any] = as_filed({**plain, "v": VERSION, "body": body})
        return content

    def payload(self) -> bytes:
        """The bytes that are stored and hashed; `CanonicalError` for a value that has no canonical form."""
        return canonical_bytes(self.content())


def same_statement(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether two contents say the same thing of the same person, whenever and by whomever they were sent."""
    return _statement(one) == _statement(other)


def instant(moment: datetime) -> str:
    """UTC to the millisecond, as every payload writes it: 2026-03-04T05:06:07.089Z."""
    if moment.tzinfo is None:
        raise EnvelopeError(f"{moment} has no zone")
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.") + f"{moment.microsecond // 1000:03d}Z"


def _statement(content: Mapping[str, Any]) -> dict[str, Any]:
    author = content["author"]
    return {
        **{key: content[key] for key in ("kind", "site", "mounting", "object", "files", "prev", "reason")},
        # The hash of a person's data changes when the data do; the person stays the same.
        "author": author and author["person"],
        "said": content["body"]["said"],
    }


def as_filed(value: object) -> Any:
    """A value as payloads hold it: instants and identifiers as text, text in normal form C."""
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, datetime):
        return instant(value)
    if isinstance(value, UUID):
        return str(value)
    if isinstance(value, Mapping):
        return {key: as_filed(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [as_filed(item) for item in value]
    return value


def _text(value: str) -> str:
    """Normal form C; half a surrogate pair becomes U+FFFD, for the rest is still a fact."""
    if value.isascii():
        return value
    return normalize("NFC", value.encode("utf-16", "surrogatepass").decode("utf-16", "replace"))
