"""Internal clearance: before the fit, forecast, and found after."""

from dataclasses import replace

from qrecords.engineering import clearance as model
from qrecords.engineering import measurement as metrology
from qrecords.engineering.bearings import InternalClearance, internal_clearance
from qrecords.engineering.errors import EngineeringError
from qrecords.steps.case import Case
from qrecords.steps.fields import Choice, Field, Quantity
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.fit import inputs_of, interference, unproved
from qrecords.steps.measurement import LENGTHS
from qrecords.steps.rules import ENGINEER, LOOK, Rule, Stage, absent
from qrecords.steps.step import Step

FEELER_U_NM = 3000
"""u of a clearance felt with blades, unless entered (ruling 18)."""
CERTAIN, POSSIBLE = 0.5, 0.05
_METHODS = Choice(("feeler", "dial indicator"))
_CLEARANCE = Quantity("length", LENGTHS, 0, 500_000)


def group(case: Case) -> InternalClearance | None:
    """The clearance limits of the drawing's group; None where no table has them."""
    asked = case.requirement
    try:
        return internal_clearance(asked.clearance_kind, asked.nominal_mm, asked.clearance_group)
    except EngineeringError:
        return None


def before(case: Case) -> tuple[model.Spread, tuple[str, ...], tuple[str, ...]] | None:
    """G0 with the entries and unconfirmed rows it rests on: measured, else from the group."""
    found = case.value_of("clearance_before", "g0")
    if found is not None:
        return model.Spread.of_reading(found.base / 1000, FEELER_U_NM / 1000), (found.entry,), ()
    limits = group(case)
    if limits is None:
        return None
    return model.Spread.of_limits(limits.min_um, limits.max_um), (), limits.unconfirmed


def forecast(case: Case) -> model.Forecast | None:
    """Residual clearance from G0 and the mean interference; None until the fit is known."""
    fit, found = interference(case), before(case)
    if fit is None or found is None:
        return None
    asked = case.requirement
    spread = model.Spread.of_reading(
        fit.mean.value, fit.mean.u or 0.0, fit.local_min.value, fit.local_max.value
    )
    factor = model.loss_factor(float(asked.nominal_mm), float(asked.outside_mm), float(asked.shaft_bore_mm))
    least_um = (asked.clearance_min_nm or 0) / 1000
    return model.forecast(found[0], spread, float(asked.nominal_mm), factor, asked.seat, least_um)


def _forecast(rule: Rule, case: Case) -> list[Finding]:
    """P(below zero or the drawing's least): from 50 % nonconforming, from 5 % not proven (ruling 18)."""
    fit, found = interference(case), before(case)
    if fit is None:
        return []
    if found is None:
        return [rule.finding("clearance forecast", Verdict.NOT_PROVEN, "no-group", inputs=inputs_of(case))]
    answer = forecast(case)
    assert answer is not None  # noqa: S101 - fit and G0 were just found
    _, entries, unconfirmed = found
    p = answer.p_below
    verdict = Verdict.CONFORMING
    if p >= POSSIBLE or unproved(case):
        verdict = Verdict.NOT_PROVEN
    if p >= CERTAIN and not unproved(case):
        verdict = Verdict.NONCONFORMING
    finding = rule.finding(
        "clearance forecast",
        verdict,
        inputs=[*inputs_of(case), *entries],
        mean_nm=round(answer.mean.value * 1000),
        worst_low_nm=round(answer.worst_low_um * 1000),
        worst_high_nm=round(answer.worst_high_um * 1000),
        below_ppm=round(p * 1_000_000),
        measured="yes" if found[0].measured else "no",
    )
    return [
        replace(
            finding,
            unit="nm",
            value=round(answer.mean.value * 1000),
            u=round((answer.mean.u or 0) * 1000),
            lower=case.requirement.clearance_min_nm or 0,
            working=answer.mean,
            unconfirmed=unconfirmed + answer.mean.unconfirmed,
        )
    ]


def _in_group(rule: Rule, case: Case) -> list[Finding]:
    """A measured G0 inside the drawing's group; *from group* is a full answer and gives no finding."""
    found = case.value_of("clearance_before", "g0")
    if found is None:
        return absent(rule, case, "clearance_before", "g0", "clearance before")
    limits = group(case)
    if limits is None:
        return []
    low, high = round(limits.min_um * 1000), round(limits.max_um * 1000)
    factor = case.procedure.guard_factor
    verdict = Verdict(metrology.decide(found.base, low, high, FEELER_U_NM, factor))
    finding = rule.finding(
        "clearance before", verdict, inputs=[found], g0_nm=found.base, lower_nm=low, upper_nm=high
    )
    return [
        replace(
            finding,
            unit="nm",
            value=found.base,
            u=FEELER_U_NM,
            lower=low,
            upper=high,
            source=limits.source,
            unconfirmed=limits.unconfirmed,
        )
    ]


def _found(rule: Rule, case: Case) -> list[Finding]:
    """G1 against the drawing's least, and against the forecast where G0 and G1 were both measured: beyond
    2 u of the method somebody looks. The only check of the fit that is left after mounting."""
    after = case.value_of("clearance_after", "g1")
    if after is None:
        return absent(rule, case, "clearance_after", "g1", "clearance found")
    least = case.requirement.clearance_min_nm or 0
    factor = case.procedure.guard_factor
    verdict = Verdict(metrology.decide(after.base, least, None, FEELER_U_NM, factor))
    finding = rule.finding("clearance found", verdict, inputs=[after], g1_nm=after.base, lower_nm=least)
    return [replace(finding, unit="nm", value=after.base, u=FEELER_U_NM, lower=least)]


def _as_forecast(rule: Rule, case: Case) -> list[Finding]:
    after, first = case.value_of("clearance_after", "g1"), case.value_of("clearance_before", "g0")
    answer = forecast(case)
    if after is None or first is None or answer is None:
        return []
    mean = round(answer.mean.value * 1000)
    allowed = 2 * round(((FEELER_U_NM / 1000) ** 2 + (answer.mean.u or 0) ** 2) ** 0.5 * 1000)
    off = abs(after.base - mean)
    verdict = Verdict.CONFORMING if off <= allowed else Verdict.QUERY
    finding = rule.finding(
        "clearance as forecast",
        verdict,
        inputs=[after, first, *inputs_of(case)],
        g1_nm=after.base,
        forecast_nm=mean,
        allowed_nm=allowed,
    )
    return [replace(finding, unit="nm", value=off, upper=allowed, working=answer.mean)]


BEFORE = Step(
    id="clearance_before",
    version=1,
    stage=Stage.MEASURE,
    fields=(Field("g0", _CLEARANCE, optional=True), Field("method", _METHODS, optional=True)),
    rules=(
        Rule("clearance-in-group", 1, Stage.MEASURE, "ISO 5753-1", _in_group, ENGINEER, hold="fit"),
        Rule(
            "clearance-forecast",
            1,
            Stage.MEASURE,
            "textbook clearance chain; Lamé",
            _forecast,
            ENGINEER,
            hold="fit",
        ),
    ),
)
AFTER = Step(
    id="clearance_after",
    version=1,
    stage=Stage.COLD,
    fields=(Field("g1", _CLEARANCE, optional=True), Field("method", _METHODS, optional=True)),
    rules=(
        Rule("clearance-found", 1, Stage.COLD, "the drawing, else zero", _found, ENGINEER, hold="cold"),
        Rule("clearance-as-forecast", 1, Stage.COLD, "house rule: 2 u of the method", _as_forecast, LOOK),
    ),
)
