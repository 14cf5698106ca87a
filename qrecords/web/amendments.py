"""Amendments in words: what was, what is, who says so and why; for record, certificate and auditor's page."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext

from qrecords.steps.amended import Change, Changed
from qrecords.steps.findings import Finding
from qrecords.tracing.amendments import Amended, amendments_of
from qrecords.tracing.record import Record
from qrecords.web.auditor.saying import answer_of, field_name, step_name
from qrecords.web.moments import moment
from qrecords.web.names import hold_name, name
from qrecords.web.parts import Verdict


@dataclass(frozen=True)
class Difference:
    """One change: what it is about, what stood there and what stands there now ('–' for nothing), and who
    said so when and why; `follows` where nobody said it."""

    about: str
    before: str
    after: str
    who: str = ""
    reason: str = ""


@dataclass(frozen=True)
class AmendmentShown:
    """`before` is the address of the certificate as it was signed before; `signed` '' while it is made."""

    number: int
    reason: str
    opened: str
    signed: str
    differences: tuple[Difference, ...]
    before: str


def shown_amendments(record: Record, now: Sequence[Finding], zone: str) -> tuple[AmendmentShown, ...]:
    """Every amendment of a record, oldest first."""
    return tuple(_shown(record, each, zone) for each in amendments_of(record, now))


def _shown(record: Record, amended: Amended, zone: str) -> AmendmentShown:
    address = {"mounting": record.mounting.id, "version": amended.number - 1}
    return AmendmentShown(
        number=amended.number,
        reason=amended.opened.reason,
        opened=f"{amended.opened.author}, {moment(amended.opened.at, zone)}",
        signed=f"{amended.signed.author}, {moment(amended.signed.at, zone)}" if amended.signed else "",
        differences=tuple(_difference(record, change, zone) for change in amended.changes),
        before=reverse("certificate-version", kwargs=address),
    )


def _difference(record: Record, change: Change, zone: str) -> Difference:
    if not change.entry:
        return Difference(name(change.key), _verdict(change.before), _verdict(change.after))
    line = record.line(change.entry)
    who = f"{line.author}, {moment(line.at, zone)}"
    match change.about:
        case Changed.ANSWER:
            about = f"{step_name(change.step)}, {field_name(change.key)}"
            before = answer_of(record.line(change.was), change.key) if change.was else "–"
            return Difference(about, before, answer_of(line, change.key), who, line.reason)
        case Changed.RELEASE:
            return Difference(gettext("released"), "–", hold_name(change.key), who, line.reason)
        case Changed.TAP:
            return Difference(gettext("tap"), "–", gettext(change.key), who, line.reason)
        case Changed.FILE:
            return Difference(gettext("file"), "–", name(f"photo {change.key}"), who, line.reason)
    return Difference(gettext("decision"), "–", gettext(change.key), who, line.reason)


def _verdict(verdict: str) -> str:
    return Verdict(verdict, iso=True).word if verdict else "–"
