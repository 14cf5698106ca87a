"""Heating: heater, set-up and probe; peak against the ceiling; ring difference; could it have gone on."""

from collections.abc import Iterable
from dataclasses import replace

from qrecords.engineering import heating as model
from qrecords.engineering import measurement as metrology
from qrecords.engineering.cooling import carry_drop
from qrecords.engineering.fits import clearance_raceway_mm, outer_raceway_mm
from qrecords.engineering.result import Result
from qrecords.steps.case import Answered, Case
from qrecords.steps.chosen_rows import OF_QUERY
from qrecords.steps.clearance import before as clearance_before
from qrecords.steps.fields import Choice, Field, Gear, Quantity, Words
from qrecords.steps.findings import Fact, Finding, Verdict
from qrecords.steps.fit import (
    ceiling,
    ceiling_rests,
    cold_fit,
    fit_doubts,
    inputs_of,
    no_fit,
    ring_of,
    told_of_fit,
)
from qrecords.steps.gear import IN_USE
from qrecords.steps.heating_log import (
    INNER,
    RINGS,
    STEP_ID,
    log_peaks,
    log_rests,
    peak_u_mk,
    peak_u_rests,
    ring_difference,
)
from qrecords.steps.heatings import each_heating, mounted_heating
from qrecords.steps.log_rules import RULES as LOG_RULES
from qrecords.steps.measurement import TEMPERATURES, celsius
from qrecords.steps.overheated import OF_OVERHEAT, OFF_INNER
from qrecords.steps.rules import LOOK, Rule, Stage, absent, choice_rule, said_absent, standing
from qrecords.steps.runs import mounted_run
from qrecords.steps.step import Step

READ_HOT = ("peak", "peak_outer", "cross_check", "at_seat")
_HOT = Quantity("temperature", TEMPERATURES, 30_000, 150_000)
_CEILING = Quantity("temperature", TEMPERATURES, 60_000, 200_000)


def peak(case: Case) -> Answered | None:
    """The hottest the inner ring is known to have been: its probe's peak, the cross-check or the heater's own
    log, whichever is highest."""
    probe = case.value_of(STEP_ID, "probe")
    cross, read = case.value_of(STEP_ID, "cross_check"), case.value_of(STEP_ID, "peak")
    on_inner = probe is None or probe.word == "inner ring"
    known = [found for found in (read if on_inner else None, cross) if found is not None]
    known += log_peaks(case, INNER)
    return max(known, key=lambda found: found.base, default=None)


def peak_rests(case: Case) -> list[Answered]:
    return [*standing(case, STEP_ID, "peak", "cross_check", "probe"), *log_peaks(case, INNER)]


def _heater(rule: Rule, case: Case) -> list[Finding]:
    found, gear = case.value_of(STEP_ID, "heater"), case.gear(STEP_ID, "heater")
    if found is None or gear is None:
        return absent(rule, case, STEP_ID, "heater", "heater")
    verdict = Verdict.CONFORMING if gear.status == IN_USE else Verdict.NOT_PROVEN
    return [rule.finding("heater", verdict, inputs=[found], mark=gear.mark, kind=gear.heater_kind)]


def hottest(case: Case) -> Answered | None:
    """The hottest reading of any place, typed or logged: every part of the bearing has the ceiling."""
    read = [case.value_of(STEP_ID, key) for key in READ_HOT] + log_peaks(case, *RINGS)
    return max((found for found in read if found), key=lambda found: found.base, default=None)


def _peak(rule: Rule, case: Case) -> list[Finding]:
    """The hottest reading with guard against the lowest applicable ceiling, naming which (ISO 14253-1); typed
    or by the heater's log, the higher decides and is named. One
    off the inner ring proves nothing when it is low, but does not conform when it is over."""
    inner, found = peak(case), hottest(case)
    limit = ceiling(case)
    read_hot = standing(case, STEP_ID, *READ_HOT, "probe")
    rests: list[Answered | str] = [*read_hot, *log_rests(case), *peak_u_rests(case), *ceiling_rests(case)]
    cap, u_mk = round(limit.cap_c * 1000), peak_u_mk(case)
    decision = Verdict.CONFORMING
    if found is not None:
        decision = Verdict(metrology.decide(found.base, None, cap, u_mk, case.procedure.guard_factor))
    if found is None or (inner is None and decision != Verdict.NONCONFORMING):
        read = case.value_of(STEP_ID, "peak")
        if read is None:
            return absent(rule, case, STEP_ID, "peak", "peak temperature", rests)
        facts: dict[str, Fact] = {"read_mdegc": read.base, "ceiling": limit.kind}
        return [rule.finding("peak temperature", Verdict.NOT_PROVEN, "not-inner", inputs=rests, **facts)]
    beside = decision == Verdict.NONCONFORMING and inner is None
    by_log = found.key == "log"
    message = OFF_INNER if beside else f"by-log-{decision.replace(' ', '-')}" if by_log else ""
    finding = rule.finding(
        "peak temperature",
        decision,
        message,
        inputs=rests,
        by=found.key,
        peak_mdegc=found.base,
        cap_mdegc=cap,
        over_mk=found.base - cap,
        ceiling=limit.kind,
    )
    unconfirmed = () if limit.confirmed else (f"ceiling {limit.kind}: {limit.source}",)
    return [
        replace(
            finding,
            unit="m°C",
            value=found.base,
            u=u_mk,
            upper=cap,
            source=limit.source,
            unconfirmed=unconfirmed,
        )
    ]


def difference_allowed(case: Case) -> tuple[Result, Result] | None:
    """How much hotter than the outer ring the inner may be, and at what difference it is clamped, in K. None
    where G0 is not known or nothing, and for a separable inner ring: heated alone, nothing clamps it."""
    found, asked = clearance_before(case), case.requirement
    if found is None or found[0].low_um <= 0 or "separable_inner_ring" in asked.kinds:
        return None
    low_um = found[0].mean_um if found[0].measured else found[0].low_um
    bore_mm, outside_mm = float(asked.nominal_mm), float(asked.outside_mm)
    inner_mm = float(asked.raceway_mm or clearance_raceway_mm(bore_mm, outside_mm))
    return model.ring_difference_allowed(low_um, inner_mm, outer_raceway_mm(bore_mm, outside_mm))


def _difference(rule: Rule, case: Case) -> list[Finding]:
    """Inner hotter than outer beyond what the clearance allows: somebody looks. A log of both rings tells the
    difference of one moment, typed peaks that of two. No second probe is a full answer."""
    inner, outer = peak(case), case.value_of(STEP_ID, "peak_outer")
    if "separable_inner_ring" in case.requirement.kinds:
        return []
    logged = ring_difference(case)
    if outer is None and logged is None:
        return absent(rule, case, STEP_ID, "peak_outer", "ring difference")
    found, allowed = clearance_before(case), difference_allowed(case)
    if inner is None or found is None or allowed is None:
        return []
    _, entries, doubts = found
    safe, clamped = allowed
    most = round(safe.value * 1000)
    difference = logged[0] if logged else inner.base - outer.base if outer else 0
    verdict = Verdict.CONFORMING if difference <= most else Verdict.QUERY
    finding = rule.finding(
        "ring difference",
        verdict,
        "" if logged is None else f"by-log-{verdict.value}",
        inputs=[*peak_rests(case), *standing(case, STEP_ID, "peak_outer"), *log_rests(case), *entries],
        difference_mk=difference,
        allowed_mk=most,
        clamped_mk=round(clamped.value * 1000),
    )
    return [replace(finding, unit="mK", value=difference, upper=most, working=safe, unconfirmed=doubts)]


def met_seat_c(case: Case) -> float | None:
    """The temperature read at the seat, else the peak, as if nothing had been lost on the way."""
    found = case.value_of(STEP_ID, "at_seat") or peak(case)
    return None if found is None else found.base / 1000


def seat_c(case: Case) -> float | None:
    """Temperature at which the ring met its seat: read, else the peak less the computed carry drop."""
    hottest = peak(case)
    if hottest is None or case.value_of(STEP_ID, "at_seat") is not None:
        return met_seat_c(case)
    run = mounted_run(case)
    # Taps of two devices may stand the wrong way round: nothing is carried for less than no time.
    carried = max(0, run.carried_ms or 0) / 1000 if run else 0.0
    known = [c for c in (celsius(case, "air"), celsius(case, "shaft")) if c is not None]
    air_c = known[0] if known else 20.0
    start = hottest.base / 1000
    return start - carry_drop(ring_of(case), start, air_c, carried).value if start > air_c else start


def seat_rests(case: Case) -> list[Answered | str]:
    """What the temperature at the seat, as computed on the way, rests on."""
    run = mounted_run(case)
    taps = [tap.entry for tap in (run.lifted_off, run.home) if tap] if run else []
    room = standing(case, "measurement", "air", "shaft")
    return [*standing(case, STEP_ID, "at_seat"), *peak_rests(case), *room, *taps]


def _no_heat(rule: Rule, case: Case, characteristic: str, rests: Iterable[Answered | str]) -> list[Finding]:
    """What follows from a heat of the inner ring that nobody read: *not proven* where another place was read
    instead, *missing* where no peak was said to be there."""
    if met_seat_c(case) is not None:
        return []
    if case.value_of(STEP_ID, "peak") is not None:
        return [rule.finding(characteristic, Verdict.NOT_PROVEN, "not-inner", inputs=rests)]
    return said_absent(rule, case, characteristic, [(STEP_ID, "peak")], rests)


def no_meeting(rule: Rule, case: Case, characteristic: str, asked: Iterable[Answered] = ()) -> list[Finding]:
    """What follows from ring and seat as they met, of which something was said not to be there. `asked` is
    what the rule asked before."""
    heat = [*standing(case, STEP_ID, "at_seat"), *peak_rests(case)]
    rests = [*told_of_fit(case), *standing(case, "measurement", "shaft"), *heat, *asked]
    return (
        no_fit(rule, case, characteristic, rests)
        or said_absent(rule, case, characteristic, [("measurement", "shaft")], rests)
        or _no_heat(rule, case, characteristic, rests)
    )


def _slid_on(rule: Rule, case: Case) -> list[Finding]:
    """It did go on: if it could not have, journal, bore or temperature is wrong (ruling 15)."""
    case = mounted_heating(case)
    fit, shaft_c, hot, run = cold_fit(case), celsius(case, "shaft"), seat_c(case), mounted_run(case)
    if run is None:
        return []
    if fit is None or shaft_c is None or hot is None:
        return no_meeting(rule, case, "could have slid on")
    room = model.slide_on(fit, shaft_c, hot, hot)
    room_nm = round(room.value * 1000)
    verdict = Verdict.CONFORMING if room_nm >= 0 else Verdict.QUERY
    finding = rule.finding(
        "could have slid on",
        verdict,
        inputs=[*inputs_of(case), *seat_rests(case)],
        room_nm=room_nm,
        seat_mdegc=round(hot * 1000),
    )
    doubts = fit_doubts(case)
    return [replace(finding, unit="nm", value=room_nm, lower=0, working=room, unconfirmed=doubts)]


SETUPS = ("on the core leg", "on a crossbar through the bore", "in an oven, on a plate or in a bath")
STEP = Step(
    id=STEP_ID,
    version=1,
    row=19,
    stage=Stage.HEAT,
    task="heat",
    fields=(
        Field("heater", Gear(("heater",), ("peak", "peak_outer"))),
        Field("setup", Choice(SETUPS)),
        Field("probe", Choice(("inner ring", "outer ring", "elsewhere"))),
        Field("set_to", _HOT, optional=True),
        Field("own_ceiling", _CEILING, optional=True),
        Field("own_ceiling_source", Words(120), optional=True),
        Field("peak", _HOT),
        Field("peak_outer", _HOT, optional=True),
        Field("cross_check", _HOT, optional=True),
        Field("at_seat", _HOT, optional=True),
    ),
    rules=(
        Rule("heater-named", 1, Stage.HEAT, "house rule", _heater),
        choice_rule("set-up", Stage.HEAT, STEP_ID, "setup", SETUPS, "common practice, no source"),
        each_heating(
            choice_rule(
                "probe-on-inner-ring",
                Stage.HEAT,
                STEP_ID,
                "probe",
                ("inner ring",),
                "common practice, no source",
                may=("concession", "scrap"),
                version=2,
            )
        ),
        each_heating(
            Rule(
                "peak-temperature",
                5,
                Stage.HEAT,
                "common practice, no source",
                _peak,
                row=OF_OVERHEAT,
            ),
            also_missing=True,
        ),
        *LOG_RULES,
        each_heating(
            Rule(
                "ring-difference", 4, Stage.HEAT, "own arithmetic: G/(α·F_o)", _difference, LOOK, row=OF_QUERY
            )
        ),
        Rule("slid-on", 5, Stage.HEAT, "own arithmetic: exact expansion", _slid_on, LOOK),
    ),
)
