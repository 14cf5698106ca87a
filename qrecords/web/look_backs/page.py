"""What the page of one look-back shows, and that of one of its mountings."""

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext

from qrecords.mountings.look_backs import CLASSES, counted, is_judged, results
from qrecords.mountings.models import JudgedAgain, Mounting
from qrecords.people.models import RoleGrant
from qrecords.people.queries import names
from qrecords.steps.case import Case
from qrecords.tracing.record import Record, record_of
from qrecords.web import parts
from qrecords.web.auditor.judged import Row, row
from qrecords.web.auditor.sheet import place
from qrecords.web.look_backs.lists import by_owner
from qrecords.web.look_backs.words import (
    CLASS_WORDS,
    SUBJECT_WORDS,
    PointRow,
    frame_of,
    is_open,
    point_rows,
    subject_of,
    window_of,
)
from qrecords.web.moments import calendar_day, moment
from qrecords.workshop.models import LookBack, LookBackAction
from qrecords.workshop.queries import zone_of_site


@dataclass(frozen=True)
class ClassRow:
    """One class with how many mountings came to it; `verdict` its frame, None for what is in doubt."""

    word: str
    verdict: parts.Verdict | None
    count: int


@dataclass(frozen=True)
class OnePage:
    look_back: LookBack
    title: str
    subject: str
    window: str
    opened: str
    by: str
    points: Sequence[PointRow]
    classes: Sequence[ClassRow]
    owners: Sequence[Mapping[str, Any]]
    judged: int
    done: bool
    open: bool
    ended: str


def one_page(look_back: LookBack) -> OnePage:
    zone = zone_of_site(look_back.site)
    found = counted([look_back.id]).get(look_back.id, {})
    ending = None if is_open(look_back) else look_back.end
    people = names([look_back.opened_by, *([ending.by] if ending else [])])
    ended = f"{people[str(ending.by)]}, {moment(ending.at, zone)}: {ending.reason}" if ending else ""
    return OnePage(
        look_back=look_back,
        title=subject_of(look_back),
        subject=gettext(SUBJECT_WORDS[look_back.subject]),
        window=window_of(look_back, zone),
        opened=moment(look_back.opened_at, zone),
        by=people[str(look_back.opened_by)],
        points=point_rows(look_back),
        classes=[_class_row(verdict, found.get(verdict, 0)) for verdict in CLASSES],
        owners=by_owner(look_back),
        judged=sum(found.values()),
        done=is_judged(look_back),
        open=is_open(look_back),
        ended=ended,
    )


def _class_row(verdict: str, count: int) -> ClassRow:
    return ClassRow(gettext(CLASS_WORDS[verdict]), frame_of(verdict), count)


@dataclass(frozen=True)
class ThenRow:
    """One characteristic: as it is recorded, and as put right."""

    before: parts.Verdict | None
    after: Row | None
    name: str
    found_before: str


@dataclass(frozen=True)
class ActionRow:
    what: str
    owner: str
    due: str
    given: str
    closed: str


@dataclass(frozen=True)
class MountingPage:
    look_back: LookBack
    title: str
    window: str
    mounting: Mounting
    place: str
    case: Case
    verdict: parts.Verdict | None
    word: str
    rows: Sequence[ThenRow]
    actions: Sequence[ActionRow]
    waits: bool
    """Whether the newest action is still to be closed."""


def mounting_page(look_back: LookBack, mounting: Mounting) -> MountingPage | None:
    """None where the look-back did not judge it."""
    told = results(look_back).filter(mounting=mounting).first()
    if told is None:
        return None
    record = record_of(mounting)
    zone = zone_of_site(look_back.site)
    actions = list(
        LookBackAction.objects.filter(look_back=look_back, mounting=mounting.id)
        .select_related("answer")
        .order_by("-at", "-id")
    )
    people = names({a.owner for a in actions} | {a.by for a in actions} | {_answerer(a) for a in actions})
    return MountingPage(
        look_back=look_back,
        title=subject_of(look_back),
        window=window_of(look_back, zone),
        mounting=mounting,
        place=place(mounting),
        case=record.case,
        verdict=frame_of(told.verdict),
        word=gettext(CLASS_WORDS[told.verdict]),
        rows=_rows(record, told),
        actions=[_action_row(action, people, zone) for action in actions],
        waits=bool(actions) and not hasattr(actions[0], "answer"),
    )


def _answerer(action: LookBackAction) -> uuid.UUID:
    return action.answer.by if hasattr(action, "answer") else action.by


def _action_row(action: LookBackAction, people: Mapping[str, str], zone: str) -> ActionRow:
    answer = getattr(action, "answer", None)
    closed = f"{people[str(answer.by)]}, {moment(answer.at, zone)}: {answer.how}" if answer else ""
    return ActionRow(
        action.what,
        people[str(action.owner)],
        calendar_day(action.due),
        f"{people[str(action.by)]}, {moment(action.at, zone)}",
        closed,
    )


def _rows(record: Record, told: JudgedAgain) -> list[ThenRow]:
    """What is found otherwise, with the findings as the judgement stored them."""
    stored = next((j for j in record.judgements if str(j.line.entry.id) == str(told.entry)), None)
    if stored is None:
        return []
    right = {finding.key: finding for finding in stored.findings}
    counting = record.counting
    recorded = {finding.key: finding for finding in counting.findings} if counting else {}
    rows = []
    for change in told.document:
        after, before = right.get(change["key"]), recorded.get(change["key"])
        rows.append(
            ThenRow(
                parts.Verdict(change["before"], iso=True) if change["before"] else None,
                row(after, record.case, stored.workings, {}) if after else None,
                change["key"].split("/", 1)[1],
                row(before, record.case, {}, {}).found if before else "",
            )
        )
    return sorted(rows, key=lambda each: each.after is not None and each.after.conforming)


def people_at(site: uuid.UUID) -> list[tuple[str, str]]:
    """Who has a role at a site now, by name."""
    held = RoleGrant.objects.filter(site=site, valid_to__isnull=True).values_list("person", flat=True)
    return sorted(names(held.distinct()).items(), key=lambda pair: pair[1])
