"""Row 3: who delivered the bearing, whether its box was sealed, and whether its origin is in doubt."""

from qrecords.steps.fields import Choice, Field, Quantity, Words
from qrecords.steps.rules import Stage, asked_rule, choice_rule, look_rule
from qrecords.steps.step import Step

STEP_ID = "delivery"
PRACTICE = "common practice, no source"
DOUBT = f"{PRACTICE}: doubt on its origin means quarantine, unopened"
STEP = Step(
    id=STEP_ID,
    version=1,
    row=3,
    stage=Stage.RECEIVE,
    fields=(
        Field("supplier", Words(80)),
        Field("delivery_number", Words(60)),
        Field("quantity", Quantity("count", ("pcs",), 1, 100), optional=True),
        Field("seal", Choice(("unbroken", "broken", "none"))),
        Field("origin", Choice(("no doubt", "in doubt"))),
        Field("quarantine", Choice(("no", "yes"))),
    ),
    rules=(
        asked_rule("supplier-named", Stage.RECEIVE, STEP_ID, "supplier", PRACTICE),
        asked_rule("delivery-named", Stage.RECEIVE, STEP_ID, "delivery_number", PRACTICE),
        look_rule("box-seal", Stage.RECEIVE, STEP_ID, "seal", ("unbroken",), PRACTICE),
        choice_rule(
            "origin-sure", Stage.RECEIVE, STEP_ID, "origin", ("no doubt",), DOUBT, row="marking", hold="fit"
        ),
        choice_rule(
            "out-of-quarantine",
            Stage.RECEIVE,
            STEP_ID,
            "quarantine",
            ("no",),
            DOUBT,
            row="marking",
            hold="fit",
        ),
    ),
)
