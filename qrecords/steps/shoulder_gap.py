"""The shoulder gap, felt cold with blades, angle by angle from the keyway."""

from collections.abc import Sequence
from dataclasses import replace

from qrecords.engineering import gap as model
from qrecords.engineering.errors import EngineeringError
from qrecords.steps.case import Answered, Case, once_a_case
from qrecords.steps.felt_cold import COLD_WITHIN_MK, STEP_ID, at_feeling, felt_warm, warm
from qrecords.steps.felt_cold import TEMPERATURES as WARMTH
from qrecords.steps.fields import Field, Gear, Quantity
from qrecords.steps.findings import Fact, Finding, Verdict
from qrecords.steps.measurement import TEMPERATURES
from qrecords.steps.rules import LOOK, Rule, Stage, absent, before_heat, standing
from qrecords.steps.step import Step

LARGE_BORE_MM = 150
_ROOM = Quantity("temperature", TEMPERATURES, -20_000, 60_000)
ANGLE = r"(?:0|[1-9][0-9]?|[12][0-9][0-9]|3[0-5][0-9])"
"""Degrees from the keyway, below 360, one spelling a place."""


def wanted_angles(case: Case) -> list[str]:
    """Four quarters from the keyway; six positions over 150 mm bore (common practice, no source)."""
    count = 6 if case.requirement.nominal_mm > LARGE_BORE_MM else 4
    return [str(360 * place // count) for place in range(count)]


def gap_limit_nm(case: Case) -> int:
    """The blade that must not enter: the drawing's own, else the procedure's."""
    own = case.requirement.gap_nm
    return case.procedure.blade_limit_nm if own is None else own


def felt(case: Case) -> list[Answered]:
    return [a for a in case.many(STEP_ID, "gap") if case.value_of(STEP_ID, a.key)]


def rests(case: Case) -> list[Answered]:
    """What was felt, with which blades, and how warm it was."""
    return [*case.many(STEP_ID, "gap"), *standing(case, STEP_ID, "feeler", "ring_temp", "shaft_temp")]


def angle(answered: Answered) -> float:
    return float(answered.key.split(".", 1)[1])


def readings(case: Case) -> list[model.GapReading]:
    """Each angle as an interval: the blade that enters and the next thicker one of the set."""
    feeler = case.gear(STEP_ID, "feeler")
    limit = gap_limit_nm(case)
    blades = sorted(feeler.blades_nm) if feeler else []
    found = []
    for answered in felt(case):
        thicker = [blade for blade in blades if blade > answered.base]
        stops = limit if answered.base == 0 else (thicker[0] if thicker else None)
        stops_um = None if stops is None else stops / 1000
        found.append(model.GapReading(angle(answered), answered.base / 1000, stops_um))
    return found


def radius_mm(case: Case) -> float:
    asked = case.requirement
    return model.shoulder_radius_mm(float(asked.nominal_mm), float(asked.outside_mm))


@once_a_case
def plane(case: Case) -> model.Plane | None:
    try:
        return model.plane(readings(case), radius_mm(case))
    except EngineeringError:
        return None


def _cold(rule: Rule, case: Case) -> list[Finding]:
    for key in ("ring_temp", "shaft_temp"):
        if case.value_of(STEP_ID, key) is None:
            rests = standing(case, STEP_ID, "ring_temp", "shaft_temp")
            return absent(rule, case, STEP_ID, key, "cold when checked", rests)
    ring, shaft = (case.value_of(STEP_ID, key) for key in ("ring_temp", "shaft_temp"))
    assert ring is not None and shaft is not None  # noqa: S101 - both were just found
    overtaken = before_heat(rule, case, "cold when checked", [ring, shaft], [ring, shaft])
    if overtaken:
        return overtaken
    above = ring.base - shaft.base
    verdict, message, inputs = Verdict.CONFORMING, "", [ring, shaft]
    if warm(case):
        verdict = Verdict.NOT_PROVEN
    elif before := felt_while_warm(case):
        verdict, message, inputs = Verdict.NOT_PROVEN, "felt-warm", [*inputs, *before, *_warmth(case, before)]
    finding = rule.finding("cold when checked", verdict, message, inputs=inputs, above_mk=above)
    return [replace(finding, unit="mK", value=above, upper=COLD_WITHIN_MK)]


@once_a_case
def felt_while_warm(case: Case) -> tuple[Answered, ...]:
    return tuple(gap for gap in felt(case) if felt_warm(case, gap))


def _warmth(case: Case, gaps: Sequence[Answered]) -> list[Answered]:
    """The temperatures that stood when these gaps were felt."""
    told = [at_feeling(case, gap, key) for gap in gaps for key in WARMTH]
    return [answered for answered in told if answered is not None]


def _gap(rule: Rule, case: Case) -> list[Finding]:
    """A blade of the limit or more that goes in anywhere does not conform; no guard (ruling 19). That none
    goes in is said by the blade of the limit alone: without a named set *missing*, without that blade in it
    *not proven*."""
    found = felt(case)
    wanted = [f"gap.{at}" for at in wanted_angles(case)]
    if not found:
        return absent(rule, case, STEP_ID, wanted[0], "shoulder gap", rests(case))
    overtaken = before_heat(rule, case, "shoulder gap", found, rests(case))
    if overtaken:
        return overtaken
    limit = gap_limit_nm(case)
    worst = max(found, key=lambda answered: answered.base)
    lacking = [key for key in wanted if case.value_of(STEP_ID, key) is None]
    feeler = case.gear(STEP_ID, "feeler")
    if feeler is None and worst.base < limit:
        return absent(rule, case, STEP_ID, "feeler", "shoulder gap", rests(case))
    facts: dict[str, Fact] = {
        "gap_nm": worst.base,
        "angle": worst.key.split(".", 1)[1],
        "limit_nm": limit,
        "count": len(found),
        "wanted": len(wanted),
    }
    verdict, message = Verdict.CONFORMING, ""
    before = felt_while_warm(case)
    if warm(case) or before:
        verdict, message = Verdict.NOT_PROVEN, "warm" if warm(case) else "felt-warm"
    elif worst.base >= limit:
        verdict = Verdict.NONCONFORMING
        message = "some" if lacking else _reading_of(case).replace(" ", "-")
    elif lacking:
        first = case.said(STEP_ID, lacking[0])
        if first is not None:
            return absent(rule, case, STEP_ID, lacking[0], "shoulder gap", rests(case))
        places = _degrees(lacking)
        finding = rule.finding(
            "shoulder gap", Verdict.MISSING, "incomplete", inputs=rests(case), places=places
        )
        return [finding]
    elif feeler is not None and limit not in feeler.blades_nm:
        verdict, message = Verdict.NOT_PROVEN, "no-blade"
        facts["mark"] = feeler.mark
    fitted = plane(case)
    inputs = [*rests(case), *_warmth(case, before)]
    finding = rule.finding("shoulder gap", verdict, message, inputs=inputs, **facts)
    return [
        replace(
            finding,
            unit="nm",
            value=worst.base,
            upper=limit,
            working=fitted.tilt if fitted and verdict == Verdict.NONCONFORMING else None,
        )
    ]


def _degrees(keys: Sequence[str]) -> str:
    return ", ".join(f"{key.partition('.')[2]}°" for key in keys)


def _reading_of(case: Case) -> str:
    """*tilted*, *not seated*, or *burr or bad reading*: what the gaps say together once every angle is felt.
    *Not seated* is a gap all round; what goes in here and there without a tilt is *some*."""
    limit = gap_limit_nm(case)
    try:
        return model.seating(readings(case), radius_mm(case), limit / 1000)
    except EngineeringError:
        return model.IN_PLACES


def _plane(rule: Rule, case: Case) -> list[Finding]:
    """A flat ring, tilted or not, has its gaps on a plane: one that lies off by more than 2 u is a burr, dirt
    or a bad reading, and somebody looks."""
    fitted = plane(case)
    if fitted is None or fitted.residual_um is None or fitted.fits:
        return []
    finding = rule.finding(
        "gaps on one plane",
        Verdict.QUERY,
        inputs=rests(case),
        off_nm=round(fitted.residual_um * 1000),
        angle=f"{fitted.residual_deg:.0f}",
    )
    return [finding]


STEP = Step(
    id=STEP_ID,
    version=1,
    row=27,
    stage=Stage.COLD,
    fields=(
        Field("feeler", Gear(("feeler set",), ("gap",))),
        Field("ring_temp", _ROOM),
        Field("shaft_temp", _ROOM),
        Field("gap", Quantity("length", ("mm", "um", "in"), 0, 500_000), many=True, place=ANGLE),
    ),
    rules=(
        Rule("cold-when-checked", 3, Stage.COLD, "common practice, no source", _cold, hold="cold"),
        Rule(
            "shoulder-gap",
            4,
            Stage.COLD,
            "MIL-HDBK-1164 table 17: pressed firmly, checked with a feeler; blade: house rule",
            _gap,
            hold="cold",
            row="shoulder-gap",
        ),
        Rule("gap-plane", 1, Stage.COLD, "own arithmetic: least squares plane", _plane, LOOK),
    ),
)
