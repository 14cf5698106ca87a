"""How warm ring and shaft were when the gaps were felt: a blade stopped by a warm ring says nothing of the
cold one, whatever temperature is told afterwards."""

from datetime import timedelta

from qrecords.steps.answers import Value
from qrecords.steps.case import Answered, Case
from qrecords.steps.runs import asked_anew

STEP_ID = "shoulder_gap"
COLD_WITHIN_MK = 5000
SAME_MOMENT = timedelta(minutes=2)
"""So soon a temperature told again by who told it is a slip of reading or typing put right, for no ring cools
that fast; later it is another temperature (house rule)."""
TEMPERATURES = ("ring_temp", "shaft_temp")


def at_feeling(case: Case, gap: Answered, key: str) -> Answered | None:
    """The temperature that stood when this gap was felt, told since the ring was heated, with its slip put
    right; where none had been told, the first that was told in the same moment. None if nobody knows."""
    place = case.order[gap.entry]
    heated = [case.order[tap.entry] for tap in case.taps if tap.what == "heater on"]
    since = max((on for on in heated if on < place), default=-1)
    given = [a for a in case.given.get(STEP_ID, ()) if a.key == key and case.order[a.entry] > since]
    told = [a for a in given if isinstance(a.answer, Value)]
    by_then = [a for a in told if case.order[a.entry] <= place or _one_sheet(a, gap)]
    if not by_then:
        first = told[0] if told else None
        return first if first and abs(first.at - gap.at) <= SAME_MOMENT else None
    stood = by_then[-1]
    mended = [a for a in told if case.order[a.entry] > place and _puts_right(a, stood)]
    return mended[-1] if mended else stood


def _one_sheet(one: Answered, other: Answered) -> bool:
    """Both stand on one sheet of paper, in whatever order it was entered."""
    return bool(one.paper and other.paper and one.paper.sheet == other.paper.sheet)


def _puts_right(later: Answered, stood: Answered) -> bool:
    return later.author == stood.author and timedelta(0) <= later.at - stood.at <= SAME_MOMENT


def warm(case: Case) -> bool:
    """Told more than 5 K above the shaft: the ring has not finished shrinking."""
    ring, shaft = case.value_of(STEP_ID, "ring_temp"), case.value_of(STEP_ID, "shaft_temp")
    return ring is not None and shaft is not None and ring.base - shaft.base > COLD_WITHIN_MK


def felt_warm(case: Case, gap: Answered) -> bool:
    """Not known to have been felt within 5 K of the shaft, though a temperature is told now."""
    if any(case.value_of(STEP_ID, key) is None for key in TEMPERATURES):
        return False
    ring, shaft = (at_feeling(case, gap, key) for key in TEMPERATURES)
    return ring is None or shaft is None or ring.base - shaft.base > COLD_WITHIN_MK


def to_feel_again(case: Case, step: str, answered: Answered) -> bool:
    """A gap that has to be felt once more: the same blade is then a new answer."""
    return step == STEP_ID and answered.key.startswith("gap.") and felt_warm(case, answered)


def told_anew(case: Case, step: str, answered: Answered) -> bool:
    """Another answer corrects nothing here: the last heating asks for its own, or the gap was felt warm and
    the ring is cold now."""
    return asked_anew(case, step, answered) or (not warm(case) and to_feel_again(case, step, answered))
