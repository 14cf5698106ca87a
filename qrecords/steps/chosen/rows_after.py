"""Row 29: the clearance of the second row as mounted."""

from qrecords.steps.chosen.rows_before import SOURCE, rows_agree
from qrecords.steps.fields import Field, Quantity
from qrecords.steps.measurement import LENGTHS
from qrecords.steps.rules import LOOK, Rule, Stage
from qrecords.steps.step import Step

STEP_ID = "rows_after"
STEP = Step(
    id=STEP_ID,
    version=1,
    row=29,
    stage=Stage.COLD,
    repeated=True,
    fields=(Field("g1_second_row", Quantity("length", LENGTHS, 0, 500_000)),),
    rules=(
        Rule(
            "rows-agree-after",
            1,
            Stage.COLD,
            SOURCE,
            rows_agree(("clearance_after", "g1"), (STEP_ID, "g1_second_row")),
            LOOK,
        ),
    ),
)
