"""The darkroom: the photographs of the demonstration are drawn beside the work, on the free cores."""

import multiprocessing
import os
from collections.abc import Callable, Iterable
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import dataclass
from datetime import datetime
from types import TracebackType
from typing import Self

from qrecords.demo import photos

_SPARE = max(1, (os.cpu_count() or 1) - 1)
"""Every core but the one that writes the records."""


@dataclass(frozen=True)
class Drawing:
    """One photograph to be drawn: the function of `photos`, what it is given, and when it was taken."""

    kind: str
    taken_at: datetime
    given: tuple[tuple[str, str | int | bool], ...]

    @property
    def claim(self) -> "Claim":
        """What the picture shows, and the zone of the camera's clock: all but the moment."""
        return self.kind, self.given, self.taken_at.strftime("%z")


Claim = tuple[str, tuple[tuple[str, str | int | bool], ...], str]


def drawing(kind: str, taken_at: datetime, **given: str | int | bool) -> Drawing:
    return Drawing(kind, taken_at, tuple(given.items()))


def draw(wanted: Drawing) -> bytes:
    """The bytes of the JPEG."""
    by_name: Callable[..., bytes] = getattr(photos, wanted.kind)
    return by_name(**dict(wanted.given), taken_at=wanted.taken_at)


class Darkroom:
    """Draws what is expected, in that order, while the records are being written."""

    def __init__(self) -> None:
        # A fresh interpreter a process: a fork would carry the open database into the drawing ones.
        self._pool = ProcessPoolExecutor(_SPARE, multiprocessing.get_context("spawn"))
        self._begun: dict[Claim, tuple[datetime, Future[bytes]]] = {}

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._pool.shutdown(cancel_futures=True)

    def expect(self, wanted: Iterable[Drawing]) -> None:
        for each in wanted:
            if each.claim not in self._begun:
                self._begun[each.claim] = each.taken_at, self._pool.submit(draw, each)

    def develop(self, wanted: Drawing) -> bytes:
        """The photograph, as soon as it is drawn. The same claim is drawn to the same picture whenever it was
        taken: it is drawn once, and only the time that its camera wrote differs."""
        self.expect([wanted])
        taken_at, drawn = self._begun[wanted.claim]
        return drawn.result().replace(_stamp(taken_at), _stamp(wanted.taken_at))


def _stamp(at: datetime) -> bytes:
    """The moment as a camera writes it into its file (EXIF 36867)."""
    return at.strftime("%Y:%m:%d %H:%M:%S").encode()
