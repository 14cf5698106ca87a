"""The worst verdict of some findings with its sentences: one frame, what follows below it."""

from collections.abc import Callable, Iterable
from dataclasses import replace

from django.utils.translation import gettext

from qrecords.mountings.judging import Judged
from qrecords.steps.findings import TO_DO_FIRST, Finding, Verdict
from qrecords.steps.transitions import settled
from qrecords.web import parts
from qrecords.web.doubts import told
from qrecords.web.fitter.screens import to_come
from qrecords.web.messages import names_nothing
from qrecords.web.showing import Shown, show

MOST_SENTENCES = 4


def said(
    judged: Judged, findings: Iterable[Finding], follows: str = "", *, quiet: bool = False
) -> parts.Said | None:
    """The worst verdict among the findings and what each with this verdict says; of several that are in only
    the first, none where it is to be `quiet`. None if nobody has entered anything yet."""
    known = list(findings)
    coming = {finding.key for finding in to_come(known)}
    there = [finding for finding in known if finding.key not in coming]
    worst = next((verdict for verdict in TO_DO_FIRST if any(f.verdict == verdict for f in there)), None)
    if worst is None or (quiet and worst == Verdict.CONFORMING):
        return None
    first = [finding for finding in there if finding.verdict == worst]
    if worst == Verdict.CONFORMING:
        first = first[:1]
    shown = [show(judged, finding) for finding in first[:MOST_SENTENCES]]
    sentences = [parts.Sentence(_named(each), each.rest) for each in shown]
    sentences += rests_on_rows(shown)
    waits = worst in (Verdict.NONCONFORMING, Verdict.NOT_PROVEN)
    if follows and waits and not all(settled(judged.case, finding) for finding in first):
        sentences.append(parts.Sentence(rest=follows, follows=True))
    return parts.Said(shown[0].verdict, tuple(sentences))


def unsettled(judged: Judged) -> list[Shown]:
    """Findings that somebody still has to do something about, worst first, without what is still to come."""
    coming = {finding.key for finding in to_come(judged.findings)}
    others = ("own-reading", "photos-present")  # the inspector's, and what the page lists by itself
    left = [
        finding
        for finding in judged.findings
        if not settled(judged.case, finding) and finding.key not in coming and finding.rule not in others
    ]
    left.sort(key=lambda finding: TO_DO_FIRST.index(finding.verdict))
    return [show(judged, finding) for finding in left]


def grouped(
    shown: Iterable[Shown], page_of: Callable[[Finding], str] = lambda finding: ""
) -> list[parts.Said]:
    """One frame per verdict word, its findings listed beside it, each with the page it leads to."""
    by_kind: dict[str, list[Shown]] = {}
    for each in shown:
        by_kind.setdefault(each.verdict.kind, []).append(each)
    return [
        parts.Said(
            group[0].verdict,
            (
                *(replace(_sentence(each), href=page_of(each.finding)) for each in group),
                *rests_on_rows(group),
            ),
        )
        for group in by_kind.values()
    ]


def rests_on_rows(shown: Iterable[Shown]) -> list[parts.Sentence]:
    """What is to be said of the rows of tables that these findings rest on."""
    texts = [text for each in shown for text in each.finding.unconfirmed]
    return [parts.Sentence(rest=said, follows=True) for said in told(texts, rows_only=True)]


def _sentence(shown: Shown) -> parts.Sentence:
    """What is lacking is named first: its own sentence only says that it is."""
    if shown.finding.verdict == Verdict.MISSING:
        return parts.Sentence(f"{shown.name}:", f"{shown.lead} {shown.rest}".strip())
    return parts.Sentence(_named(shown), shown.rest)


def _named(shown: Shown) -> str:
    """The lead, with the name of what it is about where it does not say that itself."""
    return f"{shown.name}: {shown.lead}" if names_nothing(shown.finding.message) else shown.lead


def counts(out: int, close: int, queries: int) -> tuple[tuple[parts.Verdict, int], ...]:
    """Frames with how many findings stand behind each, for a list."""
    pairs = ((parts.Verdict("nonconforming"), out), (parts.Verdict("not-proven"), close))
    return tuple((v, n) for v, n in (*pairs, (parts.Verdict("query"), queries)) if n)


def heat_waits() -> str:
    return gettext("Heat waits for the inspector.")
