"""Drawing on a copy of a photo: by mouse or finger, or by squares and numbers; without script."""

import re
import uuid
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from qrecords.ledger.errors import NotRecordedError
from qrecords.mountings.actions.marking import mark_photo
from qrecords.mountings.errors import NeedsReasonError
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of, mounting_for
from qrecords.people.permissions import Action
from qrecords.people.queries import names
from qrecords.steps.case import Case
from qrecords.steps.errors import FieldError
from qrecords.steps.marks import LONGEST, WHOLE
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.fitter.page import moment_of
from qrecords.web.inspector.reader import sealed_on
from qrecords.web.marked import box_height, drawn_on, in_words, standing
from qrecords.web.names import SHOTS

SHOWN_PX = 360
"""The picture is shown so wide, on every device: where it is touched is told in these."""
COLUMNS, ROWS = "ABCDEFGHIJ", 10
SQUARE = re.compile(r"([A-Ja-j])\s*(10|[1-9])")
NUMBERS = re.compile(r"(\d{1,4})\s*[,;\s]\s*(\d{1,4})")
KINDS = ("arrow", "circle", "text")


@door(Action.ATTACH)
@require_http_methods(["GET", "POST"])
def photo_marks(request: HttpRequest, mounting_id: uuid.UUID, sha256: str) -> HttpResponse:
    """The photo with what is drawn on it. Two touches make an arrow or a circle, one places words."""
    mounting = mounting_for(person_of(request), mounting_id, Action.READ, datetime.now(UTC))
    case = case_of(mounting)
    if sealed_on(request, mounting, case):
        case = replace(case, marks=())  # words of others may tell what he has still to read himself
    if sha256 not in {photo.sha256 for photo in case.photos}:
        raise Http404(sha256)
    if request.method == "GET":
        return _show(request, mounting, case, sha256)
    if request.POST.get("away"):
        return _take_away(request, mounting, case, sha256)
    first, second = _places(request, box_height(sha256))
    kind = request.POST.get("kind", KINDS[0])
    if kind != "text" and second is None and first is not None:
        return _show(request, mounting, case, sha256, first=first)
    try:
        mark_photo(
            acting=acting_of(request),
            mounting=mounting,
            entry_id=entry_id_of(request),
            sha256=sha256,
            marks=[_mark(request, kind, first, second)],
        )
    except FieldError as error:
        return _show(request, mounting, case, sha256, first=first, wrong=_asked(error))
    return redirect("photo-marks", mounting.id, sha256)


def _asked(error: FieldError) -> str:
    words = gettext("Not drawn yet: it wants {allowed}.")
    return words.format(allowed=gettext(error.allowed))


Place = tuple[int, int]


def _places(request: HttpRequest, height: int) -> tuple[Place | None, Place | None]:
    """Where it begins and where it goes to: typed as squares or numbers, or touched; what was touched before
    comes with the form."""
    told = [place_of(request.POST.get(name, "")) for name in ("from", "to")]
    touched = _touched(request, height)
    if touched is not None:
        told = [told[0], touched] if told[0] else [touched, None]
    return told[0], told[1]


def _touched(request: HttpRequest, height: int) -> Place | None:
    """Where the picture was touched, by an image that sends the form (HTML, submit button of type image)."""
    x, y = request.POST.get("at.x", ""), request.POST.get("at.y", "")
    if not (x.isdecimal() and y.isdecimal()) or len(x) > 5 or len(y) > 5 or (x, y) == ("0", "0"):
        return None
    shown_high = SHOWN_PX * height / WHOLE
    return min(round(int(x) * WHOLE / SHOWN_PX), WHOLE), min(round(int(y) * WHOLE / shown_high), WHOLE)


def place_of(text: str) -> Place | None:
    """`C4` is the middle of a square of the grid; `250, 350` are thousandths of width and height."""
    square, numbers = SQUARE.fullmatch(text.strip()), NUMBERS.fullmatch(text.strip())
    if square:
        column, row = COLUMNS.index(square[1].upper()), int(square[2]) - 1
        return column * 100 + 50, row * 100 + 50
    return (int(numbers[1]), int(numbers[2])) if numbers else None


def _mark(request: HttpRequest, kind: str, first: Place | None, second: Place | None) -> dict[str, Any]:
    """The mark that was meant; what is lacking is named by the reader."""
    match kind:
        case "text":
            return {"kind": "text", "at": first, "text": request.POST.get("text", "")}
        case "circle":
            radius = None
            if first and second:
                radius = max(abs(first[0] - second[0]), abs(first[1] - second[1]))
            return {"kind": "circle", "at": first, "radius": radius}
    return {"kind": kind, "from": first, "to": second}


def _take_away(request: HttpRequest, mounting: Mounting, case: Case, sha256: str) -> HttpResponse:
    try:
        mark_photo(
            acting=acting_of(request),
            mounting=mounting,
            entry_id=entry_id_of(request),
            sha256=sha256,
            marks=[],
            instead_of=uuid.UUID(request.POST["away"]),
            reason=request.POST.get("reason", ""),
        )
    except NeedsReasonError:
        return _show(
            request, mounting, case, sha256, wrong=gettext("Taken away with a reason only: say why.")
        )
    except (ValueError, NotRecordedError):
        return _show(request, mounting, case, sha256, wrong=gettext("This drawing does not stand any more."))
    return redirect("photo-marks", mounting.id, sha256)


def _show(
    request: HttpRequest,
    mounting: Mounting,
    case: Case,
    sha256: str,
    *,
    first: Place | None = None,
    wrong: str = "",
) -> HttpResponse:
    photo = next(photo for photo in case.photos if photo.sha256 == sha256)
    moment, drawings = moment_of(request), standing(case, sha256)
    called = names([each.author for each in drawings])
    height = box_height(sha256)
    context = {
        "mounting": mounting,
        "sha256": sha256,
        "name": gettext(SHOTS.get(photo.shot, photo.shot)),
        "drawn": drawn_on(case, sha256),
        "shown_px": SHOWN_PX,
        "high_px": round(SHOWN_PX * height / WHOLE),
        "box_high": height,
        "columns": [(letter, 100 * nth, 100 * nth + 50) for nth, letter in enumerate(COLUMNS)],
        "rows": [(n, height * (n - 1) / ROWS, height * (n - 0.5) / ROWS) for n in range(1, ROWS + 1)],
        "first": f"{first[0]}, {first[1]}" if first else request.POST.get("from", "")[:12],
        "typed_to": request.POST.get("to", "")[:12],
        "kind": request.POST.get("kind", KINDS[0]),
        "text": request.POST.get("text", "")[:LONGEST],
        "longest": LONGEST,
        "touched": first is not None,
        "drawings": [
            (each.entry, called[each.author], moment.day(each.at), in_words(each.marks)) for each in drawings
        ],
        "wrong": wrong,
        "theme": request.COOKIES.get("theme", ""),
    }
    return render(request, "fitter/photo_marks.html", context, status=422 if wrong else 200)
