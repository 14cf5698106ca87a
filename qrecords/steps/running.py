"""The running check: turned by hand, cold."""

from qrecords.steps.fields import Choice, Field
from qrecords.steps.rules import Stage, choice_rule
from qrecords.steps.step import Step

STEP = Step(
    id="running",
    version=1,
    stage=Stage.CLOSE,
    fields=(Field("turns", Choice(("smooth", "rough", "tight spot", "heavy with grease"))),),
    rules=(
        choice_rule(
            "turns-freely",
            Stage.CLOSE,
            "running",
            "turns",
            ("smooth", "heavy with grease"),
            "common practice, no source",
            after_heat=True,
            version=2,
        ),
    ),
)
