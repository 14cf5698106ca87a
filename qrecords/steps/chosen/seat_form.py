"""Row 8: the form of the seat by V-block or form tester, since two points across cannot see three lobes."""

from qrecords.engineering.errors import EngineeringError
from qrecords.steps.case import Case
from qrecords.steps.fields import Choice, Field, Gear, Quantity
from qrecords.steps.findings import Verdict
from qrecords.steps.form_limits import form_limit
from qrecords.steps.limits import Bounds, limit_rule
from qrecords.steps.rules import ENGINEER, Stage, choice_rule
from qrecords.steps.step import Step

STEP_ID = "seat_form"


def _roundness(case: Case) -> Bounds | None:
    try:
        limit, source, unconfirmed = form_limit(case, "roundness")
    except EngineeringError:
        return None
    return Bounds(None, limit, source, unconfirmed)


STEP = Step(
    id=STEP_ID,
    version=1,
    row=8,
    stage=Stage.MEASURE,
    task="measure",
    fields=(
        Field("form_by", Choice(("form tester", "V-block", "two points"))),
        Field("out_of_round", Quantity("length", ("um", "mm", "in"), 0, 60_000)),
        Field("form_gauge", Gear(("dial indicator",), ("out_of_round",)), optional=True),
    ),
    rules=(
        choice_rule(
            "form-method",
            Stage.MEASURE,
            STEP_ID,
            "form_by",
            ("form tester", "V-block"),
            "ISO 12181, from memory: two points are blind to odd lobes",
            bad=Verdict.NOT_PROVEN,
            hold="fit",
        ),
        limit_rule(
            "seat-roundness",
            Stage.MEASURE,
            STEP_ID,
            "out_of_round",
            "nm",
            "ISO 1101; half of IT5, from memory",
            _roundness,
            gauge="form_gauge",
            may=ENGINEER,
            hold="fit",
        ),
    ),
)
