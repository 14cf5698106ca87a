"""What was signed with reduced independence, and whether an independent inspector looked at it again."""

from datetime import date

from qrecords.steps.acts import Review, Signature
from qrecords.steps.case import Case
from qrecords.steps.transitions import Refusal


def reduced_signature(case: Case) -> Signature | None:
    """The newest sign-off by somebody who stood in, if this record has one."""
    return next((s for s in reversed(case.signatures) if s.meaning == "inspected" and s.reduced), None)


def review_of(case: Case) -> Review | None:
    """What the independent inspector said when he looked again, since the newest such sign-off: who looked at
    an earlier one did not see what was amended."""
    signed = reduced_signature(case)
    since = [r for r in case.reviews if signed and case.order[r.entry] > signed.index]
    return since[-1] if since else None


def review_due(case: Case) -> date | None:
    """The day by which somebody independent looks again (included); None where nothing waits for it."""
    signed = reduced_signature(case)
    if signed is None or review_of(case):
        return None
    return date.fromisoformat(signed.review_by) if signed.review_by else signed.at.date()


def refuse_review(case: Case, author: str) -> Refusal | None:
    """Who worked on it, signed it or released it as a stand-in does not look again at himself."""
    signed = reduced_signature(case)
    if signed is None or review_of(case):
        return Refusal("nothing-to-review", {})
    stood_in = {s.author for s in case.signatures if s.reduced}
    stood_in |= {release.author for release in case.releases if release.reduced}
    if author in case.worked_by | stood_in:
        return Refusal("not-independent", {"person": author})
    return None
