"""What times and power say of a record without a log: the order in which it was told, and whether the heater
can have made it so hot so soon. Each is a query: it accuses nobody."""

from dataclasses import replace
from datetime import timedelta

from qrecords.engineering.cooling import mass_estimate
from qrecords.engineering.materials import HEAT_CAPACITY_J_KG_K
from qrecords.steps.acts import Tap
from qrecords.steps.case import Answered, Case
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.fit import ring_of
from qrecords.steps.heating import peak, peak_rests
from qrecords.steps.heatings import each_heating
from qrecords.steps.log_fits import INNER_SHARE, MAINS_DOUBT, MASS_DOUBT
from qrecords.steps.measurement import celsius
from qrecords.steps.rules import LOOK, Rule, Stage, standing
from qrecords.steps.runs import TAP_DOUBT_MS, milliseconds, mounted_run, runs

AGREE = timedelta(minutes=5)
"""So far two devices' clocks may stand apart (house rule)."""
UNDER_THE_RING = (("measurement", "journal"), ("bore", "bore"), ("clearance_before", "g0"))
AS_MOUNTED = (("shoulder_gap", "gap"), ("clearance_after", "g1"), ("running", "turns"))


def _told_first(case: Case, step: str, head: str) -> list[Answered]:
    """The first answer to each place of a field: what was put right later was told before."""
    first: dict[str, Answered] = {}
    for answered in case.given.get(step, ()):
        if answered.key.split(".", 1)[0] == head and not answered.check:
            first.setdefault(answered.key, answered)
    return list(first.values())


def _order(rule: Rule, case: Case) -> list[Finding]:
    """What lies under the ring was told before it first went on, what is found of it as mounted after: a
    query where ledger and clock both say otherwise. What was noted first, or on paper, may be told later."""
    home = next((run.home for run in runs(case) if run.home), None)
    if home is None:
        return []
    noted = case.value_of(*_NOTED)
    asked = [] if noted is not None and noted.word == "yes" else [(*each, True) for each in UNDER_THE_RING]
    found = []
    for step, head, under in [*asked, *((*each, False) for each in AS_MOUNTED)]:
        told = [answered for answered in _told_first(case, step, head) if not answered.paper]
        odd = [answered for answered in told if _odd(case, answered, home, under=under)]
        if not odd or (under and len(odd) < len(told)):
            continue
        message = "told-late" if under else "told-early"
        rests: list[Answered | str] = [*told, home.entry, *standing(case, *_NOTED)]
        name = f"order in time, {step}"
        found.append(rule.finding(name, Verdict.QUERY, message, inputs=rests, count=len(odd)))
    return found


_NOTED = ("measurement", "noted_first")


def _odd(case: Case, answered: Answered, home: Tap, *, under: bool) -> bool:
    """Told on the wrong side of *home*, by the ledger and by more than two clocks may differ."""
    later = case.order[answered.entry] > case.order[home.entry]
    apart = answered.at - home.at
    return later and apart > AGREE if under else not later and apart < -AGREE


def _power(rule: Rule, case: Case) -> list[Finding]:
    """Heat takes power and time: m·cp·ΔT of the inner ring, at most what the heater gives meanwhile."""
    run, hottest, heater = mounted_run(case), peak(case), case.gear("heating", "heater")
    took = milliseconds(run.heater_on, run.lifted_off) if run else None
    start_c = celsius(case, "bearing")
    if run is None or hottest is None or heater is None or not heater.power_w or took is None:
        return []
    if start_c is None or run.lifted_off is None or took < 0:
        return []
    ring = ring_of(case)
    heated_kg = INNER_SHARE * (ring.mass_kg or MASS_DOUBT * mass_estimate(ring).value)
    rise_mk = hottest.base - round(start_c * 1000)
    joule = heated_kg * HEAT_CAPACITY_J_KG_K * rise_mk / 1000
    least_ms = round(joule / (heater.power_w * MAINS_DOUBT) * 1000)
    verdict = Verdict.CONFORMING if took + 2 * TAP_DOUBT_MS >= least_ms else Verdict.QUERY
    rests: list[Answered | str] = [
        *peak_rests(case),
        *standing(case, "heating", "heater"),
        *standing(case, "measurement", "bearing"),
        run.heater_on.entry,
        run.lifted_off.entry,
    ]
    finding = rule.finding(
        "heat in the time",
        verdict,
        inputs=rests,
        rise_mk=rise_mk,
        took_ms=took,
        least_ms=least_ms,
        power_w=heater.power_w,
    )
    return [replace(finding, unit="ms", value=took, lower=least_ms)]


RULES = (
    Rule("order-in-time", 1, Stage.CLOSE, "own arithmetic: order in time", _order, LOOK),
    each_heating(
        Rule(
            "heat-time",
            1,
            Stage.HEAT,
            "energy balance; Incropera, Heat and Mass Transfer, ch. 5",
            _power,
            LOOK,
        )
    ),
)
