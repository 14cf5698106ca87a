"""What was decided about this mounting and still stands: for the people who work on it."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.mountings.judging import Judged
from qrecords.people.queries import names
from qrecords.steps.acts import Decision
from qrecords.steps.case import Case
from qrecords.steps.findings import Finding
from qrecords.steps.rules import Stage
from qrecords.steps.standard import RULES
from qrecords.steps.transitions import ACCEPTING, newest_decisions
from qrecords.web.names import name

WORDS: Mapping[str, str] = {
    "measure again": _("measure again"),
    "rework": _("rework"),
    "accept": _("accepted within the procedure"),
    "concession": _("accepted by concession"),
    "scrap": _("scrap"),
}


@dataclass(frozen=True)
class Decided:
    """`about` names the findings; `by` is who decided and when; `conditions` '' where there are none."""

    what: str
    about: str
    reason: str
    conditions: str
    by: str


def decided(judged: Judged, stage: Stage | None, lettered: Callable[[datetime], str]) -> tuple[Decided, ...]:
    """The newest decision about each finding that stands with the numbers it was decided with: what was
    measured since is another finding, and the decision history. What is accepted is told where its finding is
    told, at `stage`; all of it where none is named."""
    newest = newest_decisions(judged.case)
    told = []
    for decision in judged.case.decisions:
        about = [finding for finding in judged.findings if newest.get(finding.digest) is decision]
        if about and (stage is None or _told_at(decision, about, stage)):
            told.append((decision, about))
    people = names({decision.author for decision, _ in told}) if told else {}
    return tuple(
        Decided(
            gettext(WORDS[decision.kind]),
            named(finding.characteristic for finding in about),
            decision.reason,
            decision.conditions,
            f"{people[decision.author]}, {lettered(decision.at)}",
        )
        for decision, about in told
    )


def _told_at(decision: Decision, about: Iterable[Finding], stage: Stage) -> bool:
    return decision.kind not in ACCEPTING or any(RULES[finding.rule].stage == stage for finding in about)


def about_words(case: Case, decision: Decision) -> str:
    """The findings a decision was about, by their printed names, whether they stand or not."""
    keys = [str(finding["key"]) for finding in case.seen[decision.entry]["findings"]]
    return named(key.partition("/")[2] for key in keys)


def named(characteristics: Iterable[str]) -> str:
    return "; ".join(name(characteristic) for characteristic in characteristics)
