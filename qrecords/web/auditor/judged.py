"""Findings as a judgement stored them, as rows of a table: nothing is judged again here."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from qrecords.mountings.judging import Judged
from qrecords.steps.case import Case
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.standard import RULES
from qrecords.steps.waiting import ENDINGS, ending
from qrecords.tracing.record import Judgement
from qrecords.web import parts
from qrecords.web.doubts import told
from qrecords.web.names import name
from qrecords.web.showing import FIGURES, show
from qrecords.web.symbols import symbol_of
from qrecords.web.workings import worked_out
from qrecords.wording.figures import Figures


@dataclass(frozen=True)
class Row:
    """One finding: `working` as it was stored, `rule` with its version, the decision on it in words."""

    name: str
    symbol: str
    verdict: parts.Verdict
    lead: str
    rest: str
    limit: str
    found: str
    margin: str
    times_u: str
    source: str
    rule: str
    unconfirmed: tuple[str, ...]
    working: parts.Working | None
    decision: str = ""
    conforming: bool = False
    to_come: bool = False
    """Missing because nobody had been there yet, not because somebody said it could not be done."""


def rows(
    judgement: Judgement, case: Case, decisions: Mapping[str, str], figures: Figures = FIGURES
) -> list[Row]:
    """Every finding of a judgement; `decisions` says in words what was decided, by finding digest."""
    return [row(finding, case, judgement.workings, decisions, figures) for finding in judgement.findings]


def row(
    finding: Finding,
    case: Case,
    workings: Mapping[str, Mapping[str, Any]],
    decisions: Mapping[str, str],
    figures: Figures = FIGURES,
) -> Row:
    known = finding.rule in RULES
    shown = show(Judged(case, (finding,)), finding, figures, iso=True) if known else None
    stored = workings.get(finding.digest)
    return Row(
        name=name(finding.characteristic),
        symbol=symbol_of(finding.rule),
        verdict=parts.Verdict(finding.verdict.value, iso=True),
        lead=shown.lead if shown else finding.message,
        rest=shown.rest if shown else "",
        limit=shown.limit if shown else "",
        found=shown.found if shown else "",
        margin=shown.margin if shown else "",
        times_u=shown.times_u if shown else "",
        source=finding.source,
        rule=f"{finding.rule}/{finding.version}",
        unconfirmed=told(finding.unconfirmed),
        working=_working(finding, stored) if stored else None,
        decision=decisions.get(finding.digest, ""),
        conforming=finding.verdict == Verdict.CONFORMING,
        to_come=finding.verdict == Verdict.MISSING and ending(finding.message) in ENDINGS,
    )


def _working(finding: Finding, stored: Mapping[str, Any]) -> parts.Working:
    spread = f" ± {stored['u']}" if stored["u"] else ""
    return worked_out(
        summary=name(finding.characteristic),
        formula=stored["formula"],
        put_in=stored["put_in"],
        figure=f"{stored['value']}{spread}",
        unit=stored["unit"],
        assumptions=stored.get("assumptions", ()),
        source=stored["source"],
        unconfirmed=(*stored["unconfirmed"], *stored.get("own_copy", ())),
        validity=stored.get("validity", ()),
    )
