"""Row 34: the label on the machine, and how it ran at first where that is known by then."""

from qrecords.steps.case import Case
from qrecords.steps.fields import Field, Quantity, Words
from qrecords.steps.limits import Bounds, limit_rule
from qrecords.steps.measurement import TEMPERATURES
from qrecords.steps.rules import ENGINEER, Stage, asked_rule, standing
from qrecords.steps.step import Step

STEP_ID = "label"
_SHAKES = Quantity("vibration", ("mm/s", "in/s"), 0, 50_000)


def _asked(case: Case) -> Bounds | None:
    """What the order asks of the first run, where it asks anything and the machine has run by now."""
    most = case.value_of(STEP_ID, "vibration_most")
    if most is None or case.value_of(STEP_ID, "first_vibration") is None:
        return None
    return Bounds(None, most.base, rests=tuple(standing(case, STEP_ID, "vibration_most")))


STEP = Step(
    id=STEP_ID,
    version=1,
    row=34,
    stage=Stage.CLOSE,
    fields=(
        Field("label_number", Words(40)),
        Field("first_vibration", _SHAKES, optional=True),
        Field("vibration_most", _SHAKES, optional=True),
        Field("first_temperature", Quantity("temperature", TEMPERATURES, -20_000, 120_000), optional=True),
        Field("first_run", Words(80), optional=True),
    ),
    rules=(
        asked_rule(
            "labelled", Stage.CLOSE, STEP_ID, "label_number", "ISO 9001:2015 8.6, from memory: traceable"
        ),
        limit_rule(
            "first-vibration",
            Stage.CLOSE,
            STEP_ID,
            "first_vibration",
            "µm/s",
            "the order",
            _asked,
            may=ENGINEER,
        ),
    ),
)
