"""What befell a heating log: typed, so that a picture can mark it and words can say it.

Times in s as the logger counted them, temperatures in m°C.
"""

from typing import NamedTuple

Point = tuple[float, int]
"""Seconds, thousandths of a degree Celsius."""


class BackwardClock(NamedTuple):
    """The sample at `at_s` came after one that was stamped `back_s` later."""

    at_s: float
    back_s: float


class Dropout(NamedTuple):
    """`samples` in a row without a temperature a ring can have: none, not finite, or an open probe's."""

    at_s: float
    until_s: float
    samples: int


class Spike(NamedTuple):
    """One sample far from its neighbours, whose median was `median_mdegc`."""

    at_s: float
    read_mdegc: int
    median_mdegc: int


class Gap(NamedTuple):
    """Nothing usable from `at_s` to `until_s`; the temperatures are those at its two ends."""

    at_s: float
    until_s: float
    before_mdegc: int
    after_mdegc: int

    @property
    def length_s(self) -> float:
        return self.until_s - self.at_s


class ProbeOff(NamedTuple):
    """From `at_s` the log fell by `fall_mk` faster than any ring cools: what follows is not the ring."""

    at_s: float
    from_mdegc: int
    fall_mk: int


Event = BackwardClock | Dropout | Spike | Gap | ProbeOff
