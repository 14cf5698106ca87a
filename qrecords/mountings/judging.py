"""Judging one mounting: fold its entries, ask every rule, keep the answers as indexes."""

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, fields
from datetime import date, datetime
from operator import attrgetter
from typing import Any

from qrecords.ledger.envelope import as_filed
from qrecords.ledger.identifiers import new_id
from qrecords.mountings.models import EquipmentUse, FindingRow, Mounting, NameRead, Reading, TaskDone
from qrecords.mountings.queries import case_of, elsewhere_for
from qrecords.mountings.stating import Statement
from qrecords.mountings.traced import name_rows, task_rows
from qrecords.people.acting import Acting
from qrecords.proof.canonical import canonical_bytes
from qrecords.steps.answers import Value
from qrecords.steps.case import Case
from qrecords.steps.findings import Finding
from qrecords.steps.holds import of_hold
from qrecords.steps.reduced import review_due
from qrecords.steps.standard import all_findings, rules_of
from qrecords.steps.transitions import closing, settled, standing_release, state_of
from qrecords.steps.waiting import waits


@dataclass(frozen=True)
class Judged:
    case: Case
    findings: tuple[Finding, ...]

    def of_hold(self, hold: str) -> list[Finding]:
        """The findings that a release of this hold has to be settled for."""
        return of_hold(self.case, self.findings, hold)


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
    now = standing(judged)
    if now != kept(mounting):
        for name, value in asdict(now).items():
            setattr(mounting, name, value)
        mounting.save(update_fields=list(asdict(now)))
    _keep(Reading, mounting, reading_rows(mounting, judged.case))
    _keep(EquipmentUse, mounting, use_rows(mounting, judged.case))
    _keep(FindingRow, mounting, finding_rows(mounting, judged))
    _keep(TaskDone, mounting, task_rows(mounting, judged.case))
    _keep(NameRead, mounting, name_rows(mounting, judged.case))


@dataclass(frozen=True)
class Standing:
    """What lists and searches ask of a mounting: its state, the holds whose release stands or is waited for,
    when a decision closed it, to whom it was handed over last, and what was read off the ring."""

    state: str
    released: str
    waits: str
    amendments: int
    closed_at: datetime | None
    handed_to: uuid.UUID | None
    marking_read: str
    serial_read: str
    lot_read: str
    date_code_read: str
    review_due: date | None


def kept(mounting: Mounting) -> Standing:
    """The same as the row says it."""
    return Standing(**{field.name: getattr(mounting, field.name) for field in fields(Standing)})


def standing(judged: Judged) -> Standing:
    case = judged.case
    released = [hold for hold in case.procedure.holds if standing_release(case, hold)]
    closed = closing(case)
    waited = [hold for hold in case.procedure.holds if waits(case, judged.findings, hold)]
    seen_twice = case.checks.get("identification", {}).get("marking")
    return Standing(
        state=state_of(case).value,
        released=" ".join(released),
        waits=" ".join(waited),
        amendments=len(case.amendments),
        closed_at=closed.at if closed else None,
        handed_to=uuid.UUID(case.hand_overs[-1].to) if case.hand_overs else None,
        marking_read=_read(case, "marking") if seen_twice else "",
        serial_read=_read(case, "serial"),
        lot_read=_read(case, "lot"),
        date_code_read=_read(case, "date_code"),
        review_due=review_due(case),
    )


def _read(case: Case, key: str) -> str:
    found = case.value_of("identification", key)
    return found.word if found else ""


ROOM = 256
"""The places kept for the findings of one rule, so that one more of them moves no row of another."""


def finding_rows(mounting: Mounting, judged: Judged) -> list[FindingRow]:
    free = {rule.id: nth * ROOM for nth, rule in enumerate(rules_of(judged.case.procedure))}
    rows = []
    for finding in judged.findings:
        rows.append(
            FindingRow(
                mounting=mounting,
                place=free[finding.rule],
                rule=finding.rule,
                characteristic=finding.characteristic,
                verdict=finding.verdict.value,
                digest=finding.digest,
                settled=settled(judged.case, finding),
                document=finding.document(),
            )
        )
        free[finding.rule] += 1
    return rows


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


IndexRow = Reading | EquipmentUse | FindingRow | TaskDone | NameRead


PLACE: Mapping[type[IndexRow], tuple[str, str]] = {
    Reading: ("step", "key"),
    EquipmentUse: ("equipment_id", "entry"),
    FindingRow: ("rule", "characteristic"),
    TaskDone: ("person", "task"),
    NameRead: ("step", "key"),
}
"""What names one row of a mounting."""


def _keep(model: type[IndexRow], mounting: Mounting, rows: Sequence[Any]) -> None:
    """Write what differs: most answers change few of the rows."""
    columns = [field.attname for field in model._meta.concrete_fields if not field.primary_key]
    place, said = attrgetter(*PLACE[model]), attrgetter(*columns)
    stored = {}
    for pk, *values in model._default_manager.filter(mounting=mounting).values_list("pk", *columns):
        there = dict(zip(columns, values, strict=True))
        stored[tuple(there[name] for name in PLACE[model])] = pk, tuple(values)
    same = {place(row) for row in rows if place(row) in stored and stored[place(row)][1] == said(row)}
    stale = [pk for at, (pk, _) in stored.items() if at not in same]
    if stale:
        model._default_manager.filter(pk__in=stale).delete()
    model._default_manager.bulk_create([row for row in rows if place(row) not in same])


PART_BYTES = 30_000
"""How much of a judgement one entry holds: with all around it, half of what an entry may."""


def store_judgement(
    acting: Acting,
    mounting: Mounting,
    judged: Judged,
    occasion: str,
    *,
    cause: uuid.UUID,
    seen: Mapping[str, Any] | None = None,
) -> None:
    """The findings of this moment, with rule versions, limits, inputs and the tables in force, beside the
    entry that caused it; in as many entries as they need. The first also holds what else was `seen`."""
    parts = _parts([finding.document() for finding in judged.findings])
    for number, findings in enumerate(parts, start=1):
        said = {"occasion": occasion, "cause": str(cause), "part": number, "of": len(parts)}
        judgement = Statement(acting=acting, mounting=mounting, kind="judgement", id=new_id(), said=said)
        judgement.file({"findings": findings, **((seen or {}) if number == 1 else {})})


def _parts(documents: Sequence[Mapping[str, Any]]) -> list[list[Mapping[str, Any]]]:
    parts: list[list[Mapping[str, Any]]] = [[]]
    room = PART_BYTES
    for document in documents:
        length = len(canonical_bytes(as_filed(document)))
        if parts[-1] and length > room:
            parts.append([])
            room = PART_BYTES
        parts[-1].append(document)
        room -= length
    return parts


def look_elsewhere(acting: Acting, mounting: Mounting, *, cause: uuid.UUID) -> None:
    """Freeze what other records say, so that the rules which need it can be judged, now and in years. Says
    nothing where that stands in the record already."""
    found = elsewhere_for(mounting)
    if found == case_of(mounting).elsewhere:
        return
    seen: dict[str, Any] = {
        "other_end": list(found.other_end or ()),
        "other_end_mounting": found.other_end_mounting,
        "earlier_heatings": found.earlier_heatings or 0,
        "photos_seen_before": sorted(found.photos_seen_before),
    }
    if found.shift_checks:
        seen["shift_checks"] = [
            {**asdict(check), "at": check.at.isoformat(timespec="microseconds")}
            for check in found.shift_checks
        ]
    said = {"cause": str(cause)}
    Statement(acting=acting, mounting=mounting, kind="elsewhere", id=new_id(), said=said).file(seen)
