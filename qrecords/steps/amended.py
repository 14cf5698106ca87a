"""What an amendment changed: the record as it was signed before beside the record as it is now."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from qrecords.steps.acts import LogFile, Photo
from qrecords.steps.answers import Absent
from qrecords.steps.case import Answered, Case
from qrecords.steps.findings import Finding


class Changed(StrEnum):
    """What a change is about; the words for it are the reader's."""

    ANSWER = "answer"
    FINDING = "finding"
    RELEASE = "release"
    DECISION = "decision"
    TAP = "tap"
    FILE = "file"


@dataclass(frozen=True)
class Change:
    """One thing that is otherwise. `before` and `after` are '' where there was or is nothing; an answer as it
    was typed or why it is absent, a finding by its verdict. `entry` says who changed it and why, `was` is the
    entry that said it before; '' for what nobody said, but follows."""

    about: Changed
    step: str
    key: str
    before: str
    after: str
    entry: str = ""
    was: str = ""


def changes(before: Case, found: Iterable[Finding], after: Case, now: Iterable[Finding]) -> list[Change]:
    """In the order of the work: answers, taps, files, releases, decisions; then what follows of findings."""
    return [
        *_answers(before, after),
        *_taps(before, after),
        *_files(before, after),
        *_releases(before, after),
        *_decisions(before, after),
        *_findings(found, now),
    ]


def told(answered: Answered | None) -> str:
    """An answer as its author gave it: the text with its unit, or the state with its reason."""
    if answered is None:
        return ""
    answer = answered.answer
    if isinstance(answer, Absent):
        return f"{answer.state.value}: {answer.reason}" if answer.reason else answer.state.value
    return f"{answer.typed} {answer.unit}".strip()


def _answers(before: Case, after: Case) -> Iterator[Change]:
    for was, is_ in ((before.answers, after.answers), (before.checks, after.checks)):
        for step, fields in is_.items():
            for key, answered in fields.items():
                old = was.get(step, {}).get(key)
                if old is None or old.entry != answered.entry:
                    said = (told(old), told(answered), answered.entry, old.entry if old else "")
                    yield Change(Changed.ANSWER, step, key, *said)


def _taps(before: Case, after: Case) -> Iterator[Change]:
    here = {tap.entry for tap in before.taps}
    for tap in after.taps:
        if tap.entry not in here:
            yield Change(Changed.TAP, "heating", tap.what, "", tap.at.isoformat(), tap.entry)


def _files(before: Case, after: Case) -> Iterator[Change]:
    here = {(file.entry, file.sha256) for file in _every_file(before)}
    for file in _every_file(after):
        if (file.entry, file.sha256) not in here:
            yield Change(Changed.FILE, "", file.shot, "", file.sha256, file.entry)


def _every_file(case: Case) -> tuple[Photo | LogFile, ...]:
    return (*case.photos, *case.log_files)


def _releases(before: Case, after: Case) -> Iterator[Change]:
    here = {release.entry for release in before.releases}
    for release in after.releases:
        if release.entry not in here:
            yield Change(Changed.RELEASE, "", release.hold, "", release.at.isoformat(), release.entry)


def _decisions(before: Case, after: Case) -> Iterator[Change]:
    here = {decision.entry for decision in before.decisions}
    for decision in after.decisions:
        if decision.entry not in here:
            yield Change(Changed.DECISION, "", decision.kind, "", decision.reason, decision.entry)


def _findings(found: Iterable[Finding], now: Iterable[Finding]) -> Iterator[Change]:
    """By rule and characteristic; a finding that is there no more, or only now, is a change too."""
    was, is_ = ({finding.key: finding for finding in each} for each in (found, now))
    for key in {**was, **is_}:
        old, new = was.get(key), is_.get(key)
        verdicts = [each.verdict.value if each else "" for each in (old, new)]
        if verdicts[0] != verdicts[1]:
            named = new or old
            assert named is not None  # noqa: S101 - the key came from one of them
            yield Change(Changed.FINDING, named.rule, named.characteristic, *verdicts)
