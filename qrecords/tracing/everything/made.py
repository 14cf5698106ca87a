"""An export as a folder, which a second run goes on with, or as one zip file in a stream."""

import hashlib
import os
import zipfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import IO, cast
from uuid import UUID

from qrecords.tracing.everything.cells import lines
from qrecords.tracing.everything.parts import CHUNK_BYTES, Part, missing_originals, parts

SUMS, COUNTS, NOT_HERE = "SHA256SUMS", "counts.csv", "not-here.csv"


@dataclass
class Tally:
    """What was written so far: the digest of every file, and the lines of those that have lines."""

    sums: dict[str, str] = field(default_factory=dict)
    counts: dict[str, int] = field(default_factory=dict)
    missing: int = 0
    kept: int = 0
    """Files of an earlier run that were whole."""

    def through(self, part: Part, chunks: Iterator[bytes]) -> Iterator[bytes]:
        """The same bytes, counted and digested on their way."""
        digest, rows, listed = hashlib.sha256(), 0, part.name.endswith(".jsonl")
        for chunk in chunks:
            digest.update(chunk)
            # A row of a table is one chunk, and may hold a line break; an entry is one line, and holds none.
            rows += chunk.count(b"\n") if listed else 1
            yield chunk
        self.sums[part.name] = digest.hexdigest()
        if part.packed and part.name.endswith((".csv", ".jsonl")):
            self.counts[part.name] = rows if listed else rows - 1


def _closing(tally: Tally, sites: Sequence[UUID] | None) -> Iterator[Part]:
    """What is said of all the others, in the order in which it can be said."""

    def not_here() -> Iterator[bytes]:
        yield b"\xef\xbb\xbfsha256\r\n"
        for sha256 in missing_originals(sites):
            tally.missing += 1
            yield f"{sha256}\r\n".encode()

    def counts() -> Iterator[bytes]:
        rows = [["file", "rows"], *([name, str(n)] for name, n in sorted(tally.counts.items()))]
        yield from (line.encode() for line in lines(rows))

    def sums() -> Iterator[bytes]:
        yield from (f"{digest}  {name}\n".encode() for name, digest in sorted(tally.sums.items()))

    yield Part(NOT_HERE, not_here)
    yield Part(COUNTS, counts)
    yield Part(SUMS, sums)


def write_folder(folder: Path, sites: Sequence[UUID] | None) -> Tally:
    """Write every file; what an earlier run has finished and cannot have become another is read again for its
    digest and not written. The checksums come last: where they are, everything is there."""
    tally = Tally()
    (folder / SUMS).unlink(missing_ok=True)
    for source in (parts(sites), _closing(tally, sites)):
        for part in source:
            place = folder / part.name
            if part.fixed and place.exists():
                tally.kept += 1
                for _ in tally.through(part, _read(place)):
                    pass
            else:
                _write(place, tally.through(part, part.chunks()))
    return tally


def _read(place: Path) -> Iterator[bytes]:
    with place.open("rb") as file:
        while chunk := file.read(CHUNK_BYTES):
            yield chunk


def _write(place: Path, chunks: Iterator[bytes]) -> None:
    """Under another name until it is whole and on disk."""
    place.parent.mkdir(parents=True, exist_ok=True)
    arriving = place.with_name(f"{place.name}.part")
    with arriving.open("wb") as file:
        for chunk in chunks:
            file.write(chunk)
        file.flush()
        os.fsync(file.fileno())
    arriving.replace(place)


class _Outlet:
    """What the zip writer writes into: handed on after every chunk, never held."""

    def __init__(self) -> None:
        self.waiting: list[bytes] = []

    def write(self, data: bytes) -> int:
        self.waiting.append(bytes(data))
        return len(data)

    def flush(self) -> None:
        """Nothing is held back."""

    def taken(self) -> bytes:
        data, self.waiting = b"".join(self.waiting), []
        return data


def zipped(sites: Sequence[UUID] | None, top: str) -> Iterator[bytes]:
    """The same files in one zip under one folder, as a stream."""
    outlet, tally = _Outlet(), Tally()
    with zipfile.ZipFile(cast(IO[bytes], outlet), "w", allowZip64=True) as archive:
        for source in (parts(sites), _closing(tally, sites)):
            for part in source:
                yield from _packed(archive, outlet, top, part, tally)
    yield outlet.taken()


def _packed(archive: zipfile.ZipFile, outlet: _Outlet, top: str, part: Part, tally: Tally) -> Iterator[bytes]:
    info = zipfile.ZipInfo(f"{top}/{part.name}")
    info.compress_type = zipfile.ZIP_DEFLATED if part.packed else zipfile.ZIP_STORED
    with archive.open(info, "w", force_zip64=True) as file:
        for chunk in tally.through(part, part.chunks()):
            file.write(chunk)
            if data := outlet.taken():
                yield data
    yield outlet.taken()
