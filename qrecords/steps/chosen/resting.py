"""Row 33: how the finished shaft is kept until it runs: covered soon, locked, supported, turned."""

from qrecords.steps.fields import Choice, Field, Quantity, Words
from qrecords.steps.findings import Verdict
from qrecords.steps.limits import at_most, limit_rule
from qrecords.steps.rules import LOOK, Stage, choice_rule, look_rule
from qrecords.steps.step import Step

STEP_ID = "resting"
PRACTICE = "common practice, no source"
SOON_MS = 30 * 60_000
STEP = Step(
    id=STEP_ID,
    version=1,
    row=33,
    stage=Stage.CLOSE,
    fields=(
        Field("covered_within", Quantity("time", ("min", "h"), 0, 86_400_000)),
        Field("preservative", Words(60), optional=True),
        Field("shaft_supported", Choice(("yes", "no"))),
        Field("rotor_locked", Choice(("yes", "no", "not moved"))),
        Field("kept", Choice(("lying", "standing"))),
        Field("turned_weekly", Choice(("yes", "no", "runs within a week"))),
    ),
    rules=(
        limit_rule(
            "covered-soon",
            Stage.CLOSE,
            STEP_ID,
            "covered_within",
            "ms",
            "house rule: half an hour",
            at_most(SOON_MS),
            bad=Verdict.QUERY,
            may=LOOK,
        ),
        choice_rule("shaft-supported", Stage.CLOSE, STEP_ID, "shaft_supported", ("yes",), PRACTICE),
        choice_rule("rotor-locked", Stage.CLOSE, STEP_ID, "rotor_locked", ("yes", "not moved"), PRACTICE),
        look_rule("kept-lying", Stage.CLOSE, STEP_ID, "kept", ("lying",), PRACTICE),
        look_rule(
            "turned-weekly", Stage.CLOSE, STEP_ID, "turned_weekly", ("yes", "runs within a week"), PRACTICE
        ),
    ),
)
