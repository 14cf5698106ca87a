"""The log of one heating, judged: was the ring ever hotter than it may be, and is that proved?

The definitions stand in `curve_cleaning` (what counts as a sample, gap, spike, lost probe) and in
`curve_measures` (peak, rate, time above, overshoot, soak); here is what they come to.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from .curve_cleaning import COLDEST_MDEGC, HOTTEST_MDEGC, CleanCurve, Sample, clean, told
from .curve_measures import (
    MEDIAN_OF,
    Above,
    above,
    could_hide,
    highest_median,
    highest_sample,
    overshoot,
    overshoot_share,
    peak,
    rate,
    soak,
)
from .errors import OutOfRangeError
from .measurement import CONFORMING, GUARD_FACTOR, NONCONFORMING, NOT_PROVEN, decide, guard
from .result import Result

PROBE_OFF, NO_PEAK, HIDDEN, SHORT_RUN, NEAR = (
    "the probe came off",
    "nowhere three samples in a row",
    "a gap could hide more",
    "too few samples between gaps near the ceiling",
    "the ceiling lies within the guard or the bracket",
)
"""Why a curve proves nothing; words of the record, never changed."""

MOST_U_MK, MOST_GUARD_FACTOR = 50_000, 10


@dataclass(frozen=True)
class Limits:
    """What a curve is judged by: target and ceiling in m°C, standard uncertainty of the reading in mK.

    Raises OutOfRangeError for what is no whole number inside −40 to 400 °C, 0 to 50 K, or a factor 0 to 10.
    """

    target_mdegc: int
    ceiling_mdegc: int
    u_mk: int
    guard_factor: Decimal | float | str = GUARD_FACTOR

    def __post_init__(self) -> None:
        _whole("target", self.target_mdegc, "m°C", COLDEST_MDEGC, HOTTEST_MDEGC)
        _whole("ceiling", self.ceiling_mdegc, "m°C", COLDEST_MDEGC, HOTTEST_MDEGC)
        _whole("temperature uncertainty", self.u_mk, "mK", 0, MOST_U_MK)
        try:
            inside = 0 <= float(self.guard_factor) <= MOST_GUARD_FACTOR
        except (TypeError, ValueError, OverflowError):
            inside = False
        if not inside:
            raise OutOfRangeError("guard factor", told(self.guard_factor), "", 0, MOST_GUARD_FACTOR)

    @property
    def guard_mk(self) -> int:
        return guard(self.u_mk, self.guard_factor)


class JudgedCurve(NamedTuple):
    """Everything that is said of one log.

    `peak`, its `overshoot` and `overshoot_share` are None where nowhere three samples stand in a row, `rate`
    where no window of 10 s is full enough. `peak_proven` is false after a lost probe: the ring may have got
    hotter unseen. `unproven` says why a curve that is `not proven` is; empty for the other two verdicts.
    """

    curve: CleanCurve
    limits: Limits
    peak: Result | None
    peak_proven: bool
    highest_c: float
    rate: Result | None
    above: Above
    overshoot: Result | None
    overshoot_share: Result | None
    soak: Result
    verdict: str
    unproven: tuple[str, ...]


def judge(samples: Sequence[Sample], limits: Limits, unit: str = "°C") -> JudgedCurve:
    """Judge a log in °C or °F. Raises what `clean` raises; a log that says little is *not proven*, no error.

    Source: definitions are house rules; the verdict ISO 14253-1:2017.
    """
    curve = clean(samples, unit)
    top, rise = highest_median(curve.runs), rate(curve)
    time_above = above(curve, limits.ceiling_mdegc)
    verdict, unproven = _verdict(curve, limits, top[0] if top else None, rise, time_above)
    target = limits.target_mdegc
    return JudgedCurve(
        curve=curve,
        limits=limits,
        peak=peak(curve, top, limits.u_mk) if top else None,
        peak_proven=top is not None and curve.probe_off is None,
        highest_c=highest_sample(curve) / 1000,
        rate=rise,
        above=time_above,
        overshoot=overshoot(top[0], target) if top else None,
        overshoot_share=overshoot_share(top[0], target, curve.runs[0][0][1]) if top else None,
        soak=soak(curve, target),
        verdict=verdict,
        unproven=unproven,
    )


def _verdict(
    curve: CleanCurve, limits: Limits, peak_mdegc: int | None, rise: Result | None, time_above: Above
) -> tuple[str, tuple[str, ...]]:
    """Nonconforming where peak − guard is over the ceiling or the curve was seen above ceiling + guard for
    any time; conforming where peak + guard is not over it, the bracket nought, and nothing hidden could be.
    """
    by_peak = NOT_PROVEN
    if peak_mdegc is not None:
        by_peak = decide(peak_mdegc, None, limits.ceiling_mdegc, limits.u_mk, limits.guard_factor)
    if by_peak == NONCONFORMING or _above_for_a_time(curve, limits.ceiling_mdegc + limits.guard_mk):
        return NONCONFORMING, ()
    unproven = tuple(_unproven(curve, limits, peak_mdegc, rise))
    if by_peak == CONFORMING and not time_above.seen and not unproven:
        return CONFORMING, ()
    near = peak_mdegc is not None and (by_peak == NOT_PROVEN or time_above.seen)
    return NOT_PROVEN, (*unproven, NEAR) if near else unproven


def _above_for_a_time(curve: CleanCurve, limit_mdegc: int) -> bool:
    return any(top > limit_mdegc for run, top in zip(curve.runs, curve.tops, strict=True) if len(run) > 1)


def _unproven(curve: CleanCurve, limits: Limits, peak_mdegc: int | None, rise: Result | None) -> list[str]:
    """What was not seen and could have been over the ceiling; with the guard, as the peak is."""
    most = limits.ceiling_mdegc - limits.guard_mk
    short = (value for run in curve.runs if len(run) < MEDIAN_OF for _, value in run)
    reasons = (
        (PROBE_OFF, curve.probe_off is not None),
        (NO_PEAK, peak_mdegc is None),
        (HIDDEN, any(could_hide(gap, rise, most) for gap in curve.gaps)),
        (SHORT_RUN, peak_mdegc is not None and any(value > most for value in short)),
    )
    return [reason for reason, holds in reasons if holds]


def _whole(field: str, value: object, unit: str, low: int, high: int) -> None:
    if not isinstance(value, int) or isinstance(value, bool) or not low <= value <= high:
        raise OutOfRangeError(field, told(value), unit, low, high)
