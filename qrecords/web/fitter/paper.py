"""Entering a sheet of paper: which sheet a page is entered from, and what stands on it beside each answer."""

import uuid
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from qrecords.mountings.actions.papering import FromPaper
from qrecords.mountings.models import Mounting
from qrecords.people.models import Person
from qrecords.people.queries import names
from qrecords.steps.case import Case
from qrecords.steps.paper import Sheet

COOKIE = "paper"
"""Which sheet this device enters for whom: mounting, sheet, person. The forms say it themselves too."""
HALF_A_DAY_S = 43_200


@dataclass(frozen=True)
class Entering:
    """The sheet that is being entered: its entry, the day it was begun, who wrote it, and what was typed of
    day and time on the page before."""

    sheet: str
    day: str
    by: str
    typed_day: str = ""
    typed_time: str = ""
    away: str = ""

    @property
    def shown_day(self) -> str:
        return self.typed_day or self.day


def entering(request: HttpRequest, mounting: Mounting, person: Person, case: Case) -> Entering | None:
    """What the page is entered from: by its own form, else as this device was told; None for the tablet."""
    posted = request.POST.get("paper_sheet", "")
    told = request.COOKIES.get(COOKIE, "").split(":")
    kept = told[1] if told[0:1] == [str(mounting.id)] and told[2:3] == [str(person.id)] else ""
    wanted = posted if request.method == "POST" else kept
    sheet = next((each for each in case.sheets if each.entry == wanted), None)
    if sheet is None:
        return None
    return Entering(
        sheet.entry,
        sheet.day,
        names([sheet.by])[sheet.by],
        request.POST.get("paper_day", "")[:10],
        request.POST.get("paper_time", "")[:8],
        reverse("from-paper", args=[mounting.id]),
    )


def from_paper(request: HttpRequest, time: str | None = None, reference: str = "") -> FromPaper | None:
    """What a form says of its sheet; None where it was not entered from one."""
    try:
        sheet = uuid.UUID(request.POST.get("paper_sheet", ""))
    except ValueError:
        return None
    day = request.POST.get("paper_day", "").strip()
    clock = (request.POST.get("paper_time", "") if time is None else time).strip()
    return FromPaper(sheet, f"{day} {clock}".strip(), reference)


def begin(response: HttpResponse, mounting: Mounting, sheet: str, person: Person, *, secure: bool) -> None:
    response.set_cookie(
        COOKIE,
        f"{mounting.id}:{sheet}:{person.id}",
        max_age=HALF_A_DAY_S,
        samesite="Lax",
        httponly=True,
        secure=secure,
    )


def told(case: Case) -> list[dict[str, Any]]:
    """The sheets handed in, in words: who wrote it, when begun, how much was entered from it."""
    writers = names([sheet.by for sheet in case.sheets])
    return [
        {
            "sheet": sheet.entry,
            "by": writers[sheet.by],
            "day": sheet.day,
            "photos": len(sheet.photos),
            "entered": _entered(case, sheet),
        }
        for sheet in case.sheets
    ]


def _entered(case: Case, sheet: Sheet) -> int:
    papers = [a.paper for step in case.answers.values() for a in step.values()]
    papers += [tap.paper for tap in case.taps]
    return sum(paper is not None and paper.sheet == sheet.entry for paper in papers)
