"""Heatings of one mounting: each run from *heater on* to *let go*, with what happened between."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from qrecords.steps.case import Case, Tap

TAPS = ("heater on", "lifted off", "home", "let go")
EVENTS = ("stuck", "dropped", "stopped", "alarm")
TAP_DOUBT_MS = 2000
"""A tap may be late by this much (ruling 14)."""


@dataclass(frozen=True)
class Run:
    """One heating. A tap not made is None: a bracket of time between its neighbours, never a finding."""

    heater_on: Tap
    lifted_off: Tap | None = None
    home: Tap | None = None
    let_go: Tap | None = None
    events: tuple[Tap, ...] = ()

    @property
    def pressed_ms(self) -> int | None:
        return milliseconds(self.home, self.let_go)

    @property
    def carried_ms(self) -> int | None:
        return milliseconds(self.lifted_off, self.home)


def milliseconds(first: Tap | None, last: Tap | None) -> int | None:
    if first is None or last is None:
        return None
    return round((last.at - first.at).total_seconds() * 1000)


def _tapped(taps: Sequence[Tap], what: str) -> Tap | None:
    return next((tap for tap in taps if tap.what == what), None)


def runs(case: Case) -> list[Run]:
    """All heatings of this mounting in ledger order."""
    starts = [place for place, tap in enumerate(case.taps) if tap.what == "heater on"]
    found = []
    for start, end in pairwise([*starts, len(case.taps)]):
        taps = case.taps[start:end]
        found.append(
            Run(
                taps[0],
                _tapped(taps, "lifted off"),
                _tapped(taps, "home"),
                _tapped(taps, "let go"),
                tuple(tap for tap in taps if tap.what in EVENTS),
            )
        )
    return found


def mounted_run(case: Case) -> Run | None:
    """The heating the ring went on with: the last that reached *home*, else the last; None before heat."""
    every = runs(case)
    home = [run for run in every if run.home]
    return (home or every)[-1] if every else None


def is_on(case: Case) -> bool:
    """The ring has been pressed home: from here nothing of the fit can be measured again."""
    return any(tap.what == "home" for tap in case.taps)
