"""What must be proven before a decision, checked in the record: by name, what it found or None."""

from collections.abc import Callable, Mapping

from qrecords.engineering.errors import EngineeringError
from qrecords.steps.answers import Value
from qrecords.steps.bounded import bounded_fit
from qrecords.steps.case import Answered, Case
from qrecords.steps.clearance import AFTER
from qrecords.steps.demagnetisation import STEP_ID as FIELD
from qrecords.steps.demagnetisation import no_field
from qrecords.steps.felt_cold import STEP_ID as GAP
from qrecords.steps.findings import Fact, Finding, Verdict
from qrecords.steps.fit import interference, pressed, unproved
from qrecords.steps.log_table import LogTable
from qrecords.steps.papers import CERTIFICATE, CURVE, LETTER, REPORT
from qrecords.steps.runs import Found, found_when, runs

Facts = Mapping[str, Fact]
Proof = Callable[[Finding, Case], Facts | None]
"""The facts that prove it; None where it is not proven."""
SMOOTH = ("smooth", "heavy with grease")


def _g1_proven(finding: Finding, case: Case) -> Facts | None:
    """The clearance left was measured since the last heating, and conforms."""
    rule = next(rule for rule in AFTER.rules if rule.id == "clearance-found")
    found = next(iter(rule.findings(case)), None)
    if found is None or found.verdict != Verdict.CONFORMING or found.value is None:
        return None
    return {"g1_nm": found.value, "least_nm": found.lower or 0}


def _clearance_found(finding: Finding, case: Case) -> Facts | None:
    """The clearance left as a cross-check of a fit that is not known; none is asked where no feeler fits."""
    found = case.value_of("clearance_after", "g1")
    if found is None:
        return {} if case.requirement.no_feeler_fits else None
    return {"g1_nm": found.base} if found_when(case, found) == Found.SINCE else None


def _clearance_again(finding: Finding, case: Case) -> Facts | None:
    """The clearance felt again on the cooled ring; none is asked where no feeler fits."""
    heated, found = runs(case), case.value_of("clearance_before", "g0")
    if found is None or not heated:
        return {} if case.requirement.no_feeler_fits else None
    # What a sheet says was felt before the heat was, whenever it is entered.
    again = found_when(case, found) == Found.SINCE and found.at > heated[-1].heater_on.at
    return {"g0_nm": found.base} if again else ({} if case.requirement.no_feeler_fits else None)


def _stress_shown(finding: Finding, case: Case) -> Facts | None:
    """The hoop stress at the largest interference can be worked out: the decider is shown it."""
    try:
        fit = pressed(case)
    except EngineeringError:
        return None
    return None if fit is None else {"hoop_mpa": round(fit.hoop_with_allowance.value)}


def _fit_both_ways(finding: Finding, case: Case) -> Facts | None:
    """The interference with U both ways, from gauges whose uncertainty is known."""
    fit = interference(case)
    if fit is None or unproved(case):
        return None
    expanded = 2 * (fit.local_max.u or 0.0)
    return {
        "least_nm": round((fit.local_min.value - expanded) * 1000),
        "most_nm": round((fit.local_max.value + expanded) * 1000),
    }


def _again(step: str, head: str) -> Proof:
    """Some place of a field was measured twice since the last heating."""

    def proof(finding: Finding, case: Case) -> Facts | None:
        given = [a for a in case.given.get(step, ()) if a.key.split(".")[0] == head and _is_value(a)]
        keys = [a.key for a in given if found_when(case, a) == Found.SINCE]
        most = max((keys.count(key) for key in keys), default=0)
        return {"times": most} if most > 1 else None

    return proof


def _is_value(answered: Answered) -> bool:
    return isinstance(answered.answer, Value)


def _field_again(finding: Finding, case: Case) -> Facts | None:
    return {} if no_field(case) else _again(FIELD, "field")(finding, case)


def _paper(kind: str) -> Proof:
    def proof(finding: Finding, case: Case) -> Facts | None:
        here = [paper for paper in case.papers if paper.kind == kind and paper.received]
        return {"sha256": here[-1].sha256} if here else None

    return proof


def _curve(finding: Finding, case: Case) -> Facts | None:
    """The course of the heat: the heater's own log where it can be read, or the curve on paper."""
    logs = [
        file.sha256
        for file in case.log_files
        if file.received and not file.replaced and isinstance(case.logs.get(file.sha256), LogTable)
    ]
    return {"sha256": logs[-1]} if logs else _paper(CURVE)(finding, case)


def _own_data(finding: Finding, case: Case) -> Facts | None:
    """The bearing's own ceiling, entered with its source at any time, allows what it went through."""
    for said in (case.answers, case.checks):
        given = said.get("heating", {})
        cap, source = given.get("own_ceiling"), given.get("own_ceiling_source")
        known = cap and source and _is_value(cap) and _is_value(source)
        if known and cap and finding.value is not None and finding.value <= cap.base:
            return {"own_ceiling_mdegc": cap.base}
    return None


def _turns_smoothly(finding: Finding, case: Case) -> Facts | None:
    found = case.value_of("running", "turns")
    if found is None or found.word not in SMOOTH or found_when(case, found) != Found.SINCE:
        return None
    return {"turns": found.word}


def _bounded(finding: Finding, case: Case) -> Facts | None:
    found = bounded_fit(case)
    if found is None:
        return None
    return {
        "least_nm": found.least_nm,
        "most_nm": found.most_nm,
        "lower_nm": found.lower_nm,
        "upper_nm": found.upper_nm,
        "measured": found.measured,
    }


LETTER_HERE = _paper(LETTER)
PROOFS: Mapping[str, Proof] = {
    "g1-proven": _g1_proven,
    "stress-shown": _stress_shown,
    "fit-both-ways": _fit_both_ways,
    "clearance-found": _clearance_found,
    "clearance-again": _clearance_again,
    "gap-again": _again(GAP, "gap"),
    "field-again": _field_again,
    "heating-curve": _curve,
    "laboratory-report": _paper(REPORT),
    "calibrated-since": _paper(CERTIFICATE),
    "own-data": _own_data,
    "turns-smoothly": _turns_smoothly,
    "bounded-fit": _bounded,
}
"""Name of a proof → how it is looked for."""
