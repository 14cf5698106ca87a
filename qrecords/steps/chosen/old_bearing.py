"""Row 2: the old bearing and its seat as they were found, before anything is wiped away."""

from qrecords.steps.fields import Choice, Field, Words
from qrecords.steps.rules import Stage, asked_rule, look_rule
from qrecords.steps.step import Step

STEP_ID = "old_bearing"
SOURCE = "ANSI/EASA AR100-2020: inspect, and document distress before and after cleaning"
STEP = Step(
    id=STEP_ID,
    version=1,
    row=2,
    stage=Stage.RECEIVE,
    fields=(
        Field("old_designation", Words(80), optional=True),
        Field("track", Choice(("in the middle", "to one side", "oblique", "cannot be seen"))),
        Field("seat_colour", Choice(("bright", "red-brown", "polished", "temper colours", "scored"))),
        Field("old_ring", Choice(("stood still", "crept on its seat"))),
        Field("damage", Words(160), optional=True),
        Field("fate", Choice(("kept", "scrapped", "no old bearing"))),
        Field("bag", Words(40), optional=True),
    ),
    rules=(
        asked_rule("old-track", Stage.RECEIVE, STEP_ID, "track", SOURCE),
        asked_rule("old-seat", Stage.RECEIVE, STEP_ID, "seat_colour", SOURCE),
        look_rule("old-ring-crept", Stage.RECEIVE, STEP_ID, "old_ring", ("stood still",), SOURCE, hold="fit"),
        asked_rule("old-bearing-kept", Stage.RECEIVE, STEP_ID, "fate", SOURCE),
    ),
)
