"""The whole record of one mounting as an auditor reads it: every entry, what it rests on, what came of it.

Everything comes from the entries of the mounting: names by the version an entry names, gauges and limits as
they were frozen, findings as they were judged then. Three queries.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any
from uuid import UUID

from qrecords.ledger.queries import Said, entries_of
from qrecords.mountings.folded import folded
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import tables_for
from qrecords.people.queries import names_by_hash
from qrecords.steps.answers import Absent
from qrecords.steps.case import Case
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.folding import fold
from qrecords.steps.gear import GearRecord, read_gear
from qrecords.steps.standard import STEPS
from qrecords.steps.stated import moment, told_at
from qrecords.workshop.queries import procedure_by_digest


@dataclass(frozen=True)
class Line:
    """One entry with the names that its hashes name. `sender` is empty where the author sent it himself;
    `replaced_by` is the entry that corrected it."""

    entry: Said
    author: str
    sender: str = ""
    replaced_by: UUID | None = None
    other: str = ""
    """The person the entry names besides: to whom it was handed over, who wrote the sheet of paper."""

    @property
    def said(self) -> Mapping[str, Any]:
        said: Mapping[str, Any] = self.entry.payload["body"]["said"]
        return said

    @property
    def seen(self) -> Mapping[str, Any]:
        seen: Mapping[str, Any] = self.entry.payload["body"]["seen"]
        return seen

    @property
    def at(self) -> datetime:
        """The device's time of the act; the server's where no device was there."""
        return told_at(self.entry.payload)

    @property
    def received(self) -> datetime:
        return moment(self.entry.payload["at_server"])

    @property
    def reason(self) -> str:
        return self.entry.payload["reason"] or ""


@dataclass(frozen=True)
class Judgement:
    """The findings of one moment as they were stored: rules, limits and inputs of that day."""

    line: Line
    occasion: str
    findings: tuple[Finding, ...]
    workings: Mapping[str, Mapping[str, Any]]
    """The stored working of a finding, by its digest."""
    again: bool = False
    """Judged with something put right, beside the record: not what was found of it."""


@dataclass(frozen=True)
class GearUse:
    """A gauge, meter or heater with the calibration in force as it was frozen, and where it was used."""

    gear: GearRecord
    steps: tuple[str, ...]
    lines: tuple[Line, ...]


@dataclass(frozen=True)
class NotDone:
    """A field without a value: its state, or *not entered*. `optional` as the procedure calls it."""

    step: str
    key: str
    state: str
    reason: str
    optional: bool


@dataclass(frozen=True)
class Record:
    """`case` is everything, `signed` the case as it stood at the sign-off that `version` counts (None before
    the first): 0 for the record as it was first signed, 1 for its first amendment."""

    mounting: Mounting
    lines: tuple[Line, ...]
    case: Case
    signed: Case | None
    judgements: tuple[Judgement, ...] = field(default=())
    version: int = 0

    def line(self, entry: str) -> Line:
        return next(line for line in self.lines if str(line.entry.id) == entry)

    @property
    def counting(self) -> Judgement | None:
        """The judgement that counts: that of the sign-off, else the newest of the record as it is."""
        own = [judgement for judgement in self.judgements if not judgement.again]
        if self.signature is None:
            return own[-1] if own else None
        return next(j for j in own if j.line.said["cause"] == str(self.signature.entry.id))

    @property
    def sign_offs(self) -> tuple[Line, ...]:
        """The inspector's signatures: over the record, and over each of its amendments."""
        return tuple(line for line in self.lines if _is_sign_off(line.entry))

    @property
    def signature(self) -> Line | None:
        """That of the version."""
        return self.sign_offs[self.version] if self.sign_offs else None

    @property
    def after_signature(self) -> tuple[Line, ...]:
        """What came since it was signed; of an older version, until it was opened for its next amendment."""
        if self.signature is None:
            return ()
        later = self.lines[self.lines.index(self.signature) + 1 :]
        opened = [place for place, line in enumerate(later) if line.entry.kind == "amendment"]
        return later[: opened[0]] if opened else later


def record_of(mounting: Mounting, version: int | None = None) -> Record:
    """The record as it stands; `signed` by the sign-off of the version, the newest if None. IndexError for a
    version that nobody has signed."""
    entries = entries_of(mounting.id)
    procedure, tables = procedure_by_digest(mounting.procedure_digest), tables_for(mounting)
    lines = tuple(lines_of(entries))
    record = Record(
        mounting=mounting,
        lines=lines,
        case=folded(entries, procedure, tables),
        signed=None,
        judgements=tuple(_judgements(lines)),
    )
    newest = len(record.sign_offs) - 1
    if version is None and newest < 0:
        return record
    return of_version(record, newest if version is None else version)


def of_version(record: Record, version: int) -> Record:
    """The same record as one of its sign-offs covers it. IndexError for a version that nobody has signed."""
    if not 0 <= version < len(record.sign_offs):
        raise IndexError(version)
    signature, case = record.sign_offs[version], record.case
    until = [line.entry for line in record.lines[: record.lines.index(signature) + 1]]
    signed = fold(until, case.procedure, case.tables, logs=case.logs)
    return replace(record, signed=signed, version=version)


OTHER = "person"
"""Beside an entry: the hash of the version of the person it names besides author and sender."""


def lines_of(entries: Sequence[Said]) -> list[Line]:
    """Entries with the names of whom they name, by exactly the version each hash names; one query."""
    people = [entry.payload[role] for entry in entries for role in ("author", "sender")]
    others = [entry.payload["body"]["seen"].get(OTHER, "") for entry in entries]
    names = names_by_hash([*(person["hash"] for person in people if person), *others])
    replaced = {before: entry.id for entry in entries for before in _replaces(entry)}
    return [_line(entry, names, replaced) for entry in entries]


def _replaces(entry: Said) -> set[str]:
    """The entries some of whose answers this one corrects."""
    named: Mapping[str, str] = entry.payload["body"]["seen"].get("replaces", {})
    return {*named.values(), *filter(None, [entry.payload["prev"]])}


def _line(entry: Said, names: Mapping[str, str], replaced: Mapping[str, UUID]) -> Line:
    author, sender = entry.payload["author"], entry.payload["sender"]
    other = sender and author and sender["person"] != author["person"]
    named = entry.payload["body"]["seen"].get(OTHER, "")
    return Line(
        entry,
        _name(author, names),
        _name(sender, names) if other else "",
        replaced.get(str(entry.id)),
        names.get(named, named[:8]),
    )


def _name(person: Mapping[str, str] | None, names: Mapping[str, str]) -> str:
    """The printed name of that version; an erased person keeps the beginning of the pseudonym."""
    if person is None:
        return ""
    return names.get(person["hash"], f"person {person['person'][:8]}")


def _is_sign_off(entry: Said) -> bool:
    return entry.kind == "signature" and entry.payload["body"]["said"]["meaning"] == "inspected"


def _judgements(lines: Sequence[Line]) -> list[Judgement]:
    """Each judgement from its parts, which stand one after the other."""
    parts: dict[tuple[str, str], list[Line]] = {}
    for line in lines:
        if line.entry.kind == "judgement":
            parts.setdefault((line.said["cause"], line.said["occasion"]), []).append(line)
    return [_judgement(of_one) for of_one in parts.values()]


def _judgement(parts: Sequence[Line]) -> Judgement:
    documents = [document for part in parts for document in part.seen["findings"]]
    return Judgement(
        line=parts[0],
        occasion=parts[0].said["occasion"],
        findings=tuple(read_finding(document) for document in documents),
        workings={d["digest"]: d["working"] for d in documents if "working" in d},
        again="class" in parts[0].seen,
    )


def read_finding(document: Mapping[str, Any]) -> Finding:
    """A finding from the document a judgement stores. Its working stays what it was and is not made again."""
    return Finding(
        rule=document["rule"],
        version=document["version"],
        characteristic=document["characteristic"],
        verdict=Verdict(document["verdict"]),
        message=document["message"],
        facts=document["facts"],
        unit=document["unit"],
        value=document["value"],
        u=document["u"],
        lower=document["lower"],
        upper=document["upper"],
        source=document["source"],
        inputs=tuple(document["inputs"]),
        unconfirmed=(*document.get("unconfirmed", ()), *document.get("own_copy", ())),
    )


def gear_used(lines: Iterable[Line]) -> list[GearUse]:
    """Each gauge with each calibration that was in force, in the order of first use, as these entries
    froze it."""
    found: dict[tuple[str, str], tuple[GearRecord, list[Line]]] = {}
    for line in lines:
        for frozen in line.seen.get("gear", {}).values():
            gear = read_gear(frozen)
            found.setdefault((gear.id, gear.calibration), (gear, []))[1].append(line)
    return [
        GearUse(gear, tuple(dict.fromkeys(line.said["step"] for line in used)), tuple(used))
        for gear, used in found.values()
    ]


def not_done(case: Case) -> list[NotDone]:
    """What has no value: said to be so with its reason, or never entered; of every step of the procedure."""
    return [gap for step in case.procedure.steps for gap in _gaps(case, step)]


def _gaps(case: Case, step: str) -> list[NotDone]:
    answers = case.answers.get(step, {})
    optional = case.procedure.optional_for(case.requirement)
    said = [
        NotDone(step, key, given.answer.state.value, given.answer.reason, f"{step}.{key}" in optional)
        for key, given in answers.items()
        if isinstance(given.answer, Absent)
    ]
    entered = {key.split(".", 1)[0] for key in answers}
    return said + [
        NotDone(step, field.id, "not entered", "", field.optional or f"{step}.{field.id}" in optional)
        for field in STEPS[step].asked(case.procedure)
        if field.id not in entered
    ]
