"""What other facts say of this record: competence, heatings of the bearing, digits at the other end."""

import math
from collections import Counter
from collections.abc import Sequence
from itertools import combinations, pairwise

from qrecords.engineering.measurement import normal_below
from qrecords.steps.case import Answered, Case
from qrecords.steps.chosen_rows import OF_HEATINGS
from qrecords.steps.competent import COMPETENCE, EYESIGHT
from qrecords.steps.demagnetisation import no_field
from qrecords.steps.demagnetisation import rests as field_rests
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.gauges import STEP_ID as MEASUREMENT
from qrecords.steps.rules import ENGINEER, LOOK, Rule, Stage, standing
from qrecords.steps.runs import Found, Run, found_when, runs

FEWEST_TYPED, READING_MS = 6, 12_000
"""From so many readings on, less than this a reading is asked about (ruling 8; common practice)."""
CHANCE = 1e-3
"""Below this chance identical digits at both ends are asked about (ruling 8)."""


def _heatings(rule: Rule, case: Case) -> list[Finding]:
    """Two heatings at most; the second is sound with the field measured again, and G0 where it is measured;
    the third asks the engineer (ruling 22; common practice, no source)."""
    here = runs(case)
    earlier = case.elsewhere.earlier_heatings
    if not here or earlier is None:
        return []
    number = earlier + len(here)
    if number == 1:
        verdict, message = Verdict.CONFORMING, ""
    elif number == 2:
        lacking = _not_again(case, here)
        verdict = Verdict.MISSING if lacking else Verdict.CONFORMING
        message = lacking or "second"
    else:
        verdict, message = Verdict.NONCONFORMING, ""
    asked = standing(case, "clearance_before", "g0") if len(here) > 1 else []
    taps = [run.heater_on.entry for run in here]
    inputs: list[Answered | str] = [*taps, *field_rests(case), *asked]
    return [rule.finding("heatings of this bearing", verdict, message, inputs=inputs, number=number)]


def _not_again(case: Case, here: Sequence[Run]) -> str:
    """What a second heating asks to be measured again and was not, as a message ending; else empty. G0 is
    felt again between the two, on the cooled ring."""
    field = case.value_of("demagnetisation", "field")
    if not no_field(case) and (field is None or found_when(case, field) != Found.SINCE):
        return "field-again"
    g0 = case.value_of("clearance_before", "g0")
    if g0 and len(here) > 1 and case.order[g0.entry] < case.order[here[-2].heater_on.entry]:
        return "clearance-again"
    return ""


def chance_of_same(readings: tuple[int, ...], others: tuple[int, ...], step_nm: int) -> float:
    """The chance that two sets agree digit by digit, for normal readings of this spread seen at this
    resolution: the chance of one coincidence, to the power of how many there were."""
    pooled = readings + others
    mean = sum(pooled) / len(pooled)
    spread = math.sqrt(sum((value - mean) ** 2 for value in pooled) / (len(pooled) - 1))
    if spread == 0:
        return 1.0
    cells = range(math.floor((mean - 5 * spread) / step_nm), math.ceil((mean + 5 * spread) / step_nm) + 1)
    below = [normal_below(((cell - 0.5) * step_nm - mean) / spread) for cell in (*cells, cells.stop)]
    one = sum((high - low) ** 2 for low, high in pairwise(below))
    return float(one ** len(readings))


def _same_digits(rule: Rule, case: Case) -> list[Finding]:
    other = case.elsewhere.other_end
    mine = [a for a in case.many(MEASUREMENT, "journal") if case.value_of(MEASUREMENT, a.key)]
    mine.sort(key=lambda answered: answered.key)
    values = tuple(answered.base for answered in mine)
    if other is None or len(values) < 4 or values != other:
        return []
    gauge = case.gear(MEASUREMENT, "gauge")
    chance = chance_of_same(values, other, gauge.resolution if gauge and gauge.resolution else 1000)
    if chance >= CHANCE:
        return []
    one_in = round(1 / chance) if chance > 0 else 10**9
    return [
        rule.finding(
            "same digits at both ends",
            Verdict.QUERY,
            inputs=[*mine, *standing(case, MEASUREMENT, "gauge")],
            count=len(values),
            one_in=one_in,
            other=case.elsewhere.other_end_mounting,
        )
    ]


def _fastest(readings: Sequence[Answered]) -> tuple[int, int] | None:
    """How many readings came fastest one after another, and in how many ms, from one capture to a later one:
    how long those of the first took is not known. None where too few came."""
    counts = Counter(answered.entry for answered in readings)
    moments = {answered.entry: answered.at for answered in readings}
    captures = sorted(counts, key=lambda entry: moments[entry])
    found = []
    for first, last in combinations(range(len(captures)), 2):
        count = sum(counts[entry] for entry in captures[first + 1 : last + 1])
        took = moments[captures[last]] - moments[captures[first]]
        if count >= FEWEST_TYPED:
            found.append((count, round(took.total_seconds() * 1000)))
    return min(found, key=lambda run: (run[1] / run[0], -run[0]), default=None)


def _speed(rule: Rule, case: Case) -> list[Finding]:
    """Six readings or more that were typed faster than a micrometer is read, by the times of their captures:
    somebody looks (ruling 8). A pause before or after makes them no slower. What was sent by the gauge or
    noted first says nothing of how fast it was read; nor do readings of one capture among themselves."""
    gauge, noted = case.gear(MEASUREMENT, "gauge"), case.value_of(MEASUREMENT, "noted_first")
    if (gauge and gauge.data_output) or (noted and noted.word == "yes"):
        return []
    read = [a for a in case.many(MEASUREMENT, "journal") if case.value_of(MEASUREMENT, a.key)]
    readings = [a for a in read if not a.paper]  # when it was entered from paper says nothing of the gauge
    fastest = _fastest(readings)
    if fastest is None or fastest[1] >= READING_MS * fastest[0]:
        return []
    count, took_ms = fastest
    inputs = [*case.many(MEASUREMENT, "journal"), *standing(case, MEASUREMENT, "gauge", "noted_first")]
    return [
        rule.finding(
            "speed of readings",
            Verdict.QUERY,
            inputs=inputs,
            count=count,
            took_ms=took_ms,
            least_ms=READING_MS,
        )
    ]


RULES = (
    COMPETENCE,
    Rule("heatings", 3, Stage.CLOSE, "common practice, no source", _heatings, ENGINEER, row=OF_HEATINGS),
    Rule("reading-speed", 3, Stage.MEASURE, "common practice, no source", _speed, LOOK),
    Rule("same-digits", 1, Stage.CLOSE, "house rule: chance under 1 in 1,000", _same_digits, LOOK),
    EYESIGHT,
)
