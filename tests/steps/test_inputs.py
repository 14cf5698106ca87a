"""A finding names every capture it rests on: change or lose one answer, and what changes had named it."""

from collections.abc import Iterator
from copy import copy
from dataclasses import replace
from typing import Any

import pytest

from qrecords.steps.answers import Absent, State
from qrecords.steps.fields import Choice, Gear, Quantity, Words
from qrecords.steps.findings import Finding
from qrecords.steps.work import STEPS
from tests.cast import JOURNAL_UM
from tests.steps.casebook import Book, Line, journal_fields, sound

Told = dict[str, dict[str, Any]]
OTHER_GEAR: dict[str, Any] = {
    "id": "other", "mark": "other", "status": "quarantine", "due": "2020-01-01", "resolution": 3000,
    "expanded_u": 9000, "repeatability": 500, "heater_kind": "oven", "blades_nm": [20_000, 70_000],
    "calibration": "c",
}  # fmt: skip


def one_answer_an_entry(book: Book) -> Book:
    """The same record with every answer in a capture of its own, so that a finding can name each."""
    book.gear["other"] = OTHER_GEAR
    lines: list[Line] = []
    parts: dict[str, list[str]] = {}
    for line in book.lines:
        said, seen = line.payload["body"]["said"], line.payload["body"]["seen"]
        if line.kind == "release":
            named = [part for name in seen["captures"] for part in parts[name]]
            lines.append(_with(line, line.id, said, captures=named))
            continue
        if line.kind != "capture":
            lines.append(line)
            continue
        parts[line.id] = [f"{line.id}.{key}" for key in said["fields"]]
        for key, document in said["fields"].items():
            lines.append(_with(line, f"{line.id}.{key}", said | {"fields": {key: document}}))
    book.lines = lines
    return book


def _with(line: Line, name: str, said: Any, **seen: Any) -> Line:
    body = line.payload["body"]
    body = {**body, "said": said, "seen": {**body["seen"], **seen}}
    return replace(line, id=name, payload={**line.payload, "body": body})


def whole() -> Book:
    """A sound record in which every field is answered that any rule asks."""
    return one_answer_an_entry(
        sound(
            measurement___master_temp=("20.5", "°C"),
            measurement___master_after=("0", "um"),
            heating___cross_check=("94", "°C"),
            heating___at_seat=("88", "°C"),
            heating___own_ceiling=None,
            clearance_before___gauge="feeler",
            clearance_after___gauge="feeler",
        )
    )


def tilted() -> Book:
    book = sound(
        shoulder_gap___gap__90=("0.1", "mm"), shoulder_gap___gap__270=("0.1", "mm"),
        heating___peak=("60", "°C"), measurement___master_after=("0", "um"),
    )  # fmt: skip
    return one_answer_an_entry(book)


def sparse() -> Book:
    """Taken from class and group, and something left out in every step."""
    book = sound(
        bore___source="from class", clearance_before___g0=None, clearance_after___g1=None,
        measurement___journal__C__120=None, shoulder_gap___gap__270=None, heating___peak_outer=None,
    )  # fmt: skip
    book.requirement["interference_um"] = ["13", "48"]
    return one_answer_an_entry(book)


def untold() -> Book:
    """No journal was measured, and what else follows from other answers lacks them too."""
    lost = Absent(State.NOT_DONE, "no micrometer")
    readings = {f"measurement___{key}": lost for key in journal_fields(JOURNAL_UM, "mm")}
    book = sound(
        heating___peak=lost, measurement___gauge=lost, preparation___zone=None, **readings,
    )  # fmt: skip
    book.requirement["interference_um"] = ["13", "48"]
    return one_answer_an_entry(book)


def others(line: Line) -> Iterator[Line]:
    """The same capture with every other kind of answer to its one field."""
    said = line.payload["body"]["said"]
    ((key, document),) = said["fields"].items()
    form = STEPS[said["step"]].field(key).form
    values: list[Any] = []
    match form:
        case Quantity():
            base = int(document.get("value", 0))
            values = [base + by for by in (-8_000, 1_500, 400_000)]
        case Choice(options):
            values = list(options)
        case Words():
            values = ["other words"]
        case Gear():
            other = {key: OTHER_GEAR | {"kind": form.kinds[0]}}
            changed = said | {"fields": {key: {"typed": "other", "unit": "", "value": "other"}}}
            yield _with(line, line.id, changed, gear=other)
    for value in values:
        told = {"typed": str(value), "unit": document.get("unit", ""), "value": value}
        yield _with(line, line.id, said | {"fields": {key: told}})
    for state in (State.NOT_DONE, State.NOT_APPLICABLE):
        yield _with(line, line.id, said | {"fields": {key: Absent(state, "lost").document()}})


def stated(findings: dict[str, Finding]) -> dict[str, Any]:
    """What each finding says, less the list of what it rests on."""
    return {name: {k: v for k, v in f.statement().items() if k != "inputs"} for name, f in findings.items()}


def unnamed(before: dict[str, Finding], after: dict[str, Finding], entry: str, *, gone: bool) -> set[str]:
    """The findings that changed with an entry without having named it."""
    was, now = stated(before), stated(after)
    changed = {name for name in was.keys() | now.keys() if was.get(name) != now.get(name)}
    sides = (before,) if gone else (before, after)
    return {name for name in changed for side in sides if name in side and entry not in side[name].inputs}


@pytest.mark.parametrize("record", [whole, tilted, sparse, untold])
def test_a_finding_that_changes_with_one_answer_had_named_the_capture(record: Any) -> None:
    book = record()
    before, changed = book.findings(), copy(book)
    missed: dict[str, set[str]] = {}
    for place, line in enumerate(list(book.lines)):
        if line.kind != "capture":
            continue
        rest = book.lines[:place], book.lines[place + 1 :]
        for other in [None, *others(line)]:
            changed.lines = [*rest[0], *([other] if other else []), *rest[1]]
            for name in unnamed(before, changed.findings(), line.id, gone=other is None):
                missed.setdefault(name, set()).add(line.id)
    assert missed == {}
