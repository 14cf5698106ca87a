"""Row 17: the setting, and that the bearing in hand is of the kind that the setting was made for."""

from qrecords.engineering.heating import Plan
from qrecords.steps.case import Answered, Case
from qrecords.steps.fields import Choice, Field, Quantity
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.fit import ceiling, ceiling_rests, heating_plan, inputs_of
from qrecords.steps.limits import Bounds, limit_rule
from qrecords.steps.measurement import TEMPERATURES
from qrecords.steps.rules import ENGINEER, LOOK, Rule, Stage, absent, look_rule, standing
from qrecords.steps.step import Step

STEP_ID = "heat_plan"
PRACTICE = "common practice, no source"
OF_SEAL = {"open": frozenset(), "sealed or shielded": frozenset({"sealed", "greased"})}
OF_CAGE = {"polyamide": frozenset({"polyamide_cage"}), "steel or brass": frozenset()}


def _kind_rule(id: str, key: str, kinds: dict[str, frozenset[str]]) -> Rule:
    """As seen on the bearing in hand, against the kinds its order names: the setting of an open
    one spoils grease, seal and polyamide."""
    every = frozenset().union(*kinds.values())

    def judge(rule: Rule, case: Case) -> list[Finding]:
        seen = case.value_of(STEP_ID, key)
        if seen is None:
            return absent(rule, case, STEP_ID, key, rule.id)
        ordered = every & set(case.requirement.kinds)
        same = bool(ordered & kinds[seen.word]) if kinds[seen.word] else not ordered
        verdict = Verdict.CONFORMING if same else Verdict.NONCONFORMING
        wanted = " or ".join(word for word, own in kinds.items() if bool(own & ordered) == bool(ordered))
        return [rule.finding(rule.id, verdict, inputs=[seen], said=seen.word, wanted=wanted)]

    return Rule(id, 1, Stage.HEAT, PRACTICE, judge, ENGINEER)


def _never_above(case: Case) -> Bounds:
    limit = ceiling(case)
    doubts = () if limit.confirmed else (f"ceiling {limit.kind}: {limit.source}",)
    return Bounds(None, round(limit.cap_c * 1000), limit.source, doubts, tuple(ceiling_rests(case)))


def _must_reach(case: Case) -> Bounds | None:
    """What the measured fit needs, where a plan can be made."""
    plan = heating_plan(case)
    if not isinstance(plan, Plan):
        return None
    rests: tuple[Answered | str, ...] = (*inputs_of(case), *standing(case, "measurement", "shaft", "air"))
    return Bounds(round(plan.contact.value * 1000), None, plan.contact.source, (), rests, plan.contact)


STEP = Step(
    id=STEP_ID,
    version=1,
    row=17,
    stage=Stage.HEAT,
    task="heat",
    fields=(
        Field("seal_seen", Choice(tuple(OF_SEAL))),
        Field("cage_seen", Choice(tuple(OF_CAGE))),
        Field("target", Quantity("temperature", TEMPERATURES, 40_000, 150_000)),
        Field("dry_run", Choice(("yes", "no"))),
    ),
    rules=(
        _kind_rule("seal-as-ordered", "seal_seen", OF_SEAL),
        _kind_rule("cage-as-ordered", "cage_seen", OF_CAGE),
        limit_rule(
            "target-under-ceiling", Stage.HEAT, STEP_ID, "target", "m°C", PRACTICE, _never_above, may=ENGINEER
        ),
        limit_rule(
            "target-reaches",
            Stage.HEAT,
            STEP_ID,
            "target",
            "m°C",
            "own arithmetic: exact expansion",
            _must_reach,
            bad=Verdict.QUERY,
            may=LOOK,
        ),
        look_rule("dry-run", Stage.HEAT, STEP_ID, "dry_run", ("yes",), PRACTICE),
    ),
)
