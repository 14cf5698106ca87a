"""What is said of reduced independence: why it was, by when somebody looks again, and what he said."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext

from qrecords.people.permissions import Action
from qrecords.steps.case import Case
from qrecords.steps.reduced import reduced_signature, refuse_review, review_due, review_of
from qrecords.tracing.record import Record
from qrecords.web.inspector.rights import Rights
from qrecords.web.moments import calendar_day, moment


def certificate_note(record: Record, zone: str) -> str:
    """For the certificate; '' where nobody stood in."""
    signed = reduced_signature(record.case)
    if signed is None:
        return ""
    people = {signed.author: record.line(signed.entry).author}
    review = review_of(record.case)
    if review is not None:
        people[review.author] = record.line(review.entry).author
    return f"{gettext('REDUCED INDEPENDENCE.')} {_words(record.case, people, zone)}"


@dataclass(frozen=True)
class Reduced:
    """`words` say what stands; `overdue` that nobody looked in time; `ask` that this reader may look now."""

    words: str
    overdue: bool = False
    ask: bool = False


def reduced_of(case: Case, rights: Rights, people: dict[str, str], zone: str, today: date) -> Reduced | None:
    """None for a record that nobody stood in for."""
    if reduced_signature(case) is None:
        return None
    due = review_due(case)
    late = due is not None and today > due
    words = _words(case, people, zone)
    if late and due is not None:
        words += " " + gettext("Overdue since {day}.").format(day=calendar_day(due))
    ask = rights.may(Action.REVIEW) and refuse_review(case, rights.person) is None
    return Reduced(words, late, ask)


def _words(case: Case, people: Mapping[str, str], zone: str) -> str:
    signed, review, due = reduced_signature(case), review_of(case), review_due(case)
    assert signed is not None  # noqa: S101 - both callers have asked
    who = gettext("Signed with reduced independence: {name} stood in for the inspector ({why}).").format(
        name=people.get(signed.author, ""), why=signed.reduced
    )
    if review is not None:
        agreed = gettext("agrees") if review.agreed else gettext("does not agree")
        said = gettext("{name} looked again and {agreed}, {at}.").format(
            name=people.get(review.author, ""), agreed=agreed, at=moment(review.at, zone)
        )
        return " ".join(filter(None, (who, said, review.words)))
    until = gettext("To be looked at again until {day}.").format(day=calendar_day(due) if due else "")
    return f"{who} {until}"
