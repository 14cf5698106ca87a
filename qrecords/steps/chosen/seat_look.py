"""Row 5: the seat all round in raking light: nicks, fretting, old repairs, keyway, threads, oil holes."""

from qrecords.steps.fields import Choice, Field, Words
from qrecords.steps.rules import Stage, choice_rule, look_rule
from qrecords.steps.step import Step

STEP_ID = "seat_look"
MANUAL = "US Army TM 10-3930-643-34 §2-14: remove burrs and slivers, clean keyways"
PRACTICE = "common practice, no source"
NO_RAISED_METAL = f"{PRACTICE}: no raised metal, by marker-blue or fingernail"
STEP = Step(
    id=STEP_ID,
    version=1,
    row=5,
    stage=Stage.RECEIVE,
    fields=(
        Field("nicks", Choice(("none", "removed", "left"))),
        Field("fretting", Choice(("none", "removed", "left"))),
        Field("repair", Choice(("none", "sound", "soft or loose"))),
        Field("keyway", Choice(("none", "edges broken", "edges sharp"))),
        Field("threads", Choice(("none", "covered", "bare"))),
        Field("oil_holes", Choice(("none", "clean", "blocked"))),
        Field("remedy", Words(160), optional=True),
    ),
    rules=(
        choice_rule(
            "seat-nicks", Stage.RECEIVE, STEP_ID, "nicks", ("none", "removed"), NO_RAISED_METAL, hold="fit"
        ),
        choice_rule(
            "seat-fretting", Stage.RECEIVE, STEP_ID, "fretting", ("none", "removed"), PRACTICE, hold="fit"
        ),
        choice_rule("seat-repair", Stage.RECEIVE, STEP_ID, "repair", ("none", "sound"), PRACTICE, hold="fit"),
        choice_rule(
            "keyway-edges", Stage.RECEIVE, STEP_ID, "keyway", ("none", "edges broken"), MANUAL, hold="fit"
        ),
        look_rule("threads-covered", Stage.RECEIVE, STEP_ID, "threads", ("none", "covered"), PRACTICE),
        choice_rule(
            "oil-holes", Stage.RECEIVE, STEP_ID, "oil_holes", ("none", "clean"), PRACTICE, hold="fit"
        ),
    ),
)
