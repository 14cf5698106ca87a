"""Where files lie: one folder, keys made only of digests.

    originals/ab/<sha256>                    as sent, never written again, never served inline
    derived/<recipe>/ab/<sha256>-1600.jpg    can be made again at any time
    tmp/                                     what is still arriving; left-overs are swept

A file is moved into place only when it is whole and on disk, so a key either has its content or nothing.
"""

import os
import re
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import BinaryIO, cast

from django.conf import settings

_DIGEST = re.compile(r"[0-9a-f]{64}")
_LEFT_OVER_AFTER_S = 24 * 3600


def original(sha256: str) -> Path:
    """The place of an original."""
    return _root() / "originals" / _checked(sha256)[:2] / sha256


def derived(sha256: str, edge_px: int, recipe: int) -> Path:
    """The place of the derivative whose longer edge is `edge_px`, made by that version of the recipe."""
    return _root() / "derived" / str(recipe) / _checked(sha256)[:2] / f"{sha256}-{edge_px}.jpg"


@contextmanager
def arriving() -> Iterator[BinaryIO]:
    """A named, unbuffered file in `tmp` to write to. It is gone afterwards unless `keep` has moved it."""
    folder = _root() / "tmp"
    folder.mkdir(parents=True, exist_ok=True)
    _sweep(folder)
    with tempfile.NamedTemporaryFile(dir=folder, prefix="arriving-", delete=False, buffering=0) as file:
        try:
            yield cast(BinaryIO, file)
        finally:
            Path(file.name).unlink(missing_ok=True)


def keep(file: BinaryIO, place: Path, *, can_be_made_again: bool = False) -> None:
    """Move an arrived file to its place: its bytes on disk first, then visible, then the folders on disk.

    What can be made again may vanish in a power cut, but never be there without its bytes.
    """
    os.fsync(file.fileno())
    place.parent.mkdir(parents=True, exist_ok=True)
    Path(file.name).chmod(0o440)
    Path(file.name).replace(place)
    if not can_be_made_again:
        for folder in (place.parent, place.parent.parent):
            descriptor = os.open(folder, os.O_RDONLY)
            try:
                os.fsync(descriptor)
            finally:
                os.close(descriptor)


def _sweep(folder: Path) -> None:
    for left_over in folder.glob("arriving-*"):
        with suppress(FileNotFoundError):  # another process sweeps too
            if left_over.stat().st_mtime < time.time() - _LEFT_OVER_AFTER_S:
                left_over.unlink()


def _root() -> Path:
    return Path(settings.EVIDENCE_DIR)


def _checked(sha256: str) -> str:
    if not _DIGEST.fullmatch(sha256):
        raise ValueError(f"not a SHA-256 in lower-case hexadecimal: {sha256!r}")
    return sha256
