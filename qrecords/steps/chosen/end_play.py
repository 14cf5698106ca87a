"""Row 30: end play or preload, with force and turns, shims before and after, drag torque."""

from qrecords.steps.case import Case
from qrecords.steps.fields import Choice, Field, Gear, Quantity, Words
from qrecords.steps.findings import Fact, Finding, Verdict
from qrecords.steps.limits import Bounds, BoundsOf, limit_rule
from qrecords.steps.measurement import LENGTHS
from qrecords.steps.rules import ENGINEER, LOOK, Rule, Stage, asked_rule, standing
from qrecords.steps.step import Step

STEP_ID = "end_play"
DRAWING = "the drawing"
_PLAY = Quantity("length", LENGTHS, 0, 3_000_000)
_DRAG = Quantity("torque", ("N·m", "mN·m", "lbf·in"), 0, 200_000)
TIMES = (3, 30)
"""End play of a ball bearing is roughly 8 to 10 times its radial clearance (textbook, from memory): only the
order of magnitude is asked about."""


def _of_drawing(wanted: str, least: str, most: str) -> BoundsOf:
    """Both ends as read off the drawing; nothing where the drawing asks the other thing."""

    def bounds(case: Case) -> Bounds | None:
        asks = case.value_of(STEP_ID, "drawing_asks")
        if asks is None or asks.word not in (wanted, "both"):
            return None
        ends = [case.value_of(STEP_ID, key) for key in (least, most)]
        rests = tuple(standing(case, STEP_ID, "drawing_asks", least, most))
        if ends[0] is None or ends[1] is None:
            return Bounds(None, None, rests=rests, lacking=least if ends[0] is None else most)
        return Bounds(ends[0].base, ends[1].base, DRAWING, rests=rests)

    return bounds


def _and_clearance(rule: Rule, case: Case) -> list[Finding]:
    """End play beside the radial clearance of a ball bearing: a dial set wrong is out by ten."""
    play, g1 = case.value_of(STEP_ID, "end_play"), case.value_of("clearance_after", "g1")
    if play is None or g1 is None or g1.base == 0 or "ball" not in case.requirement.clearance_kind:
        return []
    low, high = (times * g1.base for times in TIMES)
    verdict = Verdict.CONFORMING if low <= play.base <= high else Verdict.QUERY
    facts: dict[str, Fact] = {"play_nm": play.base, "g1_nm": g1.base, "times": round(play.base / g1.base)}
    return [rule.finding(rule.id, verdict, "", inputs=[play, g1], **facts)]


STEP = Step(
    id=STEP_ID,
    version=1,
    row=30,
    stage=Stage.COLD,
    task="measure",
    repeated=True,
    fields=(
        Field("drawing_asks", Choice(("end play", "preload", "both", "neither"))),
        Field("play_least", _PLAY),
        Field("play_most", _PLAY),
        Field("end_play", _PLAY),
        Field("play_dial", Gear(("dial indicator",), ("end_play",)), optional=True),
        Field("play_force", Quantity("force", ("N", "kN", "lbf"), 0, 20_000_000), optional=True),
        Field("turns_before", Quantity("count", ("turns",), 0, 200), optional=True),
        Field("shims_old", Words(80), optional=True),
        Field("shims_new", Words(80), optional=True),
        Field("nut_angle", Quantity("angle", ("°",), 0, 360_000), optional=True),
        Field("nut_torque", Quantity("torque", ("N·m", "lbf·ft"), 0, 5_000_000), optional=True),
        Field("drag_least", _DRAG),
        Field("drag_most", _DRAG),
        Field("drag_torque", _DRAG),
    ),
    rules=(
        asked_rule("play-asked", Stage.COLD, STEP_ID, "drawing_asks", DRAWING),
        limit_rule(
            "end-play",
            Stage.COLD,
            STEP_ID,
            "end_play",
            "nm",
            DRAWING,
            _of_drawing("end play", "play_least", "play_most"),
            gauge="play_dial",
            may=ENGINEER,
            row="end-play",
            hold="cold",
            after_heat=True,
        ),
        limit_rule(
            "drag-torque",
            Stage.COLD,
            STEP_ID,
            "drag_torque",
            "mN·m",
            DRAWING,
            _of_drawing("preload", "drag_least", "drag_most"),
            may=ENGINEER,
            row="end-play",
            hold="cold",
            after_heat=True,
        ),
        Rule(
            "play-and-clearance",
            1,
            Stage.COLD,
            "textbook, from memory: 8 to 10 times the radial clearance",
            _and_clearance,
            LOOK,
        ),
    ),
)
