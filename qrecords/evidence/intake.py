"""From a stream of bytes to a kept original: hash while writing, examine, move into place.

All of it happens before the transaction that records the arrival, in the order hash, store, commit: a row
never names a file that is not there. An original whose transaction failed stays under its digest, where the
next attempt finds it; it is not deleted by a machine, since a restored older database may name it again.
"""

import hashlib
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from qrecords.evidence import papers, storage
from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.examine import Photo, examine
from qrecords.steps.errors import LogUnreadableError
from qrecords.steps.log_table import MOST_BYTES
from qrecords.steps.log_text import read_or_why

MAX_BYTES = 25_000_000
LOG_MEDIA = "text/csv"  # RFC 4180's type: text from which samples can be read


@dataclass(frozen=True)
class TakenIn:
    """An original that is on disk, and what it says of itself; of a log only what it is, as `photo.media`."""

    sha256: str
    size: int
    photo: Photo

    @property
    def is_picture(self) -> bool:
        return self.photo.width_px > 0


def take_in(chunks: Iterable[bytes], *, expected_sha256: str | None = None) -> TakenIn:
    """Keep a photograph and return its digest, size and facts. The same bytes twice are kept once.

    chunks: the bytes in order, read only as far as the 25 MB bound. expected_sha256: what the sender
    announced; other bytes are refused. Raises FileRefusedError.
    """
    return _take_in(chunks, expected_sha256, MAX_BYTES, examine)


def take_in_log(chunks: Iterable[bytes], *, expected_sha256: str | None = None) -> TakenIn:
    """Keep what was handed in as a heating log, up to 2 MB, whatever it is: what a heater wrote is a fact.
    Its media type says by its content whether samples can be read from it. Raises FileRefusedError."""
    return _take_in(chunks, expected_sha256, MOST_BYTES, _log)


def take_in_paper(chunks: Iterable[bytes], *, expected_sha256: str | None = None) -> TakenIn:
    """Keep a letter, a report or a certificate: a PDF or a photograph of the sheet, up to 10 MB. Raises
    FileRefusedError."""
    return _take_in(chunks, expected_sha256, papers.MOST_BYTES, papers.examine_paper)


def _log(path: Path) -> Photo:
    why = read_or_why(path.read_bytes())
    if not isinstance(why, LogUnreadableError):
        media = LOG_MEDIA
    else:
        media = "application/octet-stream" if why.reason == "not-text" else "text/plain"
    return Photo(media, 0, 0, None, None)


def _take_in(
    chunks: Iterable[bytes], expected_sha256: str | None, limit: int, look: Callable[[Path], Photo]
) -> TakenIn:
    digest = hashlib.sha256()
    size = 0
    with storage.arriving() as file:
        for chunk in chunks:
            size += len(chunk)
            if size > limit:
                raise FileRefusedError("too-large", limit_bytes=limit)
            digest.update(chunk)
            file.write(chunk)
        sha256 = digest.hexdigest()
        if size == 0:
            raise FileRefusedError("empty", size_bytes=0)
        if expected_sha256 is not None and sha256 != expected_sha256:
            raise FileRefusedError("digest-differs", expected=expected_sha256, found=sha256)
        photo = look(Path(file.name))
        place = storage.original(sha256)
        if not place.exists():
            storage.keep(file, place)
    return TakenIn(sha256, size, photo)
