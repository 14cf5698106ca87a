"""The running check: turned by hand, cold."""

from qrecords.steps.fields import Choice, Field, Quantity
from qrecords.steps.findings import Verdict
from qrecords.steps.rules import LOOK, Stage, choice_rule
from qrecords.steps.step import Step

STEP = Step(
    id="running",
    version=2,
    row=31,
    stage=Stage.CLOSE,
    fields=(
        Field("turns", Choice(("smooth", "rough", "tight spot", "heavy with grease"))),
        Field("spot_at", Quantity("angle", ("°",), 0, 360_000), optional=True, by_procedure=True),
        Field("turned", Quantity("count", ("turns",), 1, 100), by_procedure=True),
        Field("sound", Choice(("quiet", "ticking", "grinding")), by_procedure=True),
        Field("aligns", Choice(("yes", "no")), by_procedure=True),
    ),
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
            row="tight-spot",
        ),
        choice_rule(
            "runs-quietly",
            Stage.CLOSE,
            "running",
            "sound",
            ("quiet",),
            "common practice, no source",
            bad=Verdict.QUERY,
            may=LOOK,
            after_heat=True,
            over="running.sound",
        ),
        choice_rule(
            "aligns-itself",
            Stage.CLOSE,
            "running",
            "aligns",
            ("yes",),
            "common practice, no source",
            after_heat=True,
            over="running.aligns",
        ),
    ),
)
