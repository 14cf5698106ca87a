"""Identifiers that their creator makes alone and that sort by time: UUID version 7, RFC 9562 section 5.7."""

from uuid import UUID

RANDOM_BYTES = 10


def new_id(now_ms: int, randomness: bytes) -> UUID:
    """The identifier for a moment in milliseconds since 1970 and ten random bytes, 74 bits of which count."""
    if not 0 <= now_ms < 1 << 48:
        raise ValueError(f"{now_ms} ms does not fit into 48 bits")
    if len(randomness) != RANDOM_BYTES:
        raise ValueError(f"{RANDOM_BYTES} random bytes are needed, not {len(randomness)}")
    bits = int.from_bytes(randomness)
    high, low = bits >> 62 & 0xFFF, bits & (1 << 62) - 1
    return UUID(int=now_ms << 80 | 0x7 << 76 | high << 64 | 0b10 << 62 | low)
