"""Row 28: how far the face of the mounted inner ring runs out."""

from qrecords.steps.chosen.shoulder import face_runout
from qrecords.steps.fields import Field, Gear, Quantity
from qrecords.steps.limits import limit_rule
from qrecords.steps.rules import ENGINEER, Stage
from qrecords.steps.step import Step

STEP_ID = "face"
STEP = Step(
    id=STEP_ID,
    version=1,
    row=28,
    stage=Stage.COLD,
    task="measure",
    repeated=True,
    fields=(
        Field("face_runout", Quantity("length", ("um", "mm", "in"), 0, 60_000)),
        Field("face_dial", Gear(("dial indicator",), ("face_runout",)), optional=True),
    ),
    rules=(
        limit_rule(
            "face-runout",
            Stage.COLD,
            STEP_ID,
            "face_runout",
            "nm",
            "motor-repair training page 131.02; IT5, textbook, from memory",
            face_runout,
            gauge="face_dial",
            may=ENGINEER,
            hold="cold",
            after_heat=True,
        ),
    ),
)
