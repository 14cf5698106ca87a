"""Row 25: how the ring cooled, and that it was tightened again once cold."""

from qrecords.steps.fields import Choice, Field, Quantity
from qrecords.steps.rules import Stage, choice_rule
from qrecords.steps.step import Step

STEP_ID = "cooling_down"
PRACTICE = "common practice, no source"
STEP = Step(
    id=STEP_ID,
    version=1,
    row=25,
    stage=Stage.COLD,
    repeated=True,
    fields=(
        Field("cooled", Choice(("in still air", "by a fan", "quenched"))),
        Field("tightened_again", Choice(("yes", "no", "no nut"))),
        Field("cooled_for", Quantity("time", ("min", "h"), 0, 7 * 86_400_000), optional=True),
    ),
    rules=(
        choice_rule(
            "cooled-by-itself",
            Stage.COLD,
            STEP_ID,
            "cooled",
            ("in still air",),
            f"{PRACTICE}: no quench, no cold air on one side",
            after_heat=True,
            hold="cold",
        ),
        choice_rule(
            "tightened-again",
            Stage.COLD,
            STEP_ID,
            "tightened_again",
            ("yes", "no nut"),
            PRACTICE,
            after_heat=True,
            hold="cold",
        ),
    ),
)
