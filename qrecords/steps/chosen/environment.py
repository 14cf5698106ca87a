"""Row 10: the room: dry, no dust in the air, and long enough together to be of one temperature."""

from qrecords.steps.case import Case
from qrecords.steps.fields import Choice, Field, Quantity
from qrecords.steps.findings import Verdict
from qrecords.steps.limits import Bounds, at_most, limit_rule
from qrecords.steps.measurement import spread_mk, temperatures
from qrecords.steps.rules import LOOK, Stage, look_rule
from qrecords.steps.step import Step

STEP_ID = "environment"
PRACTICE = "common practice, no source"
DRY_PPM = 650_000
TOGETHER_MS = 2 * 3_600_000
"""Less long together, and they may still be drifting (house rule)."""
SETTLED_MK = 1_000


def _together(case: Case) -> Bounds | None:
    """Parts that read within one kelvin have come together, however long it took."""
    spread = spread_mk(case)
    settled = spread is not None and spread <= SETTLED_MK
    return Bounds(0 if settled else TOGETHER_MS, None, rests=temperatures(case))


STEP = Step(
    id=STEP_ID,
    version=1,
    row=10,
    stage=Stage.MEASURE,
    fields=(
        Field("humidity", Quantity("ratio", ("%",), 100_000, 1_000_000)),
        Field("together_for", Quantity("time", ("h", "min"), 0, 7 * 86_400_000)),
        Field("dust", Choice(("none", "grinding or welding nearby"))),
    ),
    rules=(
        limit_rule(
            "room-dry",
            Stage.MEASURE,
            STEP_ID,
            "humidity",
            "ppm",
            PRACTICE,
            at_most(DRY_PPM),
            bad=Verdict.QUERY,
            may=LOOK,
        ),
        limit_rule(
            "together-long",
            Stage.MEASURE,
            STEP_ID,
            "together_for",
            "ms",
            "house rule",
            _together,
            bad=Verdict.QUERY,
            may=LOOK,
        ),
        look_rule("no-dust", Stage.MEASURE, STEP_ID, "dust", ("none",), PRACTICE),
    ),
)
