"""The fit: interference from the readings, the heating plan that follows, and its release before heat."""

from collections.abc import Iterable
from dataclasses import replace

from qrecords.engineering import fits, heating
from qrecords.engineering import measurement as metrology
from qrecords.engineering.bearings import bore_limits
from qrecords.engineering.ceilings import HOUSE, Ceiling, ceiling_for, own_data
from qrecords.engineering.cooling import Ring
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.limits import Limits
from qrecords.steps.acts import Release, Tap
from qrecords.steps.bore import bore, from_class
from qrecords.steps.case import Answered, Case, once_a_case
from qrecords.steps.chosen_rows import OF_LOST
from qrecords.steps.findings import Fact, Finding, Verdict
from qrecords.steps.identification import read_since
from qrecords.steps.measurement import (
    Measured,
    celsius,
    journal,
    set_doubt,
    set_rests,
    temperature_u_mk,
    worst_verdict,
)
from qrecords.steps.paper import names
from qrecords.steps.requirement import said_from
from qrecords.steps.rules import ENGINEER, Rule, Stage, entries, said_absent, standing
from qrecords.steps.runs import mounted_run, runs
from qrecords.steps.telephone import answer_code, as_heard, readings_code, readings_of
from qrecords.steps.transitions import voided


def _whole_mm(measured: Measured, nominal_nm: int) -> list[list[float]]:
    return [[(nominal_nm + nm) / 1_000_000 for nm in plane] for plane in measured.planes()]


@once_a_case
def interference(case: Case) -> fits.Interference | None:
    """Local extremes and mean from journal and bore; the bore from its class where it was not measured."""
    on, inside = journal(case), bore(case)
    nominal = case.requirement.nominal_nm
    if on is None:
        return None
    journal_u = (on.u_nm or 0) / 1000
    if inside is not None:
        return fits.from_readings(
            _whole_mm(on, nominal), _whole_mm(inside, nominal), journal_u, (inside.u_nm or 0) / 1000
        )
    if from_class(case):
        limits = _limits_of_bore(case)
        return fits.from_bore_class(_whole_mm(on, nominal), limits, journal_u)
    return None


def _limits_of_bore(case: Case) -> Limits:
    """What a bore that was not measured may be: its class, or what the bearing's own sheet says."""
    asked = case.requirement
    if asked.own_bore:
        return Limits(asked.nominal_mm, "", asked.bore.lower_nm, asked.bore.upper_nm, (), asked.bore.source)
    return bore_limits(asked.nominal_mm, asked.bore_class, case.tables)


def unproved(case: Case) -> bool:
    """What journal or bore rest on proves nothing: temperatures, master, or a gauge without calibration."""
    surfaces = [surface for surface in (journal(case), bore(case)) if surface]
    return bool(set_doubt(case)) or any(surface.u_nm is None for surface in surfaces)


def fit_doubts(case: Case) -> tuple[str, ...]:
    """The unconfirmed rows behind the interference: those of the class of a bore that was not measured."""
    found = interference(case)
    return found.mean.unconfirmed if found else ()


@once_a_case
def inputs_of(case: Case) -> tuple[str, ...]:
    """The entries that journal and bore rest on."""
    surfaces = [surface for surface in (journal(case), bore(case)) if surface]
    rest = [*set_rests(case), *standing(case, "bore", "source")]
    return entries([*rest, *(entry for surface in surfaces for entry in surface.rests)])


def told_of_fit(case: Case) -> list[Answered]:
    """Whatever was said of journal and bore, absent or not."""
    return [
        *case.many("measurement", "journal"),
        *standing(case, "bore", "source"),
        *case.many("bore", "bore"),
    ]


def no_fit(
    rule: Rule, case: Case, characteristic: str, rests: Iterable[Answered | str] = ()
) -> list[Finding]:
    """What follows from a fit of which journal or bore was said not to be there."""
    if interference(case) is not None:
        return []
    step = "measurement" if journal(case) is None else "bore"
    asked = [(step, answered.key) for answered in told_of_fit(case)]
    return said_absent(rule, case, characteristic, asked, [*told_of_fit(case), *rests])


def _interference(rule: Rule, case: Case) -> list[Finding]:
    """Only where the drawing gives limits; judged on the local extremes, least and most (ruling 6)."""
    window, found = case.requirement.interference_nm, interference(case)
    if window is None:
        return []
    if found is None:
        return no_fit(rule, case, "interference")
    low, high = window
    least, most = round(found.local_min.value * 1000), round(found.local_max.value * 1000)
    u_nm = -int(-(found.local_max.u or 0.0) * 1000 // 1)
    factor = case.procedure.guard_factor
    verdicts = [metrology.decide(value, low, high, u_nm, factor) for value in (least, most)]
    worst, working = (least, found.local_min) if least - low < high - most else (most, found.local_max)
    verdict = Verdict.NOT_PROVEN if unproved(case) else worst_verdict(verdicts)
    facts: dict[str, Fact] = {"least_nm": least, "most_nm": most, "lower_nm": low, "upper_nm": high}
    finding = rule.finding("interference", verdict, "", inputs=inputs_of(case), **facts)
    source = f"drawing {case.requirement.drawing} rev. {case.requirement.revision}"
    return [
        replace(
            finding,
            unit="nm",
            value=worst,
            u=u_nm,
            lower=low,
            upper=high,
            source=source,
            working=working,
            unconfirmed=working.unconfirmed,
        )
    ]


def house_ceilings(case: Case) -> tuple[Ceiling, ...]:
    """The house's ceilings with the procedure's caps for open and for greased bearings."""
    own = {
        "open": case.procedure.house_cap_c,
        "separable_inner_ring": case.procedure.house_cap_c,
        "sealed": case.procedure.greased_cap_c,
        "greased": case.procedure.greased_cap_c,
    }
    return tuple(ceiling._replace(cap_c=own.get(ceiling.kind, ceiling.cap_c)) for ceiling in HOUSE)


@once_a_case
def ceiling(case: Case) -> Ceiling:
    """The lowest applicable ceiling, which says which it is; the bearing's own data replace the house's if
    they were entered with their source before heat (ruling 11)."""
    cap, source = case.value_of("heating", "own_ceiling"), case.value_of("heating", "own_ceiling_source")
    run = mounted_run(case)
    own = None
    if cap is not None and source is not None:
        last = max(case.order[cap.entry], case.order[source.entry])
        before = run is None or last < case.order[run.heater_on.entry]
        own = own_data(cap.base / 1000, source.word) if before else None
    return ceiling_for(case.requirement.heated_as, own, house_ceilings(case))


def ceiling_rests(case: Case) -> list[Answered]:
    return standing(case, "heating", "own_ceiling", "own_ceiling_source")


def ring_of(case: Case) -> Ring:
    asked = case.requirement
    mass = float(asked.mass_kg) if asked.mass_kg else None
    sizes = float(asked.nominal_mm), float(asked.outside_mm), float(asked.width_mm)
    return Ring(*sizes, mass, said_from(asked.mass_from))


def cold_fit(case: Case) -> heating.ColdFit | None:
    found = interference(case)
    if found is None:
        return None
    return heating.ColdFit(
        float(case.requirement.nominal_mm),
        found.local_max.value,
        found.mean.value,
        found.mean.u or 0.0,
    )


def pressed(case: Case) -> fits.PressFit | None:
    """What the ring bears at the largest interference; None without any. Raises OutsideValidityError for a
    ring too thin for the model."""
    found, asked = interference(case), case.requirement
    if found is None or found.local_max.value <= 0:
        return None
    bore_mm, outside_mm = float(asked.nominal_mm), float(asked.outside_mm)
    raceway_mm = fits.stress_raceway_mm(bore_mm, outside_mm)
    sizes = float(asked.shaft_bore_mm), float(asked.width_mm)
    return fits.press_fit(bore_mm, raceway_mm, found.local_max.value, *sizes)


def heating_plan(case: Case) -> heating.Plan | EngineeringError | None:
    """The plan, or why there can be none; None until fit and shaft temperature are known."""
    fit, shaft_c = cold_fit(case), celsius(case, "shaft")
    if fit is None or shaft_c is None:
        return None
    air_c = celsius(case, "air")
    try:
        return heating.plan(
            fit,
            ceiling(case),
            shaft_c,
            shaft_c if air_c is None else air_c,
            temperature_u_mk(case) / 1000,
            ring_of(case),
            case.procedure.guard_factor,
            tables=case.tables,
        )
    except EngineeringError as error:
        return error


def relied_on(case: Case, tap: Tap) -> Release | None:
    """The release that *heater on* names, by leaf hash or by the code read back on the telephone."""
    by_hand = tap.paper.reference if tap.paper else ""
    for release in case.releases:
        named = tap.relies_on == release.leaf or read_back(release, tap.code)
        named = named or names(by_hand, release.leaf) or read_back(release, by_hand)
        if release.hold == "fit" and named:
            return release
    return None


def read_back(release: Release, code: str) -> bool:
    """The code is the one-time code of this telephone release, as it was heard."""
    return release.means == "telephone" and as_heard(code) == answer_code(release.leaf)


def telephone_agrees(case: Case, release: Release) -> bool:
    """The code, the lowest and the highest reading heard by telephone fit what was recorded."""
    readings = readings_of(case)
    if not readings:
        return False
    extremes = (min(readings.values()), max(readings.values()))
    said = (release.lowest_nm, release.highest_nm)
    return release.code == readings_code(case.mounting, readings) and said == extremes


def _released(rule: Rule, case: Case) -> list[Finding]:
    """Every heating is judged, and the worst named: one that was released cannot cover one that was not."""
    if "fit" not in case.procedure.holds:
        return []
    found = [_released_run(rule, case, run.heater_on) for run in runs(case)]
    if not found:
        return [rule.finding(RELEASED, Verdict.MISSING, "not-heated")]
    worst = worst_verdict([finding.verdict for finding in found])
    return [next(finding for finding in found if finding.verdict == worst)]


def _released_run(rule: Rule, case: Case, tap: Tap) -> Finding:
    """The order is proved by reference: a hash cannot be named before it exists. Heat that names no release
    is not proven, or nonconforming if the release came later. On paper the hash is written by hand: a sheet
    filed before the release it names cannot hold it."""
    release = relied_on(case, tap)
    if release is None:
        fit = [r for r in case.releases if r.hold == "fit"]
        later = bool(fit) and all(r.index > case.order[tap.entry] for r in fit)
        verdict = Verdict.NONCONFORMING if later else Verdict.NOT_PROVEN
        none = "paper-names-none" if tap.paper else "names-none"
        return rule.finding(RELEASED, verdict, "later" if later else none, inputs=[tap.entry])
    inputs: list[Answered | str] = [tap.entry, release.entry, *read_since(case, release.index)]
    if release.author in case.worked_by:
        own = [a for step in case.answers.values() for a in step.values() if a.author == release.author]
        return rule.finding(RELEASED, Verdict.NOT_PROVEN, "own-work", inputs=[*inputs, *own])
    if release.means == "telephone":
        inputs += case.many("measurement", "journal")
        if not telephone_agrees(case, release):
            return rule.finding(RELEASED, Verdict.NOT_PROVEN, "telephone-differs", inputs=inputs)
    if voided(case, release, _felt_again(case, tap)):
        return rule.finding(RELEASED, Verdict.NOT_PROVEN, "voided", inputs=inputs)
    if tap.paper is None:
        return rule.finding(RELEASED, Verdict.CONFORMING, inputs=inputs, means=release.means)
    since = [sheet.entry for sheet in case.sheets if case.order[sheet.entry] > release.index]
    if not since:
        return rule.finding(RELEASED, Verdict.NOT_PROVEN, "paper-before", inputs=inputs)
    facts: dict[str, Fact] = {"means": release.means, "written": tap.paper.written or "-"}
    return rule.finding(RELEASED, Verdict.CONFORMING, "paper", inputs=[*inputs, since[0]], **facts)


def _felt_again(case: Case, tap: Tap) -> frozenset[str]:
    """Captures of the clearance between this heating and the last: felt again on the cooled ring, as a
    second heating asks (ruling 22), and no correction of what this one rested on."""
    last = case.order[runs(case)[-1].heater_on.entry]
    clearance = case.answers.get("clearance_before", {}).values()
    return frozenset(a.entry for a in clearance if case.order[tap.entry] < case.order[a.entry] < last)


RELEASED = "fit released before heat"
RULES = (
    Rule("interference", 4, Stage.MEASURE, "the drawing", _interference, ENGINEER, hold="fit", row=OF_LOST),
    Rule(
        "released-before-heat",
        5,
        Stage.HEAT,
        "ISO 9001:2015 8.5.1 f, from memory; house rule",
        _released,
        ("concession", "scrap"),
    ),
)
