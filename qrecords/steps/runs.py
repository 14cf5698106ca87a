"""Heatings of one mounting: each run from *heater on* to *let go*, with what happened between."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from qrecords.steps.acts import Tap
from qrecords.steps.case import Answered, Case, once_a_case

TAPS = ("heater on", "lifted off", "home", "let go")
EVENTS = ("stuck", "dropped", "stopped", "alarm")
TAP_DOUBT_MS = 2000
"""A tap may be late by this much (ruling 14)."""


@dataclass(frozen=True)
class Run:
    """One heating. A tap not made is None: a bracket of time between its neighbours, never a finding. *Home*
    is none either where the ring was stuck after it, until it is tapped again."""

    heater_on: Tap
    lifted_off: Tap | None = None
    home: Tap | None = None
    let_go: Tap | None = None
    events: tuple[Tap, ...] = ()

    @property
    def left_heater(self) -> bool:
        """The ring was carried to its seat, as far as any tap tells."""
        return bool(self.lifted_off or self.home or self.let_go or self.is_stuck)

    @property
    def is_stuck(self) -> bool:
        return self.home is None and any(event.what == "stuck" for event in self.events)

    @property
    def pressed_ms(self) -> int | None:
        return milliseconds(self.home, self.let_go)

    @property
    def carried_ms(self) -> int | None:
        return milliseconds(self.lifted_off, self.home)


def milliseconds(first: Tap | None, last: Tap | None) -> int | None:
    if first is None or last is None:
        return None
    if any(tap.paper and not tap.paper.to_the_second for tap in (first, last)):
        return None  # written to the minute: a bracket of time, as a tap not made
    return round((last.at - first.at).total_seconds() * 1000)


def _tapped(taps: Sequence[Tap], what: str) -> Tap | None:
    return next((tap for tap in taps if tap.what == what), None)


def _pressed(taps: Sequence[Tap]) -> tuple[Tap | None, Tap | None]:
    """*Home* and the *let go* that ended it: the first *home* that no *stuck* followed, since a ring that
    stuck was not there yet; a *let go* before it ended nothing."""
    stuck = max((place for place, tap in enumerate(taps) if tap.what == "stuck"), default=-1)
    home = _tapped(taps[stuck + 1 :], "home")
    return home, _tapped(taps[taps.index(home) :] if home else taps, "let go")


@once_a_case
def runs(case: Case) -> tuple[Run, ...]:
    """All heatings of this mounting in ledger order."""
    starts = [place for place, tap in enumerate(case.taps) if tap.what == "heater on"]
    found = []
    for start, end in pairwise([*starts, len(case.taps)]):
        taps = case.taps[start:end]
        events = tuple(tap for tap in taps if tap.what in EVENTS)
        found.append(Run(taps[0], _tapped(taps, "lifted off"), *_pressed(taps), events))
    return tuple(found)


@once_a_case
def mounted_run(case: Case) -> Run | None:
    """The heating the ring went on with: the last in which it left the heater, whether or not *home* was
    tapped (ruling 14), else the last; None before heat."""
    every = runs(case)
    carried = [run for run in every if run.left_heater]
    return (carried or every)[-1] if every else None


class Found(StrEnum):
    """When something was found: since the last heating, before it, or in an order that proves neither."""

    SINCE = "since"
    BEFORE = "before"
    UNCLEAR = "unclear"


def found_when(case: Case, *answers: Answered) -> Found:
    """Whether answers are of the ring as the last heating left it: by their order in the ledger and by the
    clocks. Where the two disagree neither is proved."""
    heated = runs(case)
    if not heated or not answers:
        return Found.SINCE
    on = heated[-1].heater_on
    told = {each for answered in answers for each in _told_since(case, answered, on)}
    if told == {True}:
        return Found.SINCE
    return Found.BEFORE if told == {False} else Found.UNCLEAR


def _told_since(case: Case, answered: Answered, on: Tap) -> set[bool]:
    """Whether ledger and clock put an answer behind a *heater on*. Of a sheet of paper the clock says
    nothing: one sheet holds one heating, so what is checked after heat stands behind it on the same sheet, in
    whatever order it was entered."""
    if answered.paper and on.paper and answered.paper.sheet == on.paper.sheet:
        return {case.said("clearance_before", answered.key) is not answered}
    by_ledger = case.order[answered.entry] > case.order[on.entry]
    return {by_ledger} if answered.paper or on.paper else {by_ledger, answered.at > on.at}


REPEATED = ("demagnetisation", "shoulder_gap", "clearance_before", "clearance_after", "running")
"""Steps whose answers a further heating overtakes: measured again, the same value is a new answer."""


OF_ONE_HEATING = {
    "heating": ("probe", "peak", "peak_outer", "cross_check", "at_seat"),
    "seating": ("film", "went_home", "dropped", "hammered", "held_by"),
}
"""What is said of one heating and of no other. Heater, set-up and ceiling go on until others are named."""


@once_a_case
def said_of_one_heating(case: Case) -> Mapping[str, Collection[str]]:
    """By step the fields that are said of one heating and of no other."""
    chosen = {step: traits.of_one_heating for step, traits in case.chosen.items() if traits.of_one_heating}
    return {**OF_ONE_HEATING, **chosen}


def of_one_heating(case: Case, step: str, key: str) -> bool:
    return key in said_of_one_heating(case).get(step, ())


def of_earlier_heating(case: Case, step: str, answered: Answered) -> bool:
    """The answer is of a heating that another one followed: it stays, and this one is asked for its own."""
    every = runs(case)
    last = every[-1].heater_on.entry if len(every) > 1 else ""
    if not last or not of_one_heating(case, step, answered.key):
        return False
    return case.order[answered.entry] < case.order[last]


def overtaken(case: Case, step: str, answered: Answered) -> bool:
    repeated = step in REPEATED or (step in case.chosen and case.chosen[step].repeated)
    return repeated and found_when(case, answered) != Found.SINCE


def asked_anew(case: Case, step: str, answered: Answered) -> bool:
    """The answer is of the ring before its last heating, and every heating is asked for its own: nothing of
    it is offered again, and another answer corrects none. The clearance felt before heat stays as it is."""
    if of_earlier_heating(case, step, answered):
        return True
    return step != "clearance_before" and overtaken(case, step, answered)


def is_on(case: Case) -> bool:
    """The ring has been pressed home: from here nothing of the fit can be measured again."""
    return any(tap.what == "home" for tap in case.taps)
