"""Where a rebuild stands, from what its records say, and when its release is refused.

A rebuild is released once: whatever comes later is shown as *after release*. It is the machine's places that
count, not the mountings: a place of the machine is either carried by a mounting that was signed off, or named
by who releases, with the reason why nothing was mounted there under this order.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from qrecords.steps.transitions import CLOSED, Refusal, State


class RebuildState(StrEnum):
    OPEN = "open"
    READY = "ready to be released"
    """Open, with nothing left but the release itself."""
    RELEASED = "released"


@dataclass(frozen=True)
class Attempt:
    """One mounting of the rebuild on one place. `worked_by`: who recorded work or signed *performed*. `off`:
    its bearing is not on its shaft any more, or set aside."""

    mounting: str
    number: str
    state: State
    worked_by: frozenset[str] = frozenset()
    off: bool = False


@dataclass(frozen=True)
class Place:
    """A journal of the machine, with its mountings under this order, oldest first."""

    journal: str
    name: str
    attempts: tuple[Attempt, ...] = ()

    @property
    def standing(self) -> Attempt | None:
        """The newest mounting, those apart that were opened by mistake."""
        meant = [attempt for attempt in self.attempts if attempt.state != State.WITHDRAWN]
        return meant[-1] if meant else None

    @property
    def carried(self) -> bool:
        """A bearing is on it, and an inspector has signed its mounting."""
        return self._signed and not self.bearing_off

    @property
    def bearing_off(self) -> bool:
        """Its mounting was signed off, and the bearing was removed, scrapped or set aside since."""
        return self._signed and self.standing is not None and self.standing.off

    @property
    def _signed(self) -> bool:
        return self.standing is not None and self.standing.state == State.SIGNED_OFF

    @property
    def may_be_left_out(self) -> bool:
        """Nothing was done to it: where a mounting was reworked or scrapped, a bearing is still to come."""
        return self.standing is None


def refuse_rebuild_release(
    places: Sequence[Place], left_out: Mapping[str, str], author: str, *, released: bool
) -> Refusal | None:
    """None where this person may release now. `left_out`: journal → why nothing was mounted there."""
    if released:
        return Refusal("rebuild-released", {})
    attempts = [attempt for place in places for attempt in place.attempts]
    open_ = [attempt.number for attempt in attempts if attempt.state not in CLOSED]
    if open_:
        return Refusal("mountings-open", {"mountings": tuple(open_)})
    if any(author in attempt.worked_by for attempt in attempts):
        return Refusal("worked-on-rebuild", {"person": author})
    off = _names(place for place in places if place.bearing_off)
    if off:
        return Refusal("bearing-not-on", {"places": off})
    if not any(place.carried for place in places):
        return Refusal("nothing-mounted", {})
    wrong = _names(place for place in places if place.journal in left_out and not place.may_be_left_out)
    if wrong or set(left_out) - {place.journal for place in places}:
        return Refusal("left-out-but-mounted", {"places": wrong})
    empty = _names(empty_places(places, left_out))
    return Refusal("places-without-mounting", {"places": empty}) if empty else None


def empty_places(places: Iterable[Place], left_out: Collection[str] = ()) -> list[Place]:
    """The places that carry no bearing whose mounting was signed off, and that nobody left out."""
    return [place for place in places if not place.carried and place.journal not in left_out]


def _names(places: Iterable[Place]) -> tuple[str, ...]:
    return tuple(place.name for place in places)
