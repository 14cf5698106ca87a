"""Judging a case again with something put right: what changes because of it, and the class that gives.

The recorded case and the changed one are judged by the same rules on the same day, so that every difference
comes from what was put right and from nothing else.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from qrecords.steps.case import Case
from qrecords.steps.findings import Finding, Verdict
from qrecords.steps.requirement import read_requirement

CLASSES = (Verdict.NONCONFORMING, Verdict.NOT_PROVEN, Verdict.CONFORMING)
"""The three classes of a look-back, the worst first."""
IN_DOUBT = "in doubt"
"""The class where nothing can be put right: whoever decides about it has to say what it means."""


@dataclass(frozen=True)
class Change:
    """One characteristic of which another thing is found: as recorded, and as put right. None where a rule
    says nothing of it any more, or said nothing before."""

    before: Finding | None
    after: Finding | None

    @property
    def finding(self) -> Finding:
        found = self.after or self.before
        assert found is not None  # noqa: S101 - one of the two is there by construction
        return found

    def document(self) -> dict[str, Any]:
        """What an entry keeps of it; numbers stand in the findings of the judgement."""
        return {
            "key": self.finding.key,
            "before": self.before.verdict.value if self.before else "",
            "after": self.after.verdict.value if self.after else "",
            "value_before": self.before.value if self.before else None,
            "value_after": self.after.value if self.after else None,
            "unit": self.finding.unit,
        }


def changes(before: Iterable[Finding], after: Iterable[Finding]) -> list[Change]:
    """What is found otherwise, in the order of the rules; the same words about other numbers count too."""
    recorded, right = ({finding.key: finding for finding in found} for found in (before, after))
    both = dict.fromkeys([*right, *recorded])
    pairs = ((recorded.get(key), right.get(key)) for key in both)
    return [Change(old, new) for old, new in pairs if _statement(old) != _statement(new)]


def _statement(finding: Finding | None) -> dict[str, Any] | None:
    return finding.statement() if finding else None


def class_of(changed: Sequence[Change]) -> Verdict:
    """The worst of what is found because of it: nonconforming, not proven or conforming. What would be
    missing then is not proven; a query decides nothing."""
    found = {change.after.verdict for change in changed if change.after}
    if Verdict.MISSING in found:
        found.add(Verdict.NOT_PROVEN)
    return next((verdict for verdict in CLASSES if verdict in found), Verdict.CONFORMING)


def with_requirement(case: Case, document: Mapping[str, Any]) -> Case:
    """The case against what the right drawing revision asks: the raw readings as they are."""
    return replace(case, requirement=read_requirement(document, case.tables))
