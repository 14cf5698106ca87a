"""What a decider says beside his reason, as a form sends it; and the letters he can name."""

from datetime import date

from django.http import QueryDict
from django.utils.translation import gettext

from qrecords.steps.case import Case
from qrecords.steps.granting import Saying
from qrecords.steps.papers import LETTER
from qrecords.web.moments import day
from qrecords.workshop.errors import RegisterFieldError


def saying_of(sent: QueryDict) -> Saying:
    """RegisterFieldError for a last day that is none."""
    typed = sent.get("expires", "").strip()
    try:
        expires = date.fromisoformat(typed) if typed else None
    except ValueError:
        raise RegisterFieldError("expires", typed, gettext("a day, as 2027-06-30")) from None
    return Saying(expires, sent.get("letter", "")[:64], frozenset(sent.getlist("states")))


def letters(case: Case) -> list[tuple[str, str]]:
    """Each letter of the customer that is here, by its hash."""
    here = [paper for paper in case.papers if paper.kind == LETTER and paper.received]
    return [(paper.sha256, f"{day(paper.at, 'UTC')}, {paper.sha256[:8]}…") for paper in here]
