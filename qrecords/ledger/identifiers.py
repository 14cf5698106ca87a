"""New identifiers from this machine's clock and random source."""

import secrets
import time
from uuid import UUID

from qrecords.proof import identifiers


def new_id() -> UUID:
    """A fresh UUID version 7."""
    return identifiers.new_id(time.time_ns() // 1_000_000, secrets.token_bytes(identifiers.RANDOM_BYTES))
