"""Row 4: how the bearing was stored, how old it is, and how long it lay open."""

from qrecords.steps.case import Case
from qrecords.steps.fields import Choice, Field, Quantity
from qrecords.steps.findings import Verdict
from qrecords.steps.limits import Bounds, at_most, limit_rule
from qrecords.steps.measurement import TEMPERATURES
from qrecords.steps.rules import LOOK, Stage, look_rule
from qrecords.steps.step import Step

STEP_ID = "storage"
PRACTICE = "common practice, no source"
DRY_PPM = 650_000
GREASE_KEEPS_MONTHS = 36
OPEN_MS = 8 * 3_600_000
"""A shift: longer than that an open bearing is looked at again (house rule)."""


def _grease_age(case: Case) -> Bounds | None:
    """Of a bearing that came with its grease; another is filled with fresh grease."""
    with_grease = {"sealed", "greased"} & set(case.requirement.kinds)
    return Bounds(None, GREASE_KEEPS_MONTHS) if with_grease else None


STEP = Step(
    id=STEP_ID,
    version=1,
    row=4,
    stage=Stage.RECEIVE,
    fields=(
        Field("shelf_age", Quantity("count", ("months",), 0, 120)),
        Field("store_humidity", Quantity("ratio", ("%",), 100_000, 1_000_000)),
        Field("store_temperature", Quantity("temperature", TEMPERATURES, -10_000, 45_000), optional=True),
        Field("stored", Choice(("lying flat", "standing"))),
        Field("store_shaken", Choice(("no", "yes"))),
        Field("open_for", Quantity("time", ("min", "h"), 0, 86_400_000)),
        Field("preserved", Choice(("kept", "washed off", "touched with bare hands"))),
    ),
    rules=(
        limit_rule(
            "grease-age",
            Stage.RECEIVE,
            STEP_ID,
            "shelf_age",
            "months",
            f"{PRACTICE}: grease keeps two to three years",
            _grease_age,
            bad=Verdict.QUERY,
            may=LOOK,
        ),
        limit_rule(
            "store-dry",
            Stage.RECEIVE,
            STEP_ID,
            "store_humidity",
            "ppm",
            f"{PRACTICE}: 60 to 65 % at most",
            at_most(DRY_PPM),
            bad=Verdict.QUERY,
            may=LOOK,
        ),
        look_rule("stored-flat", Stage.RECEIVE, STEP_ID, "stored", ("lying flat",), PRACTICE),
        look_rule("store-still", Stage.RECEIVE, STEP_ID, "store_shaken", ("no",), PRACTICE),
        limit_rule(
            "open-time",
            Stage.RECEIVE,
            STEP_ID,
            "open_for",
            "ms",
            "house rule: a shift",
            at_most(OPEN_MS),
            bad=Verdict.QUERY,
            may=LOOK,
        ),
        look_rule(
            "kept-preserved",
            Stage.RECEIVE,
            STEP_ID,
            "preserved",
            ("kept",),
            "MIL-DTL-197L §6.3; US Army TM 10-3930-643-34 §2-14: a new bearing is not washed",
        ),
    ),
)
