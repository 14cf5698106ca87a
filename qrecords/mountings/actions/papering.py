"""A sheet of paper handed in, and what an answer or a tap says that was entered from one."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from typing import Any

from qrecords.ledger.append import atomic
from qrecords.ledger.envelope import File, instant
from qrecords.ledger.errors import NotRecordedError
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import FieldsError, refuse_closed
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.mountings.stating import Statement
from qrecords.people.acting import Acting, require
from qrecords.people.bounds import Bounds, bounds_of, zone_of
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import rights_of, version_at
from qrecords.steps.case import Case
from qrecords.steps.errors import FieldError
from qrecords.steps.paper import WRITTEN, Paper, Sheet

AS_WRITTEN = "a day (ISO 8601), and where it is written a time, HH:MM or HH:MM:SS"


@dataclass(frozen=True)
class FromPaper:
    """The sheet it stands on, day and time as written there ('' for the sheet's own day), and at *heater on*
    the release as it is named there by hand."""

    sheet: uuid.UUID
    written: str = ""
    reference: str = ""


@dataclass(frozen=True)
class Done:
    """Whose act it was that is said, and between which moments: the author's now, or then that of who wrote
    the sheet."""

    acting: Acting
    bounds: Bounds
    paper: Paper | None = None
    at: datetime | None = None

    def said(self) -> dict[str, Any]:
        if self.paper is None:
            return {}
        told = {"sheet": self.paper.sheet, "written": self.paper.written, "reference": self.paper.reference}
        return {"paper": {name: value for name, value in told.items() if value}}

    def seen(self) -> dict[str, Any]:
        return {"written_at": instant(self.at)} if self.at else {}


def read_from_paper(acting: Acting, case: Case, paper: FromPaper | None) -> Done:
    """NotRecordedError where the sheet is none of this mounting, FieldsError where no day or time stands."""
    if paper is None:
        return Done(acting, bounds_of(acting))
    sheet = next((each for each in case.sheets if each.entry == str(paper.sheet)), None)
    if sheet is None:
        raise NotRecordedError(paper.sheet)
    at, timed = _moment(acting, sheet, paper.written)
    # What the device knew when it was entered says nothing of when it was done.
    bounds = Bounds(min(at, acting.now), acting.now, acting.zone)
    said = Paper(sheet.entry, paper.written.strip(), paper.reference.strip()[:80])
    wrote = replace(acting, author=Person.objects.get(id=sheet.by))
    return Done(wrote, bounds, said, at if timed else None)


def _moment(acting: Acting, sheet: Sheet, written: str) -> tuple[datetime, bool]:
    """The moment in the zone of the act, and whether a time was written at all."""
    text = written.strip() or sheet.day
    try:
        if not WRITTEN.fullmatch(text):
            raise ValueError(text)
        day, _, clock = text.partition(" ")
        found = datetime.combine(
            date.fromisoformat(day), time.fromisoformat(clock or "00:00"), zone_of(acting.zone)
        )
        return found.astimezone(acting.now.tzinfo), bool(clock)
    except (ValueError, OverflowError):
        raise FieldsError({"written": FieldError("written", written, "", AS_WRITTEN)}) from None


@atomic()
def file_sheet(
    *,
    acting: Acting,
    mounting: Mounting,
    entry_id: uuid.UUID,
    by: Person,
    day: str,
    photos: Sequence[File],
    camera: bool = False,
) -> Entry:
    """Hand in a sheet of paper: who wrote it, the day it was begun, and its photos (shot *paper_sheet*),
    whose bytes come as those of any photo. What stands on it is recorded by captures and taps that name it.
    FieldsError for a day that is none, or a writer who records no work here; RefusedError once closed."""
    require(acting, Action.RECORD, mounting.site)
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    _refuse_unread(acting, locked, by, day)
    handed = Statement(
        acting=acting,
        mounting=locked,
        kind="paper sheet",
        id=entry_id,
        said={"by": str(by.id), "day": day.strip(), "from": "camera" if camera else "gallery"},
        files=tuple(photos),
    )
    known = handed.before()
    if known is not None:
        return known
    refuse_closed("record", case_of(locked))
    entry = handed.file({"person": version_at(by.id, acting.now).hash})
    judge(locked)
    return entry


def _refuse_unread(acting: Acting, mounting: Mounting, by: Person, day: str) -> None:
    try:
        begun = date.fromisoformat(day.strip())
    except ValueError:
        begun = date.max
    if begun > acting.now.astimezone(zone_of(acting.zone)).date():
        raise FieldsError({"day": FieldError("day", day, "", "a day up to today (ISO 8601)")})
    if not rights_of(by.id, acting.now).at(Action.RECORD, mounting.site).scope:
        raise FieldsError({"by": FieldError("by", str(by.id), "", "somebody who records work at this site")})
