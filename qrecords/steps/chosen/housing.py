"""Row 16: the housing bore, which bearing floats, and whether it has room for the shaft to grow."""

from dataclasses import replace
from decimal import Decimal

from qrecords.engineering import measurement as metrology
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.limits import Limits, limits_of_size
from qrecords.engineering.materials import ALPHA_SHAFT
from qrecords.engineering.result import Result, said
from qrecords.steps.case import Answered, Case
from qrecords.steps.fields import Choice, Field, Gear, Quantity, Words
from qrecords.steps.findings import Fact, Finding, Verdict
from qrecords.steps.limits import Bounds, limit_rule
from qrecords.steps.measurement import ACROSS, LENGTHS, PLACE, worst_verdict
from qrecords.steps.rules import ENGINEER, Rule, Stage, absent, choice_rule, standing
from qrecords.steps.step import Step

STEP_ID = "housing"
PLACES = tuple(f"{plane}.{at}" for plane in "ABC" for at in ("0", "60", "120"))
GROWS = "own arithmetic: α·L·ΔT"


def limits_of_housing(case: Case) -> Limits | None:
    """By the class that was read off the drawing; None where there is none, or no such hole."""
    told = case.value_of(STEP_ID, "housing_class")
    try:
        return limits_of_size(case.requirement.outside_mm, told.word, case.tables) if told else None
    except EngineeringError:
        return None


def _bore(rule: Rule, case: Case) -> list[Finding]:
    """Every reading against the class, never the mean; the finding names the worst."""
    read = [a for a in case.many(STEP_ID, "housing_bore") if case.value_of(STEP_ID, a.key)]
    rests = [
        *case.many(STEP_ID, "housing_bore"),
        *standing(case, STEP_ID, "housing_class", "housing_gauge"),
    ]
    lacking = [f"housing_bore.{place}" for place in PLACES]
    lacking = [key for key in lacking if case.value_of(STEP_ID, key) is None]
    if not read or lacking:
        return absent(rule, case, STEP_ID, lacking[0], rule.id, rests)
    if case.value_of(STEP_ID, "housing_class") is None:
        return absent(rule, case, STEP_ID, "housing_class", rule.id, rests)
    limits, gauge = limits_of_housing(case), case.gear(STEP_ID, "housing_gauge")
    if limits is None:
        return [rule.finding(rule.id, Verdict.NOT_PROVEN, "no-class", inputs=rests)]
    return [_against(rule, case, limits, read, gauge.standard_u if gauge else None, rests)]


def _against(
    rule: Rule, case: Case, limits: Limits, read: list[Answered], u: int | None, rests: list[Answered]
) -> Finding:
    nominal = int(case.requirement.outside_mm * Decimal(1_000_000))
    low, high, factor = limits.lower_nm, limits.upper_nm, case.procedure.guard_factor
    off = {a.key: a.base - nominal for a in read}
    worst = min(off, key=lambda key: min(off[key] - low, high - off[key]))
    verdicts = [metrology.decide(nm, low, high, u or 0, factor) for nm in off.values()]
    verdict = worst_verdict(verdicts) if u is not None else Verdict.NOT_PROVEN
    plane, at = worst.split(".")[1:3]
    facts: dict[str, Fact] = {"value_nm": off[worst], "least_nm": low, "most_nm": high}
    facts |= {"plane": plane, "direction": at}
    message = "" if u is not None else "no-gauge"
    finding = rule.finding(rule.id, verdict, message, inputs=rests, **facts)
    return replace(
        finding,
        unit="nm",
        value=off[worst],
        u=u,
        lower=low,
        upper=high,
        source=limits.source,
        unconfirmed=limits.unconfirmed,
    )


def growth(case: Case) -> tuple[int, Result] | None:
    """How much the shaft grows past its housing between the two bearings, in nm; None until both are told."""
    apart, warmer = case.value_of(STEP_ID, "bearings_apart"), case.value_of(STEP_ID, "warmer_by")
    if apart is None or warmer is None:
        return None
    length_mm, rise_k = apart.base / 1e6, warmer.base / 1000
    grows_mm = ALPHA_SHAFT * length_mm * rise_k
    put_in = (("α", said(ALPHA_SHAFT, "1/K")), ("L", said(length_mm, "mm")), ("ΔT", said(rise_k, "K")))
    working = Result(grows_mm, "mm", None, "ΔL = α·L·ΔT", put_in, ("the housing stays cold",), GROWS, ())
    return round(grows_mm * 1e6), working


def _room(key: str) -> Rule:
    """Room of the floating bearing one way; nothing is asked of one that locates."""

    def bounds(case: Case) -> Bounds | None:
        floats, grown = case.value_of(STEP_ID, "floats"), growth(case)
        if floats is None or floats.word != "this bearing":
            return None
        rests = tuple(standing(case, STEP_ID, "floats", "bearings_apart", "warmer_by"))
        if grown is None:
            apart = case.value_of(STEP_ID, "bearings_apart")
            return Bounds(None, None, rests=rests, lacking="bearings_apart" if apart is None else "warmer_by")
        return Bounds(grown[0], None, GROWS, rests=rests, working=grown[1])

    return limit_rule(
        key.replace("_", "-"), Stage.MEASURE, STEP_ID, key, "nm", GROWS, bounds, may=ENGINEER, hold="fit"
    )


STEP = Step(
    id=STEP_ID,
    version=1,
    row=16,
    stage=Stage.MEASURE,
    task="measure",
    fields=(
        Field("housing_class", Words(8)),
        Field("housing_gauge", Gear(("bore gauge",), ("housing_bore",))),
        Field("housing_bore", ACROSS, many=True, place=PLACE, places=PLACES),
        Field("floats", Choice(("this bearing", "the other bearing", "neither"))),
        Field("bearings_apart", Quantity("length", ("mm", "m", "in"), 20_000_000, 20_000_000_000)),
        Field("warmer_by", Quantity("temperature_difference", ("K", "°F"), 0, 150_000)),
        Field("room_outward", Quantity("length", LENGTHS, 0, 30_000_000)),
        Field("room_inward", Quantity("length", LENGTHS, 0, 30_000_000)),
    ),
    rules=(
        Rule("housing-bore", 1, Stage.MEASURE, "ISO 286-2; ISO 14253-1", _bore, ENGINEER, hold="fit"),
        choice_rule(
            "one-floats",
            Stage.MEASURE,
            STEP_ID,
            "floats",
            ("this bearing", "the other bearing"),
            "gear-reducer maintenance procedure, petrochemical: one outer ring must be able to move",
            may=ENGINEER,
            hold="fit",
        ),
        _room("room_outward"),
        _room("room_inward"),
    ),
)
