"""Whether the heater's own log fits the rest of the record: typed peak, taps, what the heater can do."""

from qrecords.engineering.cooling import mass_estimate
from qrecords.engineering.materials import HEAT_CAPACITY_J_KG_K
from qrecords.steps.case import Answered, Case
from qrecords.steps.findings import Fact, Finding, Verdict
from qrecords.steps.fit import ring_of
from qrecords.steps.heating_log import INNER, STEP_ID, named, peak_u_mk, peak_u_rests, ring_logs
from qrecords.steps.log_course import RISE_MK, heated_from_s, most_step_s, risen_after
from qrecords.steps.rules import Rule, standing
from qrecords.steps.runs import TAP_DOUBT_MS, mounted_run

OF_BOTH_U = 2
SLACK_MS = 10_000
"""Between the log's clock and the taps, besides the doubt of both taps and of the log's step (house rule)."""
INNER_SHARE, MASS_DOUBT, MAINS_DOUBT = 0.3, 0.85, 1.2
"""Least share of a bearing's mass in its inner ring, least of an estimated mass, most of a heater's rated
power (common practice, no source)."""


def as_typed(rule: Rule, case: Case) -> list[Finding]:
    """The typed peak beside the log's: the same ring at the same time, so further apart than both are sure of
    one of them is another's. A peak may be read between two samples, and off a display after the probe of
    the log was gone."""
    typed, probe = case.value_of(STEP_ID, "peak"), case.value_of(STEP_ID, "probe")
    if typed is None:
        return []
    ring, u_mk = probe.word if probe else INNER, peak_u_mk(case)
    allowed = -int(-OF_BOTH_U * 2**0.5 * u_mk // 1)
    found = []
    for log in (each for each in ring_logs(case) if each.ring == ring):
        step_k = most_step_s(log.judged) * (log.curve.rate.value if log.curve.rate else 0.0)
        off, lost = typed.base - log.top_mdegc, log.curve.curve.probe_off or log.taken_off
        most = allowed + max(0, round(step_k * 1000)) if off > 0 else allowed
        fits = abs(off) <= most or (off > 0 and lost is not None)
        finding = rule.finding(
            named("heating log as typed", log.number, log.ring),
            Verdict.CONFORMING if fits else Verdict.QUERY,
            inputs=[log.file.entry, typed, *standing(case, STEP_ID, "probe"), *peak_u_rests(case)],
            typed_mdegc=typed.base,
            peak_mdegc=log.top_mdegc,
            apart_mk=abs(off),
            allowed_mk=most,
        )
        found.append(finding)
    return found


def against_taps(rule: Rule, case: Case) -> list[Finding]:
    """Once it is off the heater a ring only cools. The time from *heater on* to *lifted off* by the taps,
    counted in the log from where it rises, and some more: a rise after it says that the log is of another
    heating or the taps are of another time. How long, not what o'clock: clocks may differ (ruling 16); times
    written by hand are compared with no log."""
    run = mounted_run(case)
    if run is None or run.lifted_off is None or run.heater_on.paper or run.lifted_off.paper:
        return []
    heated_ms = round((run.lifted_off.at - run.heater_on.at).total_seconds() * 1000)
    found = []
    for log in (each for each in ring_logs(case) if each.ring == INNER):
        start_s = heated_from_s(log.judged)
        if start_s is None or heated_ms < 0:
            continue
        step_ms = 2 * most_step_s(log.judged) * 1000
        until_s = start_s + (heated_ms + 2 * TAP_DOUBT_MS + SLACK_MS + step_ms) / 1000
        risen = risen_after(log.judged, until_s)
        fits = risen is None or risen[0] < RISE_MK
        facts: dict[str, Fact] = {"heated_ms": heated_ms}
        if risen is not None and not fits:
            facts |= {"rise_mk": risen[0], "rising_ms": round((risen[1] - start_s) * 1000)}
        verdict = Verdict.CONFORMING if fits else Verdict.QUERY
        rests = [log.file.entry, run.heater_on.entry, run.lifted_off.entry]
        found.append(
            rule.finding(named("heating log and taps", log.number), verdict, "", inputs=rests, **facts)
        )
    return found


def energy(rule: Rule, case: Case) -> list[Finding]:
    """Heat takes power and time: m·cp·ΔT of what surely got hot, at most the heater's power for as long. A
    log that rises faster is of a smaller bearing or of another heater."""
    heater = case.gear(STEP_ID, "heater")
    if heater is None or not heater.power_w:
        return []
    ring = ring_of(case)
    heated_kg = INNER_SHARE * (ring.mass_kg or MASS_DOUBT * mass_estimate(ring).value)
    found = []
    for log in (each for each in ring_logs(case) if each.ring == INNER):
        (start_s, first), (top_s, top) = (
            log.points[0],
            max(log.points, key=lambda point: (point[1], -point[0])),
        )
        rise_k, took_s = (top - first) / 1000, top_s - start_s
        if rise_k <= 0:
            continue
        least_s = heated_kg * HEAT_CAPACITY_J_KG_K * rise_k / (heater.power_w * MAINS_DOUBT)
        verdict = Verdict.CONFORMING if took_s >= least_s else Verdict.QUERY
        rests: list[Answered | str] = [log.file.entry, *standing(case, STEP_ID, "heater")]
        found.append(
            rule.finding(
                named("heating log and heater", log.number), verdict, inputs=rests,
                rise_mk=top - first, took_ms=round(took_s * 1000), least_ms=round(least_s * 1000),
                power_w=heater.power_w,
            )
        )  # fmt: skip
    return found
