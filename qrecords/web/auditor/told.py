"""One line of what an entry says."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Told:
    """One thing said: `caption` what it is about, `value` as typed, `quiet` where there is no value."""

    caption: str
    value: str
    quiet: bool = False
