"""The answer when a case is judged: its findings with all that is needed to check them by hand, and whatever
else was worked out. The API shows a mounting's findings in the same form."""

from dataclasses import replace
from typing import Any

from qrecords.engineering.ceilings import Ceiling
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.heating import Plan
from qrecords.engineering.tables import unconfirmed_of
from qrecords.proof.errors import CanonicalError
from qrecords.steps.case import Case
from qrecords.steps.findings import Finding, Verdict, of_rows, working_in_parts
from qrecords.steps.fit import ceiling, heating_plan
from qrecords.steps.granting import offers
from qrecords.steps.interchange.answer_form import FORM, VERSION
from qrecords.steps.interchange.computed import impossible, results, surfaces
from qrecords.steps.interchange.faults import CaseFaultsError, Fault
from qrecords.steps.interchange.form import VERSION as FORM_VERSION
from qrecords.steps.interchange.laid_over import own_rows
from qrecords.steps.interchange.reading import CaseRead
from qrecords.steps.measurement import Measured
from qrecords.steps.remarks import Remark, all_remarks
from qrecords.steps.requirement import Limits
from qrecords.steps.sealed import Sealed
from qrecords.steps.standard import RULES, all_findings
from qrecords.steps.transitions import settled, state_of, undecided
from qrecords.steps.work import STEPS

OPEN = Sealed()
"""Nothing is kept back."""


def judgement(read: CaseRead, app: str) -> dict[str, Any]:
    """Judge a case that was read, by this program (`app` is its version): the answer as JSON-ready values.
    CaseFaultsError for numbers beyond what a model or the record can hold."""
    try:
        return _judgement(read, app)
    except (EngineeringError, CanonicalError) as error:
        raise CaseFaultsError([Fault("", "beyond", why=f"cannot be judged: {error}")]) from None


def _judgement(read: CaseRead, app: str) -> dict[str, Any]:
    case, findings = read.case, all_findings(read.case)
    procedure = case.procedure
    return {
        "form": FORM,
        "version": VERSION,
        "mounting": case.mounting,
        "judged_with": versions(app),
        "procedure": {
            "name": procedure.name,
            "revision": procedure.revision,
            "digest": procedure.digest,
            "given": read.own_procedure,
        },
        "tables": {"digest": case.tables.digest, "own_rows": len(own_rows(case.tables))},
        "state": state_of(case).value,
        "requirement": asked_document(case),
        "findings": [finding_document(case, finding) for finding in findings],
        "open": [finding.characteristic for finding in undecided(case, findings)],
        "remarks": [remark_document(remark) for remark in all_remarks(case)],
        "measured": {name: _surface(found) for name, found in surfaces(case).items()},
        "computed": {name: working_in_parts(result) for name, result in results(case).items()},
        "ceiling": _ceiling(ceiling(case)),
        "heating_plan": plan_document(heating_plan(case)),
        "impossible": {name: error_document(error) for name, error in impossible(case).items()},
        "unread": list(case.unread),
        "doubts": [fault_document(doubt) for doubt in read.doubts],
    }


def versions(app: str) -> dict[str, Any]:
    """What judged: the program, the form of the case, the schemas of the steps, the rules."""
    return {
        "app": app,
        "form": FORM_VERSION,
        "schemas": {step.id: step.version for step in STEPS.values()},
        "rules": {rule.id: rule.version for rule in RULES.values()},
    }


def finding_document(case: Case, finding: Finding, sealed: Sealed = OPEN) -> dict[str, Any]:
    """One finding with everything needed to check it by hand, and what may be decided about it."""
    digest, margin = finding.digest, finding.margin
    is_settled = settled(case, finding)
    if sealed.rule(finding.rule):
        finding, margin = replace(finding, facts={}, value=None, u=None, working=None), None
    rule = RULES[finding.rule]
    more = {
        "margin": margin,
        "digest": digest,
        "settled": is_settled,
        "confirmed": rule.confirmed and not unconfirmed_of(finding.unconfirmed),
        **of_rows(finding.unconfirmed),
        "hold": rule.hold,
        "may": list(rule.decisions(finding, case)),
        **_offered(case, finding, hidden=sealed.rule(finding.rule)),
        "working": working_in_parts(finding.working) if finding.working else None,
    }
    return finding.document() | more


def _offered(case: Case, finding: Finding, *, hidden: bool) -> dict[str, Any]:
    """The row of the table, and each way with what has to be proven first; its facts not where the reader has
    still to read for himself. Of what conforms nothing is to be done."""
    if finding.verdict == Verdict.CONFORMING:
        return {"row": "", "ways": []}
    ways = [
        {
            "kind": offer.kind,
            "by": list(offer.by),
            "proven": {name: {} if hidden else dict(facts) for name, facts in offer.proven.items()},
            "lacking": list(offer.lacking),
            "states": list(offer.way.states),
            "customer": offer.customer,
        }
        for offer in offers(finding, case)
    ]
    return {"row": RULES[finding.rule].row_of(finding, case).id, "ways": ways}


def limits_document(limits: Limits) -> dict[str, Any]:
    return {
        "lower_nm": limits.lower_nm,
        "upper_nm": limits.upper_nm,
        "source": limits.source,
        **of_rows(limits.unconfirmed),
    }


def asked_document(case: Case) -> dict[str, Any]:
    """What is asked: the requirement's own document, and the limits that follow."""
    asked = case.requirement
    document = {"document": dict(asked.document)}
    return document | {"journal": limits_document(asked.journal), "bore": limits_document(asked.bore)}


def plan_document(plan: Plan | EngineeringError | None) -> dict[str, Any] | None:
    """The plan as it is read at the heater; or, as `impossible`, why there can be none."""
    if plan is None:
        return None
    if isinstance(plan, EngineeringError):
        return {"impossible": str(plan)}
    worked = {
        "contact": plan.contact,
        "wanted": plan.wanted,
        "carry": plan.carry,
        "drop": plan.drop,
        "start": plan.start,
        "pressing": plan.pressing and plan.pressing.hold,
    }
    return {
        "set_c": plan.set_c,
        "must_reach_c": plan.must_reach_c,
        "never_above_c": plan.never_above_c,
        "ceiling": plan.ceiling.kind,
        "ceiling_source": plan.ceiling.source,
        "carry_s": plan.carry_s,
        "pressing_s": plan.pressing_s,
        "working": {name: working_in_parts(result) for name, result in worked.items() if result},
    }


def remark_document(remark: Remark) -> dict[str, Any]:
    return {
        "id": remark.id,
        "kind": remark.kind.value,
        "facts": dict(remark.facts),
        "inputs": list(remark.inputs),
        "working": working_in_parts(remark.working) if remark.working else None,
    }


def _surface(found: Measured) -> dict[str, Any]:
    return {
        "mean_nm": found.mean_nm,
        "u_nm": found.u_nm,
        "points": [
            {
                "plane": point.plane,
                "direction": point.direction,
                "typed": point.typed,
                "repeats": point.repeats,
                "deviation_nm": point.deviation_nm,
                "correction_nm": point.correction_nm,
            }
            for point in found.points
        ],
        "inputs": list(found.rests),
    }


def _ceiling(limit: Ceiling) -> dict[str, Any]:
    return {
        "kind": limit.kind,
        "cap_c": f"{limit.cap_c:g}",
        "aim_c": "" if limit.aim_c is None else f"{limit.aim_c:g}",
        "source": limit.source,
        "confirmed": limit.confirmed,
    }


def error_document(error: EngineeringError) -> dict[str, Any]:
    return {"code": error.code, "why": str(error)}


def fault_document(fault: Fault) -> dict[str, Any]:
    return {
        "at": fault.at,
        "code": fault.code,
        "told": fault.told,
        "unit": fault.unit,
        "allowed": fault.allowed,
        "why": fault.why,
    }
