"""The planner: a fit and its heat without a record. The address holds the question; nothing is kept."""

from datetime import UTC, datetime
from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET

from qrecords.engineering.tables import BUILT_IN, Tables
from qrecords.people.permissions import Action
from qrecords.steps.planner.asked import INPUTS
from qrecords.steps.planner.plan import plan_fit
from qrecords.steps.planner.reading import asked_for, read_asked
from qrecords.web import parts
from qrecords.web.door import door, may, person_of
from qrecords.web.fitter.page import CAUTIONS
from qrecords.web.planner import inputs, page
from qrecords.web.planner.said import LABELS, asked_back, label
from qrecords.wording.lettering import Lettering
from qrecords.workshop.tables import tables_for_planning


def _tables(request: HttpRequest) -> Tables:
    """Those in force where a person who is signed in works; the built-in ones for everybody else."""
    if not request.user.is_authenticated:
        return BUILT_IN
    return tables_for_planning(person_of(request).id, datetime.now(UTC))


@door(Action.READ, open_by="PLANNER_OPEN")
@require_GET
def planner(request: HttpRequest) -> HttpResponse:
    """The form, and the plan once something was asked."""
    typed = {name: request.GET[name] for name in INPUTS if request.GET.get(name)}
    letters = Lettering.of(typed)
    asked, asks = read_asked(typed, _tables(request)) if asked_for(typed) else (None, {})
    plan = plan_fit(asked) if asked else None
    context: dict[str, Any] = {
        "letters": letters,
        "rows": inputs.rows(typed, asks, letters),
        "folds": inputs.folds(typed, asks, letters),
        "choices": page.unit_choices(typed, letters),
        "asked_back": [(name, label(name), asked_back(asks[name])) for name in LABELS if name in asks],
        "shown": page.shown(plan, letters) if plan else None,
        "may_start": not request.user.is_authenticated or may(request, Action.OPEN),
        "example": f"?{urlencode(page.EXAMPLE)}",
        "safety": parts.Safety(cautions=tuple(gettext(caution) for caution in CAUTIONS)),
        "theme": request.COOKIES.get("theme", ""),
    }
    return render(request, "planner/planner.html", context, status=422 if asks else 200)
