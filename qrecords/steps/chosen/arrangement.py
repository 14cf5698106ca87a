"""Row 26: which way round: marked face, arrangement of a pair, spacer, lock washer."""

from dataclasses import replace

from qrecords.steps.case import Case
from qrecords.steps.chosen.shoulder import face_runout
from qrecords.steps.fields import Choice, Field, Quantity, Words
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.limits import Bounds, limit_rule
from qrecords.steps.measurement import LENGTHS
from qrecords.steps.rules import ENGINEER, Rule, Stage, absent, choice_rule, standing
from qrecords.steps.step import Step

STEP_ID = "arrangement"
DRAWING = "the drawing"
WAYS = Choice(("single", "back to back", "face to face", "tandem"))
_WIDTH = Quantity("length", LENGTHS, 500_000, 500_000_000)


def _as_drawn(rule: Rule, case: Case) -> list[Finding]:
    """As the marks of the mounted pair show it, against what was read off the drawing."""
    rests = standing(case, STEP_ID, "arranged", "arranged_on_drawing")
    for key in ("arranged", "arranged_on_drawing"):
        if case.value_of(STEP_ID, key) is None:
            return absent(rule, case, STEP_ID, key, rule.id, rests)
    seen, wanted = (case.value_of(STEP_ID, key) for key in ("arranged", "arranged_on_drawing"))
    assert seen is not None and wanted is not None  # noqa: S101 - both were just found
    verdict = Verdict.CONFORMING if seen.word == wanted.word else Verdict.NONCONFORMING
    return [rule.finding(rule.id, verdict, inputs=rests, said=seen.word, wanted=wanted.word)]


def _width(case: Case) -> Bounds | None:
    """Where a spacer is in: its width between the drawing's ends."""
    if case.value_of(STEP_ID, "spacer_width") is None:
        return None
    ends = [case.value_of(STEP_ID, key) for key in ("spacer_least", "spacer_most")]
    rests = tuple(standing(case, STEP_ID, "spacer_least", "spacer_most"))
    if ends[0] is None or ends[1] is None:
        lacking = "spacer_least" if ends[0] is None else "spacer_most"
        return Bounds(None, None, rests=rests, lacking=lacking)
    return Bounds(ends[0].base, ends[1].base, DRAWING, rests=rests)


def _parallel(case: Case) -> Bounds | None:
    """A spacer's faces as parallel as a shoulder is square."""
    limits = face_runout(case)
    if limits is None or case.value_of(STEP_ID, "spacer_width") is None:
        return None
    return replace(limits, rests=tuple(standing(case, STEP_ID, "spacer_width")))


STEP = Step(
    id=STEP_ID,
    version=1,
    row=26,
    stage=Stage.COLD,
    fields=(
        Field("arranged_on_drawing", WAYS),
        Field("arranged", WAYS),
        Field("marked_face", Choice(("outward", "inward", "no mark"))),
        Field("pair_serials", Words(80), optional=True),
        Field("pair_marks", Choice(("in line", "not in line", "none"))),
        Field("lock_tab", Choice(("bent in", "not bent in", "none"))),
        Field("thrust_side", Words(40), optional=True),
        Field("spacer_width", _WIDTH, optional=True),
        Field("spacer_least", _WIDTH),
        Field("spacer_most", _WIDTH),
        Field("spacer_parallel", Quantity("length", ("um", "mm", "in"), 0, 60_000)),
    ),
    rules=(
        Rule("arranged-as-drawn", 1, Stage.COLD, DRAWING, _as_drawn, ENGINEER),
        choice_rule(
            "marked-face",
            Stage.COLD,
            STEP_ID,
            "marked_face",
            ("outward", "no mark"),
            "gear-reducer maintenance procedure, petrochemical: marked face visible",
            may=ENGINEER,
        ),
        choice_rule(
            "pair-marks", Stage.COLD, STEP_ID, "pair_marks", ("in line", "none"), DRAWING, may=ENGINEER
        ),
        choice_rule(
            "lock-tab", Stage.COLD, STEP_ID, "lock_tab", ("bent in", "none"), "common practice, no source"
        ),
        limit_rule("spacer-width", Stage.COLD, STEP_ID, "spacer_width", "nm", DRAWING, _width, may=ENGINEER),
        limit_rule(
            "spacer-parallel",
            Stage.COLD,
            STEP_ID,
            "spacer_parallel",
            "nm",
            "house rule: as square as a shoulder",
            _parallel,
            may=ENGINEER,
        ),
    ),
)
