"""The amendments of a record: who opened each, why, what it changed, and whether both roles signed it."""

from collections.abc import Sequence
from dataclasses import dataclass

from qrecords.steps.amended import Change, changes
from qrecords.steps.findings import Finding
from qrecords.tracing.record import Line, Record, of_version


@dataclass(frozen=True)
class Amended:
    """One amendment. `signed` is the inspector's signature over it, None while it is being made."""

    number: int
    opened: Line
    signed: Line | None
    changes: tuple[Change, ...]


def amendments_of(record: Record, now: Sequence[Finding]) -> list[Amended]:
    """Oldest first. `now` are the findings of the record as it stands, for one that nobody has signed yet.
    Each is told against the version that was signed before it."""
    opened = [line for line in record.lines if line.entry.kind == "amendment"]
    return [_amended(record, number, line, now) for number, line in enumerate(opened, start=1)]


def _amended(record: Record, number: int, opened: Line, now: Sequence[Finding]) -> Amended:
    before = of_version(record, number - 1)
    assert before.signed is not None and before.counting is not None  # noqa: S101 - it was signed
    if number >= len(record.sign_offs):
        told = changes(before.signed, before.counting.findings, record.case, now)
        return Amended(number, opened, None, tuple(told))
    after = of_version(record, number)
    assert after.signed is not None and after.counting is not None  # noqa: S101 - it was signed
    told = changes(before.signed, before.counting.findings, after.signed, after.counting.findings)
    return Amended(number, opened, after.signature, tuple(told))
