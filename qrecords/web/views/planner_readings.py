"""Readings without a record: a series on its charts, and a gauge study. The address holds the question."""

from collections.abc import Mapping, Sequence
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET

from qrecords.people.permissions import Action
from qrecords.steps.errors import FieldError
from qrecords.steps.planner import series as of_series
from qrecords.steps.planner import study as of_study
from qrecords.steps.planner.lines import MOST_SIGNS
from qrecords.web.door import door
from qrecords.web.parts import Field
from qrecords.web.planner import series, study
from qrecords.web.planner.inputs import Input, Option
from qrecords.web.planner.lines_said import asked_back, label
from qrecords.wording.lettering import Lettering

MOST_GIVEN_BACK = 60
IN = [("mm", "µm"), ("in", "thou")]
"""What a bare number counts in, by the choice of lengths that the planner has."""


@door(Action.READ, open_by="PLANNER_OPEN")
@require_GET
def readings_in_series(request: HttpRequest) -> HttpResponse:
    """Do these readings keep within what chance explains, and do the limits leave them room?"""
    typed = _typed(request, of_series.INPUTS)
    found, asks = of_series.read_series(typed) if of_series.asked_for(typed) else (None, {})
    boxes = [_choice("lengths", IN, typed, asks), _box("lower", typed, asks), _box("upper", typed, asks)]
    answer = series.shown(found) if found else None
    return _page(request, "planner/series.html", typed, asks, boxes, answer, series.EXAMPLE)


@door(Action.READ, open_by="PLANNER_OPEN")
@require_GET
def gauge_study(request: HttpRequest) -> HttpResponse:
    """What of the spread of readings is the gauge's and its users' own?"""
    typed = _typed(request, of_study.INPUTS)
    found, asks = of_study.read_study(typed) if of_study.asked_for(typed) else (None, {})
    widths = [(each, gettext("{n} σ").format(n=each)) for each in of_study.AS_WIDTH]
    boxes = [
        _choice("lengths", IN, typed, asks),
        _box("tolerance", typed, asks),
        _choice("width", widths, typed, asks),
    ]
    answer = study.shown(found) if found else None
    return _page(request, "planner/study.html", typed, asks, boxes, answer, study.EXAMPLE)


def _typed(request: HttpRequest, names: Sequence[str]) -> dict[str, str]:
    return {name: request.GET[name] for name in names if request.GET.get(name)}


def _box(name: str, typed: Mapping[str, str], asks: Mapping[str, FieldError]) -> Input:
    return Input(_field(name, typed, asks, Lettering.of(typed).small_unit), "text")


def _choice(
    name: str,
    options: Sequence[tuple[str, str]],
    typed: Mapping[str, str],
    asks: Mapping[str, FieldError],
) -> Input:
    chosen = typed.get(name, options[0][0])
    shown = tuple(Option(value, words, value == chosen) for value, words in options)
    return Input(_field(name, typed, asks, ""), "", shown)


def _field(name: str, typed: Mapping[str, str], asks: Mapping[str, FieldError], unit: str) -> Field:
    asked = asked_back(asks[name]) if name in asks else ""
    return Field(name, label(name), typed.get(name, "")[:MOST_GIVEN_BACK], unit, asks=asked)


def _page(
    request: HttpRequest,
    template: str,
    typed: Mapping[str, str],
    asks: Mapping[str, FieldError],
    boxes: Sequence[Input],
    answer: object,
    example: Mapping[str, str],
) -> HttpResponse:
    context = {
        "here": request.resolver_match.url_name if request.resolver_match else "",
        "letters": Lettering.of(typed),
        "typed": typed,
        "most": MOST_SIGNS,
        "boxes": boxes,
        "asked_back": [(name, label(name), asked_back(asks[name])) for name in asks],
        "shown": answer,
        "example": f"?{urlencode(example)}",
        "theme": request.COOKIES.get("theme", ""),
    }
    return render(request, template, context, status=422 if asks else 200)
