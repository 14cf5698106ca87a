"""What is asked of a story of the demonstration: its records as they stood, and numbers reckoned by hand."""

from qrecords.ledger.queries import entries_of
from qrecords.mountings.logs import logs_of
from qrecords.mountings.models import Mounting
from qrecords.steps.case import Case
from qrecords.steps.findings import Finding
from qrecords.steps.fit import interference
from qrecords.steps.folding import fold
from qrecords.steps.heating import peak
from qrecords.steps.standard import all_findings
from qrecords.workshop.queries import procedure_by_digest


def mountings(owner: str) -> list[Mounting]:
    return list(Mounting.objects.filter(journal__machine__owner=owner).order_by("number"))


def case_until(mounting: Mounting, kind: str = "", nth: int = 1) -> Case:
    """The record as it stood just before its nth entry of a kind; the whole of it without one."""
    entries = entries_of(mounting.id)
    places = [place for place, entry in enumerate(entries) if entry.kind == kind]
    until = places[nth - 1] if kind else len(entries)
    until_then = entries[:until]
    return fold(until_then, procedure_by_digest(mounting.procedure_digest), logs=logs_of(until_then))


def case_at(mounting: Mounting, count: int) -> Case:
    """The record as it stood with so many entries."""
    until = entries_of(mounting.id)[:count]
    return fold(until, procedure_by_digest(mounting.procedure_digest), logs=logs_of(until))


def flags(case: Case) -> dict[str, str]:
    """Everything but *conforming* and, while the work goes on, what is still to come."""
    to_come = () if case.signatures else ("missing",)
    found = [f for f in all_findings(case) if f.verdict.value not in ("conforming", *to_come)]
    # The inspector's own reading and what follows his signature are not the fitter's to enter.
    return {f.characteristic: f.verdict.value for f in found if f.rule != "own-reading"}


def rule(case: Case, name: str) -> Finding:
    (found,) = [finding for finding in all_findings(case) if finding.rule == name]
    return found


def mean_interference_um(mounting: Mounting, kind: str = "", nth: int = 1) -> float:
    found = interference(case_until(mounting, kind, nth))
    assert found is not None
    return found.mean.value


def grown_um(case: Case) -> float:
    """Growth of the bore from shaft to peak, α 12.0e-6/K: reckoned here and not by the models."""
    hottest, shaft = peak(case), case.value_of("measurement", "shaft")
    assert hottest is not None
    assert shaft is not None
    return 12e-6 * float(case.requirement.nominal_mm) * (hottest.base - shaft.base)


def slip_um(case: Case) -> float:
    """Room left to slide on, brought back from the seat to the peak as the stories reckon it."""
    found, hottest = rule(case, "slid-on"), peak(case)
    assert found.value is not None
    assert hottest is not None
    lost_mk = hottest.base - int(found.facts["seat_mdegc"])
    return found.value / 1000 + 12e-6 * float(case.requirement.nominal_mm) * lost_mk
