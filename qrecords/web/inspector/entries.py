"""Entries in words, a line each: what came since, what was decided, the last sheets of a certificate."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from qrecords.ledger.queries import Said
from qrecords.tracing import record
from qrecords.web.auditor.saying import saying
from qrecords.web.moments import moment


@dataclass(frozen=True)
class Line:
    """One entry: its place in the log, when, who (as the entry names the person), what, and its leaf hash."""

    place: str
    at: str
    who: str
    what: str
    told: str
    leaf: str
    reason: str = ""


def lines(entries: Iterable[Said], zone: str) -> list[Line]:
    """Entries in words, in their order; one query for the names."""
    return [line_of(line, zone) for line in record.lines_of(list(entries))]


def _short(value: str) -> str:
    """A hash by its first eight figures, as the leaves beside it; the entry's own page has it whole."""
    return value[:8] + "…" if re.fullmatch("[0-9a-f]{64}", value) else value


def line_of(line: record.Line, zone: str) -> Line:
    """One entry in words: its kind, and all that it says behind it."""
    said = saying(line)
    return Line(
        place="" if line.entry.index is None else str(line.entry.index),
        at=moment(line.at, zone),
        who=line.author,
        what=said.kind,
        told="; ".join(f"{told.caption} {_short(told.value)}" for told in said.told),
        leaf=line.entry.leaf,
        reason=line.reason,
    )
