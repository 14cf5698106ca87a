"""Identifiers that their creator makes alone and that sort by time: UUID version 7, RFC 9562 section 5.7."""

from hashlib import sha256
from uuid import RFC_4122, UUID

from qrecords.proof.errors import IdentifierError

RANDOM_BYTES = 10
VERSION = 7
TIME_BITS = 80
"""How many bits stand below the time."""


def new_id(now_ms: int, randomness: bytes) -> UUID:
    """The identifier for a moment in milliseconds since 1970 and ten random bytes, 74 bits of which count."""
    if not 0 <= now_ms < 1 << 48:
        raise ValueError(f"{now_ms} ms does not fit into 48 bits")
    if len(randomness) != RANDOM_BYTES:
        raise ValueError(f"{RANDOM_BYTES} random bytes are needed, not {len(randomness)}")
    bits = int.from_bytes(randomness)
    high, low = bits >> 62 & 0xFFF, bits & (1 << 62) - 1
    return UUID(int=now_ms << TIME_BITS | VERSION << 76 | high << 64 | 0b10 << 62 | low)


def checked(id: UUID) -> UUID:
    """The identifier itself; `IdentifierError` for any other version than 7, which would not sort by time."""
    if id.version != VERSION or id.variant != RFC_4122:
        raise IdentifierError(id)
    return id


def following(id: UUID, name: str) -> UUID:
    """The identifier of what one form says besides its first entry: of the same moment, the rest from
    SHA-256 over the form's own identifier and a name. So a form sent twice says the same entries twice, and
    who does not know its random bits can not occupy them."""
    digest = sha256(checked(id).bytes + name.encode()).digest()
    return new_id(id.int >> TIME_BITS, digest[:RANDOM_BYTES])
