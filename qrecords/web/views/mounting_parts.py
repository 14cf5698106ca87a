"""What went into a mounting beside the bearing, and what came off before it."""

import uuid
from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from qrecords.mountings.actions import bearing_life as life
from qrecords.mountings.actions.parts import use_part
from qrecords.mountings.bearings import where_are
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of, mounting_for
from qrecords.people.permissions import Action
from qrecords.proof.identifiers import following
from qrecords.steps.bearing_life import METHODS, Where
from qrecords.steps.transitions import CLOSED, State
from qrecords.tracing.lives import came_off_for, parts_of
from qrecords.web.door import acting_of, door, entry_id_of, person_of
from qrecords.web.registers.asking import Ask, Reading, WrongFields, typed, wrong
from qrecords.web.views.bearings import cautions, removal_asks, removal_said
from qrecords.web.views.registers_forms import GET_POST, show_form
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import Bearing, Part

MARKS = ("designation", "serial", "lot", "date_code")


@door(Action.RECORD)
@require_http_methods(GET_POST)
def parts_used(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """Which spacer, nut or grease went in, and one more."""
    found = mounting_for(person_of(request), mounting, Action.RECORD, datetime.now(UTC))
    rows = Part.objects.filter(site=found.site).order_by("kind", "lot")[:500]
    options = [(str(row.id), f"{gettext(row.kind)}: {row.name}, {row.lot}") for row in rows]
    asks = [
        Ask("part", gettext("part"), "select", [("", gettext("choose")), *options], required=True),
        Ask("place", gettext("where"), hint=gettext("e.g. between the inner rings")),
    ]
    more: dict[str, Any] = {
        "template": "parts_used", "mounting": found, "used": parts_of(found.id),
        "came_off": came_off_for(found.id), "records": State(found.state) not in CLOSED,
    }  # fmt: skip
    title = gettext("One more part")
    if request.method == "GET":
        return show_form(request, title, asks, **more)
    given = typed(request, asks)
    if given["part"] not in dict(options):
        words = gettext("a part of the register")
        return show_form(request, title, asks, given, {"part": wrong(given["part"], words)}, **more)
    try:
        use_part(
            acting=acting_of(request), mounting=found, entry_id=entry_id_of(request),
            part=Part.objects.get(id=given["part"]), place=given["place"],
        )  # fmt: skip
    except RegisterFieldError as error:
        errors = {error.field: wrong(error.value, error.allowed)}
        return show_form(request, title, asks, given, errors, **more)
    messages.info(request, gettext("Recorded."))
    return redirect("parts-used", mounting=found.id)


def _known(mounting: Mounting) -> list[Bearing]:
    """The bearings that are mounted at this place as far as the record knows."""
    rows = Bearing.objects.filter(mountings__journal=mounting.journal_id).exclude(id=mounting.bearing_id)
    here = list(rows.distinct().order_by("id"))
    now = where_are([row.id for row in here])
    return [row for row in here if now[row.id].where == Where.MOUNTED]


@door(Action.REGISTER)
@require_http_methods(GET_POST)
def old_bearing(request: HttpRequest, mounting: uuid.UUID) -> HttpResponse:
    """What came off this seat so that the mounting takes its place: one that the record knows, or by what its
    ring still says."""
    found = mounting_for(person_of(request), mounting, Action.REGISTER, datetime.now(UTC))
    known = {str(row.id): row for row in _known(found)}
    names = [(id, f"{row.designation} {row.serial} {row.lot}".strip()) for id, row in known.items()]
    options = [*names, ("", gettext("another, as its ring says"))]
    asks = [
        Ask("bearing", gettext("which one"), "select", options, value=options[0][0]),
        Ask("designation", gettext("designation"), hint=gettext("of another: what its ring still says")),
        Ask("serial", gettext("serial")),
        Ask("lot", gettext("lot")),
        Ask("date_code", gettext("date code")),
        *removal_asks(),
    ]
    told = _told_by_step(found)
    asks = [replace(ask, value=told.get(ask.name, ask.value)) for ask in asks]
    title = gettext("%(number)s: what came off") % {"number": found.number}
    more: dict[str, Any] = {"template": "bearing_form", "cautions": cautions()}
    if request.method == "GET":
        return show_form(request, title, asks, **more)
    given = typed(request, asks)
    try:
        _remove(request, found, known, given)
    except WrongFields as error:
        return show_form(request, title, asks, given, error.errors, **more)
    except RegisterFieldError as error:
        errors = {error.field: wrong(error.value, error.allowed)}
        return show_form(request, title, asks, given, errors, **more)
    messages.info(request, gettext("Recorded."))
    return redirect("sheet", found.id)


OF_STEP = {"old_designation": "designation", "bag": "kept", "damage": "looks"}
"""Answers of the step *old bearing* → what a removal says with them."""


def _told_by_step(found: Mounting) -> dict[str, str]:
    """What the fitter wrote down of the old bearing in its step, so that nobody types it twice."""
    case = case_of(found)
    said = {name: case.value_of("old_bearing", key) for key, name in OF_STEP.items()}
    return {name: answered.word for name, answered in said.items() if answered}


def _remove(
    request: HttpRequest, found: Mounting, known: Mapping[str, Bearing], given: Mapping[str, str]
) -> None:
    reading = Reading(given)
    day = reading.day("on")
    reading.one_of("method", METHODS)
    if given["bearing"] and given["bearing"] not in known:
        reading.errors["bearing"] = wrong(given["bearing"], gettext("one that is mounted here, or another"))
    if not given["bearing"]:
        reading.text("designation", 60)
    reading.done()
    said: dict[str, Any] = {
        "acting": acting_of(request), "entry_id": entry_id_of(request), "on": day,
        "journal": found.journal, "for_mounting": found, **removal_said(given),
    }  # fmt: skip
    if given["bearing"]:
        life.remove(bearing=known[given["bearing"]], **said)
    else:
        marks = {name: given[name] for name in MARKS}
        life.remove_old(bearing_id=following(said["entry_id"], "old bearing"), marks=marks, **said)
