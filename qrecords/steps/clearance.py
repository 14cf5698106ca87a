"""Internal clearance: before the fit, forecast, and found after."""

import math
from dataclasses import replace

from qrecords.engineering import clearance as model
from qrecords.engineering import measurement as metrology
from qrecords.engineering.bearings import InternalClearance, internal_clearance
from qrecords.engineering.errors import EngineeringError
from qrecords.steps.case import Answered, Case, once_a_case
from qrecords.steps.chosen_rows import OF_CLEARANCE
from qrecords.steps.designated import ADJUSTED
from qrecords.steps.fields import Choice, Field, Gear, Quantity
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.fit import fit_doubts, inputs_of, interference, no_fit, unproved
from qrecords.steps.gear import GearRecord
from qrecords.steps.measurement import LENGTHS
from qrecords.steps.requirement import said_from
from qrecords.steps.rules import ENGINEER, LOOK, Rule, Stage, absent, before_heat, entries, standing
from qrecords.steps.step import Step

FEELER_U_NM = 3000
"""u of a clearance felt with blades of which no calibration is known (ruling 18)."""
CERTAIN, POSSIBLE = 0.5, 0.05
_METHODS = Choice(("feeler", "dial indicator"))
_CLEARANCE = Quantity("length", LENGTHS, 0, 500_000)


def _found_by(*reads: str) -> Field:
    """The gauge, with what is read with it: the second row's clearance too, where a procedure asks it."""
    return Field("gauge", Gear(("feeler set", "dial indicator"), reads), optional=True)


@once_a_case
def group(case: Case) -> InternalClearance | None:
    """The clearance limits of the drawing's group; None where no table has them."""
    asked = case.requirement
    try:
        return internal_clearance(asked.clearance_kind, asked.nominal_mm, asked.clearance_group, case.tables)
    except EngineeringError:
        return None


def u_nm(case: Case, step: str, value_nm: int) -> int | None:
    """u of a clearance: that of the gauge it was found with, and of a feeler what lies between its blades
    too. None for a dial indicator without calibration: it proves nothing."""
    gauge = case.gear(step, "gauge")
    if gauge is not None and gauge.standard_u is not None:
        felt = _felt_u_nm(gauge, value_nm) if gauge.kind == "feeler set" else 0.0
        return -int(-math.hypot(gauge.standard_u, felt) // 1)
    method = case.value_of(step, "method")
    by = gauge.kind if gauge else method.word if method else "feeler"
    return None if by == "dial indicator" else FEELER_U_NM


def _felt_u_nm(gauge: GearRecord, value_nm: int) -> float:
    """From the blade that entered to the next one of the set; the house's u where several were stacked."""
    thicker = [blade for blade in gauge.blades_nm if blade > value_nm]
    if value_nm not in gauge.blades_nm or not thicker:
        return FEELER_U_NM
    return (min(thicker) - value_nm) / 12**0.5


def rests(case: Case, step: str, key: str) -> list[Answered]:
    return standing(case, step, key, "gauge", "method")


@once_a_case
def before(case: Case) -> tuple[model.Spread, tuple[str, ...], tuple[str, ...]] | None:
    """G0 with the entries and unconfirmed rows it rests on: measured, else from the group."""
    found = case.value_of("clearance_before", "g0")
    if found is not None:
        u = u_nm(case, "clearance_before", found.base) or 0
        entries_of_g0 = entries(rests(case, "clearance_before", "g0"))
        return model.Spread.of_reading(found.base / 1000, u / 1000), entries_of_g0, ()
    limits = group(case)
    if limits is None:
        return None
    absent_g0 = entries(rests(case, "clearance_before", "g0"))
    return model.Spread.of_limits(limits.min_um, limits.max_um), absent_g0, limits.unconfirmed


def _g0_unproved(case: Case) -> bool:
    found = case.value_of("clearance_before", "g0")
    return found is not None and u_nm(case, "clearance_before", found.base) is None


@once_a_case
def forecast(case: Case) -> model.Forecast | None:
    """Residual clearance from G0 and the mean interference; None until the fit is known."""
    fit, found = interference(case), before(case)
    if fit is None or found is None:
        return None
    asked = case.requirement
    spread = model.Spread.of_reading(
        fit.mean.value, fit.mean.u or 0.0, fit.local_min.value, fit.local_max.value
    )
    sizes = float(asked.nominal_mm), float(asked.outside_mm), float(asked.shaft_bore_mm)
    raceway_mm = float(asked.raceway_mm) if asked.raceway_mm else None
    factor = model.loss_factor(*sizes, raceway_mm, said_from(asked.raceway_from))
    least_um = (asked.clearance_min_nm or 0) / 1000
    return model.forecast(found[0], spread, float(asked.nominal_mm), factor, asked.seat, least_um)


def _forecast(rule: Rule, case: Case) -> list[Finding]:
    """P(below zero or the drawing's least): from 50 % nonconforming, from 5 % not proven (ruling 18)."""
    fit, found = interference(case), before(case)
    if fit is None:
        return no_fit(rule, case, "clearance forecast")
    if found is None and case.requirement.clearance_kind == ADJUSTED:
        return []
    if found is None:
        inputs: list[Answered | str] = [*inputs_of(case), *rests(case, "clearance_before", "g0")]
        return [rule.finding("clearance forecast", Verdict.NOT_PROVEN, "no-group", inputs=inputs)]
    answer = forecast(case)
    assert answer is not None  # noqa: S101 - fit and G0 were just found
    _, rests_on, unconfirmed = found
    p, doubtful = answer.p_below, unproved(case) or _g0_unproved(case)
    verdict = Verdict.CONFORMING
    if p >= POSSIBLE or doubtful:
        verdict = Verdict.NOT_PROVEN
    if p >= CERTAIN and not doubtful:
        verdict = Verdict.NONCONFORMING
    finding = rule.finding(
        "clearance forecast",
        verdict,
        inputs=[*inputs_of(case), *rests_on],
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
            unconfirmed=(*fit_doubts(case), *unconfirmed, *answer.mean.unconfirmed),
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
    u = u_nm(case, "clearance_before", found.base)
    decision = metrology.decide(found.base, low, high, u or 0, case.procedure.guard_factor)
    finding = rule.finding(
        "clearance before",
        Verdict.NOT_PROVEN if u is None else Verdict(decision),
        "no-uncertainty" if u is None else "",
        inputs=rests(case, "clearance_before", "g0"),
        g0_nm=found.base,
        lower_nm=low,
        upper_nm=high,
    )
    return [
        replace(
            finding,
            unit="nm",
            value=found.base,
            u=u,
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
    overtaken = before_heat(rule, case, "clearance found", [after], rests(case, "clearance_after", "g1"))
    if overtaken:
        return overtaken
    least = case.requirement.clearance_min_nm or 0
    u = u_nm(case, "clearance_after", after.base)
    decision = metrology.decide(after.base, least, None, u or 0, case.procedure.guard_factor)
    finding = rule.finding(
        "clearance found",
        Verdict.NOT_PROVEN if u is None else Verdict(decision),
        "no-uncertainty" if u is None else "",
        inputs=rests(case, "clearance_after", "g1"),
        g1_nm=after.base,
        lower_nm=least,
    )
    return [replace(finding, unit="nm", value=after.base, u=u, lower=least)]


def _as_forecast(rule: Rule, case: Case) -> list[Finding]:
    after, first = case.value_of("clearance_after", "g1"), case.value_of("clearance_before", "g0")
    answer = forecast(case)
    if after is None or first is None or answer is None:
        return []
    u = u_nm(case, "clearance_after", after.base)
    if u is None or _g0_unproved(case):
        return []  # that the gauge proves nothing is said of the clearance itself
    mean = round(answer.mean.value * 1000)
    allowed = 2 * round(math.hypot(u, (answer.mean.u or 0) * 1000))
    off = abs(after.base - mean)
    verdict = Verdict.CONFORMING if off <= allowed else Verdict.QUERY
    finding = rule.finding(
        "clearance as forecast",
        verdict,
        inputs=[
            *rests(case, "clearance_after", "g1"),
            *rests(case, "clearance_before", "g0"),
            *inputs_of(case),
        ],
        g1_nm=after.base,
        forecast_nm=mean,
        allowed_nm=allowed,
    )
    return [replace(finding, unit="nm", value=off, upper=allowed, working=answer.mean)]


BEFORE = Step(
    id="clearance_before",
    version=2,
    row=15,
    stage=Stage.MEASURE,
    fields=(
        Field("g0", _CLEARANCE),
        _found_by("g0", "rows_before.g0_second_row"),
        Field("method", _METHODS, optional=True),
    ),
    rules=(
        Rule(
            "clearance-in-group",
            2,
            Stage.MEASURE,
            "ISO 5753-1",
            _in_group,
            ENGINEER,
            hold="fit",
            row=OF_CLEARANCE,
        ),
        Rule(
            "clearance-forecast",
            4,
            Stage.MEASURE,
            "textbook clearance chain; Lamé",
            _forecast,
            ENGINEER,
            hold="fit",
            row=OF_CLEARANCE,
        ),
    ),
)
AFTER = Step(
    id="clearance_after",
    version=2,
    row=29,
    stage=Stage.COLD,
    fields=(
        Field("g1", _CLEARANCE),
        _found_by("g1", "rows_after.g1_second_row"),
        Field("method", _METHODS, optional=True),
    ),
    rules=(
        Rule(
            "clearance-found",
            2,
            Stage.COLD,
            "the drawing, else zero",
            _found,
            ENGINEER,
            hold="cold",
            row="clearance-left",
        ),
        Rule("clearance-as-forecast", 2, Stage.COLD, "house rule: 2 u of the method", _as_forecast, LOOK),
    ),
)
