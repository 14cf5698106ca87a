"""The whole sheet: answers by screen, taps, photos, findings, signatures, as a table to read and to print."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import groupby
from typing import Any

from django.urls import reverse
from django.utils.translation import gettext

from qrecords.mountings.judging import Judged
from qrecords.mountings.models import Mounting
from qrecords.people.queries import names
from qrecords.steps.acts import Decision, Tap
from qrecords.steps.answers import Absent
from qrecords.steps.case import Answered
from qrecords.steps.fields import Choice, Gear
from qrecords.steps.findings import TO_DO_FIRST, Verdict
from qrecords.steps.sealed import Sealed
from qrecords.steps.standard import STEPS
from qrecords.web.doubts import other_tables, told
from qrecords.web.fitter.decided import WORDS, about_words
from qrecords.web.fitter.fitting import plan_line, sentences
from qrecords.web.fitter.gaps import nothing_goes_in
from qrecords.web.fitter.page import Moment
from qrecords.web.fitter.readings import journal_surface, pictures, still_grid
from qrecords.web.fitter.screens import SCREENS, head, label, to_come
from qrecords.web.fitter.shots import WantedShot, shots
from qrecords.web.fitter.words import absent_words, choice_label, field_label, unit_label
from qrecords.web.inspector.blind import kept_back
from qrecords.web.names import hold_name, name
from qrecords.web.showing import show
from qrecords.wording.figures import own_unit


@dataclass(frozen=True)
class Row:
    """One answer as it stands, with unit as typed; `absent` where there is no value. `said_by` is who gave it
    and when."""

    label: str
    value: str
    absent: bool = False
    said_by: str = ""


@dataclass(frozen=True)
class Said:
    """What one person said at one moment."""

    by: str
    rows: tuple[Row, ...]


@dataclass(frozen=True)
class Section:
    title: str
    href: str
    groups: tuple[Said, ...]


def context(mounting: Mounting, judged: Judged, moment: Moment, sealed: Sealed) -> dict[str, Any]:
    """Everything the sheet shows, but for what a second reader has to read himself first."""
    case = judged.case
    people = names(
        {a.author for step in case.answers.values() for a in step.values()}
        | {tap.author for tap in case.taps}
        | {release.author for release in case.releases}
        | {signature.author for signature in case.signatures}
        | {decision.author for decision in case.decisions}
        | {person for handed in case.hand_overs for person in (handed.author, handed.to)}
        | {sheet.by for sheet in case.sheets}
    )
    coming = {finding.key for finding in to_come(judged.findings)}
    shown = [kept_back(show(judged, f), sealed) for f in judged.findings if f.key not in coming]
    flagged = [each for each in shown if each.finding.verdict != Verdict.CONFORMING]
    conforming = [each for each in shown if each.finding.verdict == Verdict.CONFORMING]
    flagged.sort(key=lambda each: TO_DO_FIRST.index(each.finding.verdict))
    return {
        "sections": _sections(mounting, judged, people, moment, sealed),
        "flagged": flagged,
        "measured": [each for each in conforming if each.limit or each.found],
        "in_words": [each.name for each in conforming if not (each.limit or each.found)],
        "told": (
            *filter(None, [other_tables(case.tables)]),
            *told((row for each in shown for row in each.finding.unconfirmed), rows_only=True),
        ),
        "to_come": [name(finding.characteristic) for finding in to_come(judged.findings)],
        "plan": None if sealed.readings else plan_line(case),
        "fit_sentences": () if sealed.readings else sentences(judged),
        "sealed": sealed,
        "taps": [(gettext(tap.what), _tapped(tap, moment), people[tap.author]) for tap in case.taps],
        "acts": _acts(judged, people, moment),
        "shots": _photos(mounting, judged),
        "withdrawn": case.withdrawn,
        "grid": still_grid(judged, journal_surface(case)),
        "later": list(mounting.later_attempts.order_by("opened_at")),
        **({} if sealed.readings else pictures(judged, newest=False)),
    }


def _tapped(tap: Tap, moment: Moment) -> str:
    if tap.paper is None:
        return moment.seconds(tap.at)
    return gettext("from paper sheet, written {written}").format(written=tap.paper.written or "–")


def _sections(
    mounting: Mounting, judged: Judged, people: dict[str, str], moment: Moment, sealed: Sealed
) -> tuple[Section, ...]:
    found = []
    for screen in SCREENS.values():
        steps = dict.fromkeys(field.split(".")[0] for part in screen.parts for field in part.fields)
        wanted = {head(field) for part in screen.parts for field in part.fields}
        rows = [
            replace(_row(judged, step, answered), said_by=_by(answered, people, moment))
            for step in steps
            for answered in sorted(judged.case.answers.get(step, {}).values(), key=_in_order(step))
            if f"{step}.{answered.key.split('.')[0]}" in wanted and not sealed.answer(step, answered.key)
        ]
        href = reverse(f"fit-{screen.name}", args=[mounting.id])
        groups = tuple(Said(by, tuple(same)) for by, same in groupby(rows, key=lambda row: row.said_by))
        found.append(Section(label(screen), href, groups))
    return tuple(found)


def _by(answered: Answered, people: dict[str, str], moment: Moment) -> str:
    """Who said it and when; of what was entered from paper the time as written there."""
    if answered.paper is None:
        return f"{people[answered.author]}, {moment.day(answered.at)}"
    written = answered.paper.written or gettext("without a time")
    words = gettext("{who}, from paper sheet, written {written}")
    return words.format(who=people[answered.author], written=written)


def rows_of(judged: Judged, steps: Iterable[str]) -> tuple[Row, ...]:
    """The standing answers of some steps, in the order of their fields."""
    return tuple(
        _row(judged, step, answered)
        for step in steps
        for answered in sorted(judged.case.answers.get(step, {}).values(), key=_in_order(step))
    )


def _in_order(step: str) -> Callable[[Answered], tuple[datetime, int, list[tuple[int, str]]]]:
    """Moment by moment, in the order of the step's fields, angles by number."""
    fields = [field.id for field in STEPS[step].fields]

    def key(answered: Answered) -> tuple[datetime, int, list[tuple[int, str]]]:
        head, *rest = answered.key.split(".")
        return (
            answered.at,
            fields.index(head),
            [(int(each) if each.isdecimal() else -1, each) for each in rest],
        )

    return key


def _row(judged: Judged, step: str, answered: Answered) -> Row:
    answer = answered.answer
    caption = field_label(f"{step}.{answered.key}")
    if isinstance(answer, Absent):
        return Row(caption, absent_words(answer), absent=True)
    form = STEPS[step].field(answered.key).form
    if isinstance(form, Gear):
        gear = judged.case.gear(step, answered.key)
        return Row(caption, gear.mark if gear else answer.typed)
    if isinstance(form, Choice):
        return Row(caption, choice_label(answer.typed))
    if (step, answered.key.split(".")[0]) == ("shoulder_gap", "gap") and answer.value == 0:
        return Row(caption, nothing_goes_in(judged.case))
    return Row(caption, f"{answer.typed} {own_unit(answer.typed, unit_label(answer.unit))}".strip())


def _acts(judged: Judged, people: dict[str, str], moment: Moment) -> list[tuple[str, str, str, str]]:
    """(what, who, when, more) of releases, decisions and signatures."""
    case = judged.case
    acts = [
        (gettext("released: {hold}").format(hold=hold_name(r.hold)), people[r.author], r.at, gettext(r.means))
        for r in case.releases
    ]
    acts += [(gettext(WORDS[d.kind]), people[d.author], d.at, _because(judged, d)) for d in case.decisions]
    acts += [(gettext(s.meaning), people[s.author], s.at, "") for s in case.signatures]
    acts += [
        (gettext("handed over to {who}").format(who=people[h.to]), people[h.author], h.at, h.note)
        for h in case.hand_overs
    ]
    acts += [
        (gettext("paper sheet, written by {who}").format(who=people[s.by]), people[s.author], s.at, s.day)
        for s in case.sheets
    ]
    acts.sort(key=lambda act: act[2])
    return [(what, who, moment.day(at), more) for what, who, at, more in acts]


def _because(judged: Judged, decision: Decision) -> str:
    reason = f"{about_words(judged.case, decision)}: {decision.reason}"
    return f"{reason} ({decision.conditions})" if decision.conditions else reason


def _photos(mounting: Mounting, judged: Judged) -> tuple[WantedShot, ...]:
    return shots(mounting, judged)
