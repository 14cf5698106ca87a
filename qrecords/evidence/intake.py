"""From a stream of bytes to a kept original: hash while writing, examine, move into place.

All of it happens before the transaction that records the arrival, in the order hash, store, commit: a row
never names a file that is not there. An original whose transaction failed stays under its digest, where the
next attempt finds it; it is not deleted by a machine, since a restored older database may name it again.
"""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from qrecords.evidence import storage
from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.examine import Photo, examine

MAX_BYTES = 25_000_000


@dataclass(frozen=True)
class TakenIn:
    """An original that is on disk, and what it says of itself."""

    sha256: str
    size: int
    photo: Photo


def take_in(chunks: Iterable[bytes], *, expected_sha256: str | None = None) -> TakenIn:
    """Keep a photograph and return its digest, size and facts. The same bytes twice are kept once.

    chunks: the bytes in order, read only as far as the 25 MB bound. expected_sha256: what the sender
    announced; other bytes are refused. Raises FileRefusedError.
    """
    digest = hashlib.sha256()
    size = 0
    with storage.arriving() as file:
        for chunk in chunks:
            size += len(chunk)
            if size > MAX_BYTES:
                raise FileRefusedError("too-large", limit_bytes=MAX_BYTES)
            digest.update(chunk)
            file.write(chunk)
        sha256 = digest.hexdigest()
        if size == 0:
            raise FileRefusedError("empty", size_bytes=0)
        if expected_sha256 is not None and sha256 != expected_sha256:
            raise FileRefusedError("digest-differs", expected=expected_sha256, found=sha256)
        photo = examine(Path(file.name))
        place = storage.original(sha256)
        if not place.exists():
            storage.keep(file, place)
    return TakenIn(sha256, size, photo)
