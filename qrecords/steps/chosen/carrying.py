"""Rows 22 to 24: film, orientation and the way home, each said of one heating."""

from qrecords.steps.fields import Choice, Field, Quantity
from qrecords.steps.heatings import each_heating
from qrecords.steps.rules import Stage, asked_rule, choice_rule, look_rule
from qrecords.steps.step import Step

STEP_ID = "carrying"
PRACTICE = "common practice, no source"
FIELDS = ("film_wiped", "side_called", "twisted", "hold_torque", "hold_force")
STEP = Step(
    id=STEP_ID,
    version=1,
    row=22,
    stage=Stage.COLD,
    task="mount",
    of_one_heating=FIELDS,
    fields=(
        Field("film_wiped", Choice(("thin, corner clean", "pool or full corner"))),
        Field("side_called", Choice(("yes", "no"))),
        Field("twisted", Choice(("a little, both ways", "straight"))),
        Field("hold_torque", Quantity("torque", ("N·m", "lbf·ft"), 0, 5_000_000), optional=True),
        Field("hold_force", Quantity("force", ("N", "kN", "lbf"), 0, 500_000_000), optional=True),
    ),
    rules=(
        each_heating(
            choice_rule(
                "film-thin",
                Stage.COLD,
                STEP_ID,
                "film_wiped",
                ("thin, corner clean",),
                f"{PRACTICE}: thin film only, no pool, no grease in the shoulder corner",
            )
        ),
        each_heating(look_rule("side-called", Stage.COLD, STEP_ID, "side_called", ("yes",), PRACTICE)),
        each_heating(asked_rule("twisted-home", Stage.COLD, STEP_ID, "twisted", PRACTICE)),
    ),
)
