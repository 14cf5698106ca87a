"""Row 1: the drawing in hand is the one the record is judged by, and the place is the one on the order."""

from qrecords.steps.case import Case
from qrecords.steps.fields import Choice, Field, Words
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.identification import characters
from qrecords.steps.rules import ENGINEER, Rule, Stage, absent, choice_rule, look_rule, standing
from qrecords.steps.step import Step

STEP_ID = "work_order"
PRACTICE = "common practice, no source"
IN_HAND = ("drawing_in_hand", "revision_in_hand")


def _drawing(rule: Rule, case: Case) -> list[Finding]:
    """Read off the paper in hand: drawing and revision, character by character. Another revision may ask
    another fit, so nothing is proven by readings judged against this one."""
    rests = standing(case, STEP_ID, *IN_HAND)
    said = [case.value_of(STEP_ID, key) for key in IN_HAND]
    for key, found in zip(IN_HAND, said, strict=True):
        if found is None:
            return absent(rule, case, STEP_ID, key, rule.id, rests)
    read = tuple(found.word for found in said if found)
    wanted = (case.requirement.drawing, case.requirement.revision)
    same = [characters(word) for word in read] == [characters(word) for word in wanted]
    verdict = Verdict.CONFORMING if same else Verdict.NOT_PROVEN
    told = {"read": " rev. ".join(read), "wanted": " rev. ".join(wanted)}
    return [rule.finding(rule.id, verdict, inputs=rests, **told)]


STEP = Step(
    id=STEP_ID,
    version=1,
    row=1,
    stage=Stage.RECEIVE,
    fields=(
        Field("drawing_in_hand", Words(60)),
        Field("revision_in_hand", Words(20)),
        Field("machine_plate", Choice(("as ordered", "another", "cannot be read"))),
        Field("lubricant_asked", Words(80), optional=True),
        Field("customer_points", Choice(("none", "told in time", "not told"))),
        Field("mounted_before", Choice(("no", "yes"))),
    ),
    rules=(
        Rule("drawing-in-hand", 1, Stage.RECEIVE, PRACTICE, _drawing, ENGINEER, hold="fit"),
        look_rule(
            "machine-as-ordered",
            Stage.RECEIVE,
            STEP_ID,
            "machine_plate",
            ("as ordered",),
            PRACTICE,
            hold="fit",
        ),
        choice_rule(
            "customer-told", Stage.RECEIVE, STEP_ID, "customer_points", ("none", "told in time"), PRACTICE
        ),
        look_rule("mounted-before", Stage.RECEIVE, STEP_ID, "mounted_before", ("no",), PRACTICE),
    ),
)
