"""What people did to a record beside answering: taps, files, releases, decisions, signatures and the rest."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from qrecords.steps.paper import Paper


@dataclass(frozen=True)
class Tap:
    what: str
    at: datetime
    entry: str
    author: str
    relies_on: str = ""
    """Leaf hash, or one-time code, of the release that *heater on* names."""
    code: str = ""
    received: datetime | None = None
    """The server's time: what an undo is bounded by, for a device chooses its own."""
    paper: Paper | None = None


@dataclass(frozen=True)
class Release:
    hold: str
    entry: str
    leaf: str
    at: datetime
    author: str
    captures: frozenset[str]
    means: str
    code: str
    """Readings code read out by telephone; empty otherwise."""
    lowest_nm: int | None
    highest_nm: int | None
    index: int
    reduced: str = ""
    """Why it was given with reduced independence; '' where it was not."""


@dataclass(frozen=True)
class Decision:
    kind: str
    digests: frozenset[str]
    reason: str
    conditions: str
    entry: str
    author: str
    at: datetime
    closes: str
    expires: date | None = None
    """The last day on which an acceptance holds; None as long as the mounting stands."""
    letter: str = ""
    """SHA-256 of the letter by which the customer agreed."""
    states: tuple[str, ...] = ()
    rows: tuple[str, ...] = ()
    """The rows of the table of findings and decisions that it was taken by; none in an older entry."""

    def expired(self, day: date) -> bool:
        return self.expires is not None and day > self.expires


@dataclass(frozen=True)
class Photo:
    shot: str
    sha256: str
    entry: str
    author: str
    at: datetime
    camera: bool
    received: bool
    after_signature: bool
    taken: datetime | None = None
    """By the camera's own clock, where the file tells it with its zone."""


LOG_SHOT = "heating log"
"""The shot of an attachment that is a heater's own log."""


@dataclass(frozen=True)
class LogSaid:
    """What a person said of a log because its text cannot: which ring each column is (ring → its place in the
    file, counted from 1), the unit, what became of the probe, and which heating it is of, counted from 1 (0:
    the one under way when it was handed in)."""

    columns: Mapping[str, int]
    unit: str = ""
    probe: str = ""
    heating: int = 0

    def document(self) -> dict[str, Any]:
        """As an attachment states it: what was not said is left out."""
        said = {
            "columns": dict(self.columns),
            "unit": self.unit,
            "probe": self.probe,
            "heating": self.heating,
        }
        return {key: value for key, value in said.items() if value}


@dataclass(frozen=True)
class LogFile:
    """A heating log handed in. `replaced`: another one was handed in for it, with a reason."""

    sha256: str
    entry: str
    author: str
    at: datetime
    said: LogSaid
    received: bool
    after_signature: bool
    replaced: bool = False
    shot: str = LOG_SHOT


@dataclass(frozen=True)
class Signature:
    meaning: str
    entry: str
    author: str
    hash: str
    at: datetime
    index: int
    said: Mapping[str, Any]
    reduced: str = ""
    """Why it was given with reduced independence; '' where it was not."""
    review_by: str = ""
    """The day by which somebody independent looks again at what was given so."""


@dataclass(frozen=True)
class PartUsed:
    """A spacer, nut or grease that went in, as the register had it then."""

    entry: str
    author: str
    at: datetime
    part: str
    place: str
    kind: str
    name: str
    lot: str


@dataclass(frozen=True)
class Review:
    """An independent inspector looked again at what was signed with reduced independence."""

    entry: str
    author: str
    at: datetime
    agreed: bool
    words: str


@dataclass(frozen=True)
class Amendment:
    """A signed record opened again for a numbered change, with its reason."""

    number: int
    reason: str
    entry: str
    author: str
    at: datetime
    index: int


@dataclass(frozen=True)
class Returned:
    items: tuple[tuple[str, str], ...]
    entry: str
    author: str
    at: datetime
    index: int


@dataclass(frozen=True)
class HandOver:
    """At the change of shift: from whom to whom the work went, with what the next one has to know."""

    to: str
    note: str
    entry: str
    author: str
    at: datetime


def signed_as_it_stands(signatures: Sequence[Signature], amendments: Sequence[Amendment]) -> bool:
    """The inspector signed, and it was not opened for an amendment since."""
    opened = amendments[-1].index if amendments else -1
    return any(s.meaning == "inspected" and s.index > opened for s in signatures)
