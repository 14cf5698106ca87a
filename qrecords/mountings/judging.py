"""Judging one mounting: fold its entries, ask every rule, keep the answers as indexes."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from qrecords.engineering.tables import BUILT_IN
from qrecords.ledger.models import Entry
from qrecords.mountings.models import EquipmentUse, FindingRow, Mounting, Reading
from qrecords.mountings.queries import case_of, elsewhere_for
from qrecords.people.acting import Acting
from qrecords.people.stating import state
from qrecords.steps.answers import Value
from qrecords.steps.case import Case
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.standard import RULES, all_findings
from qrecords.steps.transitions import decided, state_of


@dataclass(frozen=True)
class Judged:
    case: Case
    findings: tuple[Finding, ...]

    def of_hold(self, hold: str) -> list[Finding]:
        """The findings that a release of this hold has to be settled for."""
        return [finding for finding in self.findings if RULES[finding.rule].hold == hold]


def judge(mounting: Mounting) -> Judged:
    """Judge now and keep state, readings, uses and findings as indexes."""
    judged = judged_now(mounting)
    index(mounting, judged)
    return judged


def judged_now(mounting: Mounting) -> Judged:
    """Judge without writing anything."""
    case = case_of(mounting)
    return Judged(case, tuple(all_findings(case)))


def index(mounting: Mounting, judged: Judged) -> None:
    """Make the index rows of one mounting say what its case says."""
    state_now = state_of(judged.case).value
    if mounting.state != state_now:
        Mounting.objects.filter(id=mounting.id).update(state=state_now)
        mounting.state = state_now
    _replace(Reading, mounting, reading_rows(mounting, judged.case))
    _replace(EquipmentUse, mounting, use_rows(mounting, judged.case))
    _replace(FindingRow, mounting, finding_rows(mounting, judged))


def settled(case: Case, finding: Finding) -> bool:
    """Nothing is left to do about this finding."""
    if finding.verdict == Verdict.CONFORMING:
        return True
    if finding.verdict == Verdict.QUERY:
        return finding.digest in case.looked
    return decided(case, finding)


def finding_rows(mounting: Mounting, judged: Judged) -> list[FindingRow]:
    return [
        FindingRow(
            mounting=mounting,
            place=place,
            rule=finding.rule,
            characteristic=finding.characteristic,
            verdict=finding.verdict.value,
            digest=finding.digest,
            settled=settled(judged.case, finding),
            document=finding.document(),
        )
        for place, finding in enumerate(judged.findings)
    ]


def reading_rows(mounting: Mounting, case: Case) -> list[Reading]:
    """Every standing number, and each heating by its start, as one index for search and trend."""
    rows = [
        Reading(mounting=mounting, entry=uuid.UUID(a.entry), step=step, key=key, base=a.answer.value)
        for step, answers in case.answers.items()
        for key, a in answers.items()
        if isinstance(a.answer, Value) and isinstance(a.answer.value, int)
    ]
    heated = [tap for tap in case.taps if tap.what == "heater on"]
    return rows + [
        Reading(
            mounting=mounting,
            entry=uuid.UUID(tap.entry),
            step="heating",
            key=f"heater on.{number}",
            base=round(tap.at.timestamp() * 1000),
        )
        for number, tap in enumerate(heated, start=1)
    ]


def use_rows(mounting: Mounting, case: Case) -> list[EquipmentUse]:
    """Every capture that used a piece: also a check, and one whose answers stand no more. What was done with
    a gauge stays done with it."""
    return [
        EquipmentUse(
            equipment_id=uuid.UUID(piece), mounting=mounting, entry=uuid.UUID(entry), step=step, at=at
        )
        for entry, step, at in case.captures
        for piece in dict.fromkeys(gear["id"] for gear in case.seen[entry].get("gear", {}).values())
    ]


IndexRow = Reading | EquipmentUse | FindingRow


def _replace(model: type[IndexRow], mounting: Mounting, rows: Sequence[Any]) -> None:
    model._default_manager.filter(mounting=mounting).delete()
    model._default_manager.bulk_create(rows)


def store_judgement(
    acting: Acting, mounting: Mounting, judged: Judged, occasion: str, *, entry_id: uuid.UUID
) -> Entry:
    """The findings of this moment as an entry: with rule versions, limits, inputs and the tables in force."""
    found = [finding.document() for finding in judged.findings]
    said = {"occasion": occasion, "findings": found}
    return state(
        acting,
        "judgement",
        id=uuid.uuid5(entry_id, occasion),
        site=mounting.site,
        mounting=mounting.id,
        said=said,
        procedure=mounting.procedure_digest,
        tables=BUILT_IN.digest,
    )


def look_elsewhere(acting: Acting, mounting: Mounting, *, entry_id: uuid.UUID) -> None:
    """Freeze what other records say, so that the rules which need it can be judged, now and in years."""
    found = elsewhere_for(mounting)
    said = {
        "other_end": list(found.other_end or ()),
        "other_end_mounting": found.other_end_mounting,
        "earlier_heatings": found.earlier_heatings or 0,
        "photos_seen_before": sorted(found.photos_seen_before),
    }
    state(
        acting,
        "elsewhere",
        id=uuid.uuid5(entry_id, "elsewhere"),
        site=mounting.site,
        mounting=mounting.id,
        said=said,
    )
