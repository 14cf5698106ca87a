"""The case as it would have been recorded with a right gauge: readings moved by its error, u wider by the
error's (ruling 23). Nothing that is recorded changes: rules judge this case beside the recorded one."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from qrecords.steps.answers import Value
from qrecords.steps.case import Answered, Case
from qrecords.steps.fields import Field, Gear
from qrecords.steps.log_table import Column, LogTable
from qrecords.steps.suspect import ErrorOfSize, Suspect
from qrecords.steps.work import STEPS

FROZEN = ("gear", "gear_received")
FEELER = "feeler set"
HEATER = "heater"


@dataclass(frozen=True)
class Link:
    """Through which field of a `step` a piece reads: `key` names it, `heads` are the fields read with it, all
    of the step `at`."""

    step: str
    key: str
    at: str
    heads: tuple[str, ...]
    kinds: tuple[str, ...]


def _links(step: str, field: Field, form: Gear) -> Iterator[Link]:
    by_step: dict[str, list[str]] = {}
    for read in form.reads:
        at, _dot, head = read.rpartition(".")
        by_step.setdefault(at or step, []).append(head)
    for at, heads in by_step.items():
        yield Link(step, field.id, at, tuple(heads), form.kinds)


LINKS: tuple[Link, ...] = tuple(
    link
    for step in STEPS.values()
    for field in step.fields
    if isinstance(field.form, Gear)
    for link in _links(step.id, field, field.form)
)


@dataclass(frozen=True)
class Moved:
    """One reading that the error moves: by how much, and with which u."""

    answered: Answered
    step: str
    base: int
    u: int


def corrected(case: Case, suspect: Suspect) -> Case:
    """The case with every reading of the suspect piece between its two moments moved by its error. The very
    case where none is."""
    found = (each for link in LINKS for each in _moved(case, link, suspect))
    moved = {(each.step, each.answered.key, each.answered.entry): each for each in found}
    logs = dict(_logs(case, suspect))
    if not moved and not logs:
        return case

    def put(step: str, answered: Answered) -> Answered:
        found = moved.get((step, answered.key, answered.entry))
        if found is None or not isinstance(answered.answer, Value):
            return answered
        return replace(answered, answer=replace(answered.answer, value=found.base))

    def put_all(said: Mapping[str, Mapping[str, Answered]]) -> dict[str, dict[str, Answered]]:
        return {step: {key: put(step, a) for key, a in answers.items()} for step, answers in said.items()}

    return replace(
        case,
        answers=put_all(case.answers),
        checks=put_all(case.checks),
        given={step: [put(step, answered) for answered in given] for step, given in case.given.items()},
        seen=_seen(case, suspect, moved.values(), logged=bool(logs)),
        logs={**case.logs, **logs},
    )


def touches(case: Case, suspect: Suspect) -> bool:
    """Whether anything of the case was read with the piece in that time."""
    return any(True for link in LINKS for _ in _moved(case, link, suspect)) or any(_logs(case, suspect))


def _moved(case: Case, link: Link, suspect: Suspect) -> Iterator[Moved]:
    beside = list(case.checks.get(link.at, {}).values())
    work = _distinct([*case.answers.get(link.at, {}).values(), *case.given.get(link.at, ())])
    named = [a for a in case.given.get(link.step, ()) if a.key == link.key]
    named_beside = [a for a in case.checks.get(link.step, {}).values() if a.key == link.key]
    for answers, pieces in ((work, named), (beside, named_beside or named)):
        for answered in answers:
            if answered.key.split(".", 1)[0] not in link.heads or not isinstance(answered.answer, Value):
                continue
            if suspect.covers(answered.at) and _read_with(case, pieces, answered) == suspect.piece:
                yield _true(answered, link, suspect.error)


def _distinct(answers: Iterable[Answered]) -> list[Answered]:
    return list({(a.key, a.entry): a for a in answers}.values())


def _read_with(case: Case, named: Iterable[Answered], reading: Answered) -> str:
    """The piece that was named last before a reading or with it; else the first one named after it."""
    known = [a for a in named if isinstance(a.answer, Value)]
    before = [a for a in known if case.order[a.entry] <= case.order[reading.entry]]
    found = before[-1] if before else known[0] if known else None
    return found.word if found else ""


def _true(reading: Answered, link: Link, error: ErrorOfSize) -> Moved:
    """A reading without the error of what read it, or of the master its gauge was set on. That no blade goes
    in stays so: the blades change."""
    high, u = error.at(reading.base)
    blade = FEELER in link.kinds
    true = reading.base if blade and reading.base == 0 else reading.base - high
    return Moved(reading, link.at, max(true, 0) if blade else true, u)


def _seen(
    case: Case, suspect: Suspect, moved: Iterable[Moved], *, logged: bool
) -> dict[str, Mapping[str, Any]]:
    """What was frozen beside each entry, with the u of the error at every instrument whose readings moved."""
    u_of: dict[tuple[str, str], int] = {}
    for each in moved:
        for link in LINKS:
            if link.at == each.step and each.answered.key.split(".", 1)[0] in link.heads:
                place = (link.step, link.key)
                u_of[place] = max(u_of.get(place, 0), each.u)
    if logged:
        top = max(point.u for point in suspect.error.points)
        u_of["heating", HEATER] = max(u_of.get(("heating", HEATER), 0), top)
    seen = dict(case.seen)
    for entry, step, _at in case.captures:
        wider = {key: u for (of, key), u in u_of.items() if of == step}
        if wider:
            seen[entry] = _wider(seen[entry], wider, suspect, case.procedure.blade_limit_nm)
    return seen


def _wider(
    seen: Mapping[str, Any], wider: Mapping[str, int], suspect: Suspect, blade_limit_nm: int
) -> Mapping[str, Any]:
    changed = dict(seen)
    for beside in FROZEN:
        frozen = seen.get(beside)
        if not frozen:
            continue
        changed[beside] = {
            key: _doubted(document, wider[key], suspect, blade_limit_nm) if key in wider else document
            for key, document in frozen.items()
        }
    return changed


def _doubted(document: Mapping[str, Any], u: int, suspect: Suspect, blade_limit_nm: int) -> Mapping[str, Any]:
    """A frozen piece with the u of the error; blades of the suspect set are as thick as they really are. A
    blade of the limit that is thinner than its mark still shows that no more goes in."""
    changed = {**document, "error_u": u}
    if document["id"] == suspect.piece and document.get("blades_nm"):
        true = {blade: blade - suspect.error.at(blade)[0] for blade in document["blades_nm"]}
        blades = set(true.values())
        if true.get(blade_limit_nm, blade_limit_nm + 1) <= blade_limit_nm:
            blades.add(blade_limit_nm)
        changed["blades_nm"] = sorted(blade for blade in blades if blade > 0)
    return changed


def _logs(case: Case, suspect: Suspect) -> Iterator[tuple[str, LogTable]]:
    """The heater's own logs, moved by the error of its probe."""
    named = [a for a in case.given.get("heating", ()) if a.key == HEATER]
    for file in case.log_files:
        table = case.logs.get(file.sha256)
        if not isinstance(table, LogTable) or not suspect.covers(file.at):
            continue
        stood = [a.word for a in named if isinstance(a.answer, Value)]
        if suspect.piece in stood[-1:]:
            columns = tuple(_column(column, file.said.unit, suspect.error) for column in table.columns)
            yield file.sha256, replace(table, columns=columns)


def _column(column: Column, unit: str, error: ErrorOfSize) -> Column:
    fahrenheit = (unit or column.unit) == "°F"

    def moved(value: float | None) -> float | None:
        if value is None:
            return None
        celsius = (value - 32) / 1.8 if fahrenheit else value
        high_k = error.at(round(celsius * 1000))[0] / 1000
        return value - (high_k * 1.8 if fahrenheit else high_k)

    return replace(column, values=tuple(moved(value) for value in column.values))
