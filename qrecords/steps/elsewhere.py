"""What other records say of a mounting, as entries froze it; and what was judged of it again later."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any


@dataclass(frozen=True)
class ShiftCheck:
    """A gauge read on its master after it was used here: by how much it was off, and how much it may be."""

    gear: str
    off_nm: int
    limit_nm: int
    entry: str
    at: datetime

    @property
    def within(self) -> bool:
        return abs(self.off_nm) <= self.limit_nm


@dataclass(frozen=True)
class Elsewhere:
    """Facts of other records that a rule needs, as an entry froze them at *ready* or at sign-off; None where
    nobody looked yet."""

    other_end: tuple[int, ...] | None = None
    other_end_mounting: str = ""
    earlier_heatings: int | None = None
    photos_seen_before: frozenset[str] = frozenset()
    shift_checks: tuple[ShiftCheck, ...] = ()
    """Of each gauge used here the first check on its master after its last use here."""

    def checked_after(self, gear: str) -> ShiftCheck | None:
        return next((check for check in self.shift_checks if check.gear == gear), None)


NOBODY_LOOKED = Elsewhere()


@dataclass(frozen=True)
class JudgedAgain:
    """That this mounting was judged again with something put right: `cause` is the look-back or decision that
    did, `verdict` the worst of what is found otherwise, `changed` each characteristic of it."""

    occasion: str
    cause: str
    verdict: str
    changed: tuple[Mapping[str, Any], ...]
    entry: str
    at: datetime


def read_elsewhere(seen: Mapping[str, Any]) -> Elsewhere:
    """The facts that an entry froze; what a later version froze besides is empty in an older one."""
    checks = seen.get("shift_checks", ())
    return Elsewhere(
        other_end=tuple(seen["other_end"]) or None,
        other_end_mounting=seen["other_end_mounting"],
        earlier_heatings=seen["earlier_heatings"],
        photos_seen_before=frozenset(seen["photos_seen_before"]),
        shift_checks=tuple(ShiftCheck(**{**c, "at": datetime.fromisoformat(c["at"])}) for c in checks),
    )
