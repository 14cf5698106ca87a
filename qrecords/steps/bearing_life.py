"""Where one bearing is now: from its mountings in order, and from what became of it besides."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from qrecords.steps.transitions import CLOSED, State


class Where(StrEnum):
    """The one thing that a bearing is now. Scrapped is for ever; quarantined it is wherever it lies."""

    IN_STOCK = "in stock"
    IN_A_MOUNTING = "in a mounting"
    """A mounting that is not closed is about it: nobody knows yet whether it stays on."""
    MOUNTED = "mounted"
    REMOVED = "removed"
    QUARANTINED = "quarantined"
    SCRAPPED = "scrapped"


class Event(StrEnum):
    """What becomes of a bearing besides its mountings. Each is an entry about the bearing."""

    DELIVERED = "delivered"
    REMOVED = "removed"
    FAILED = "failed"
    QUARANTINED = "quarantined"
    CLEARED = "cleared"
    """A person with authority ended the quarantine."""
    SCRAPPED = "scrapped"


KINDS = {
    Event.DELIVERED: "bearing delivery",
    Event.REMOVED: "removal",
    Event.FAILED: "failure",
    Event.QUARANTINED: "quarantine",
    Event.CLEARED: "quarantine end",
    Event.SCRAPPED: "bearing scrap",
}
"""Event → the kind of its entry."""
METHODS = (
    "pulled on the inner ring",
    "pressed off",
    "oil or hydraulic nut",
    "heated off",
    "cut off",
    "pulled through the rolling elements",
    "with the shaft",
    "it came loose",
    "not known",
)
"""How a bearing came off: it decides which damage was done by dismounting (common practice, no source)."""


@dataclass(frozen=True)
class Stood:
    """One mounting of the bearing: its state, when it was opened, and whether the ring was ever heated."""

    mounting: str
    state: State
    at: datetime
    heated: bool
    amended: bool = False
    """It was signed off once, and is or was opened for an amendment."""


@dataclass(frozen=True)
class Became:
    """One event. `mounting` is the one that a removal ended, '' where none is known here; `at` when it was
    recorded."""

    what: Event
    at: datetime
    mounting: str = ""


def where_is(stood: Iterable[Stood], became: Iterable[Became]) -> Where:
    """The state of one bearing now."""
    places = sorted(stood, key=lambda each: each.at)
    events = sorted(became, key=lambda each: each.at)
    if any(e.what == Event.SCRAPPED for e in events) or any(s.state == State.SCRAPPED for s in places):
        return Where.SCRAPPED
    kept_apart = [e.what for e in events if e.what in (Event.QUARANTINED, Event.CLEARED)]
    if kept_apart and kept_apart[-1] == Event.QUARANTINED:
        return Where.QUARANTINED
    return _place(last_of(places), [e for e in events if e.what == Event.REMOVED])


def last_of(places: Iterable[Stood]) -> Stood | None:
    """The mounting that counts: the newest, but for those opened by mistake."""
    counting = [each for each in places if each.state != State.WITHDRAWN]
    return max(counting, key=lambda each: each.at, default=None)


def _place(last: Stood | None, removals: Sequence[Became]) -> Where:
    if last is None:
        return Where.REMOVED if removals else Where.IN_STOCK
    if taken_off(last, removals):
        return Where.REMOVED
    if last.state == State.SIGNED_OFF or last.amended:
        return Where.MOUNTED
    if last.state not in CLOSED:
        return Where.IN_A_MOUNTING
    # Closed as reworked: a ring that was heated came off again, one that was not lies as it lay before.
    return Where.REMOVED if last.heated or removals else Where.IN_STOCK


def taken_off(last: Stood, removals: Iterable[Became]) -> bool:
    """Whether a removal ended this mounting: one that names it, or one from a place that nobody could name,
    recorded since."""
    return any(
        each.mounting == last.mounting or (not each.mounting and each.at >= last.at) for each in removals
    )
