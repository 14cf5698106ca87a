"""Row 18: hands, lifting, leads and air before the heat. Nobody's health is asked about or kept."""

from qrecords.engineering.cooling import mass_estimate
from qrecords.steps.case import Case
from qrecords.steps.fields import Choice, Field
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.fit import ring_of
from qrecords.steps.rules import Rule, Stage, absent, choice_rule, standing
from qrecords.steps.step import Step

STEP_ID = "safety"
YES_NO = Choice(("yes", "no"))
BY_HAND_KG = 25.0
"""Held close to the body; half of it at arm's length (UK guide, from memory); hot, less."""
PRACTICE = "common practice, no source"


def mass_kg(case: Case) -> float:
    """As the drawing or a scale tells it, else estimated from the sizes."""
    weighed = case.requirement.mass_kg
    return float(weighed) if weighed is not None else mass_estimate(ring_of(case)).value


def _lifted(rule: Rule, case: Case) -> list[Finding]:
    """By hand up to 25 kg close to the body; above it an aid or several hands."""
    found = case.value_of(STEP_ID, "lifted_by")
    if found is None:
        return absent(rule, case, STEP_ID, "lifted_by", rule.id)
    grams = round(mass_kg(case) * 1000)
    heavy = found.word == "one person" and grams > BY_HAND_KG * 1000
    verdict = Verdict.NONCONFORMING if heavy else Verdict.CONFORMING
    message = "too-heavy" if heavy else "lifted"
    return [rule.finding(rule.id, verdict, message, inputs=[found], by=found.word, mass_g=grams)]


def _fire_watch(rule: Rule, case: Case) -> list[Finding]:
    """Asked of an oil bath: flash point known, fire watched, no water near it."""
    heater = case.gear("heating", "heater")
    if heater is None or heater.heater_kind != "oil bath":
        return []
    found, rests = case.value_of(STEP_ID, "fire_watch"), standing(case, "heating", "heater")
    if found is None:
        return absent(rule, case, STEP_ID, "fire_watch", rule.id, rests)
    verdict = Verdict.CONFORMING if found.word == "yes" else Verdict.NONCONFORMING
    return [rule.finding(rule.id, verdict, inputs=[found, *rests], said=found.word, wanted="yes")]


STEP = Step(
    id=STEP_ID,
    version=1,
    row=18,
    stage=Stage.HEAT,
    fields=(
        Field("rings_off", YES_NO),
        Field("gloves", Choice(("for contact heat", "other", "none"))),
        Field("lifted_by", Choice(("one person", "several", "lifting aid"))),
        Field("leads_isolated", YES_NO),
        Field("ventilated", YES_NO),
        Field("fire_watch", YES_NO),
    ),
    rules=(
        choice_rule("rings-off", Stage.HEAT, STEP_ID, "rings_off", ("yes",), PRACTICE),
        choice_rule(
            "gloves-on",
            Stage.HEAT,
            STEP_ID,
            "gloves",
            ("for contact heat",),
            "EN 407 contact level 2 (250 °C, 15 s), from memory; ISO 13732-1, from memory",
        ),
        Rule("lifted-safely", 1, Stage.HEAT, "UK manual handling guide, from memory: 25 kg", _lifted),
        choice_rule("leads-isolated", Stage.HEAT, STEP_ID, "leads_isolated", ("yes",), PRACTICE),
        choice_rule("ventilated", Stage.HEAT, STEP_ID, "ventilated", ("yes",), PRACTICE),
        Rule("fire-watched", 1, Stage.HEAT, PRACTICE, _fire_watch),
    ),
)
