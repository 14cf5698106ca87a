"""Row 32: which lubricant, of which batch, how much, and whether it agrees with the old one."""

from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.grease import first_fill
from qrecords.steps.case import Case
from qrecords.steps.fields import Choice, Field, Quantity, Words
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.fit import ring_of
from qrecords.steps.identification import characters
from qrecords.steps.limits import Bounds, limit_rule
from qrecords.steps.rules import LOOK, Rule, Stage, absent, asked_rule, choice_rule, standing
from qrecords.steps.step import Step

STEP_ID = "lubrication"
PRACTICE = "common practice, no source"
WITH_OWN_GREASE = frozenset({"sealed", "greased"})


def _product(rule: Rule, case: Case) -> list[Finding]:
    """The product filled in, against what the work order asks where it was read off."""
    filled, wanted = case.value_of(STEP_ID, "product"), case.value_of("work_order", "lubricant_asked")
    if filled is None:
        return absent(rule, case, STEP_ID, "product", rule.id)
    rests = [filled, *standing(case, "work_order", "lubricant_asked")]
    same = wanted is None or characters(wanted.word) == characters(filled.word)
    verdict = Verdict.CONFORMING if same else Verdict.NONCONFORMING
    told = {"said": filled.word} | ({"wanted": wanted.word} if wanted else {})
    return [rule.finding(rule.id, verdict, inputs=rests, **told)]


def _fill(case: Case) -> Bounds | None:
    """30 to 50 % of an open bearing's free room; one that came with its grease gets none, and oil is no
    filling."""
    if WITH_OWN_GREASE & set(case.requirement.kinds):
        return None
    class_ = case.value_of(STEP_ID, "lubricant")
    if class_ is None or class_.word != "grease":
        return None
    try:
        fill = first_fill(ring_of(case))
    except EngineeringError:
        return None
    least, most = (round(each.value * 1000) for each in (fill.least_g, fill.most_g))
    rests = tuple(standing(case, STEP_ID, "lubricant"))
    return Bounds(least, most, fill.most_g.source, fill.most_g.unconfirmed, rests, fill.most_g)


STEP = Step(
    id=STEP_ID,
    version=1,
    row=32,
    stage=Stage.CLOSE,
    fields=(
        Field("lubricant", Choice(("grease", "oil", "filled by its maker"))),
        Field("product", Words(80)),
        Field("batch", Words(40)),
        Field("mass", Quantity("mass", ("g", "kg", "oz"), 0, 10_000_000)),
        Field("cavity_mass", Quantity("mass", ("g", "kg", "oz"), 0, 200_000_000), optional=True),
        Field("beside_old", Choice(("none left", "same product", "agrees", "does not agree", "not known"))),
        Field("gun", Words(40), optional=True),
    ),
    rules=(
        asked_rule("lubricant-kind", Stage.CLOSE, STEP_ID, "lubricant", PRACTICE),
        Rule("lubricant-as-asked", 1, Stage.CLOSE, PRACTICE, _product),
        asked_rule("lubricant-batch", Stage.CLOSE, STEP_ID, "batch", PRACTICE),
        limit_rule(
            "grease-fill",
            Stage.CLOSE,
            STEP_ID,
            "mass",
            "mg",
            PRACTICE,
            _fill,
            bad=Verdict.QUERY,
            may=LOOK,
        ),
        choice_rule(
            "agrees-with-old",
            Stage.CLOSE,
            STEP_ID,
            "beside_old",
            ("none left", "same product", "agrees"),
            PRACTICE,
        ),
    ),
)
