"""Which row of the table of findings and decisions a finding falls under, where that hangs on its numbers or
on whether the ring is on. '' leaves it to what the rule itself allows."""

from qrecords.steps.case import Case
from qrecords.steps.deciding import RowOf
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.runs import is_on

FAR_NM = 10_000
"""Over so much above its upper limit nothing of a journal is conceded."""
LOST = ("lost-before-heat", "lost-after-mounting")


def lost(finding: Finding, case: Case) -> str:
    """A reading that is not there: before the ring is on it is taken again, without exception."""
    if finding.verdict != Verdict.MISSING:
        return ""
    return "lost-after-mounting" if is_on(case) else "lost-before-heat"


def _size(finding: Finding, case: Case) -> str:
    if finding.verdict == Verdict.NOT_PROVEN:
        return "journal-not-proven"
    if finding.verdict != Verdict.NONCONFORMING or finding.value is None or finding.upper is None:
        return lost(finding, case)
    if finding.value <= finding.upper:
        return "journal-undersize"
    return "journal-oversize" if finding.value - finding.upper <= FAR_NM else "journal-far-oversize"


def _form(finding: Finding, case: Case) -> str:
    if finding.verdict == Verdict.NOT_PROVEN:
        return "journal-not-proven"
    return "journal-undersize" if finding.verdict == Verdict.NONCONFORMING else lost(finding, case)


def _clearance(finding: Finding, case: Case) -> str:
    return "clearance-left" if finding.verdict == Verdict.NONCONFORMING else lost(finding, case)


def _marking(finding: Finding, case: Case) -> str:
    """An unread marking is read, not decided."""
    if finding.verdict == Verdict.NONCONFORMING:
        return "marking"
    return "unread" if finding.rule == "own-reading" else ""


def _gauge(finding: Finding, case: Case) -> str:
    return "gauge-expired" if finding.message.endswith(".expired") else ""


OF_SIZE = RowOf(
    ("journal-undersize", "journal-oversize", "journal-far-oversize", "journal-not-proven", *LOST), _size
)
OF_FORM = RowOf(("journal-undersize", "journal-not-proven", *LOST), _form)
OF_LOST = RowOf(LOST, lost)
OF_CLEARANCE = RowOf(("clearance-left", *LOST), _clearance)
OF_MARKING = RowOf(("marking", "unread"), _marking)
OF_GAUGE = RowOf(("gauge-expired",), _gauge)
OF_QUERY = RowOf(
    ("ring-difference",), lambda finding, case: "ring-difference" if finding.verdict == Verdict.QUERY else ""
)
OF_PHOTO = RowOf(("photo",), lambda finding, case: "photo")
OF_HEATINGS = RowOf(("heated-again",), lambda finding, case: "heated-again")
