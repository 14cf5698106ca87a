"""Registers filled from a sheet: the file, what its rows would do, and taking in exactly that file."""

import base64
import binascii
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext
from django.views.decorators.http import require_http_methods

from qrecords.ledger.identifiers import new_id
from qrecords.people.errors import ProveAgainError, UnknownPersonError
from qrecords.people.permissions import TABLE, Action
from qrecords.refusals import status_of
from qrecords.web.door import View, acting_of, door, entry_id_of
from qrecords.web.refused import refused_words
from qrecords.web.registers.asking import WrongFields
from qrecords.web.registers.sheets import column_words, fate_rows, guidance
from qrecords.web.views.registers_forms import site_ask, site_of
from qrecords.workshop.importing.taking_in import KINDS, Kind, dry_run, take_in
from qrecords.workshop.importing.text import MOST_BYTES, MOST_ROWS, FileChangedError, SheetUnreadableError
from qrecords.workshop.models import Site


def _sheet(name: str) -> View:
    """The page of one kind of sheet, under the right of its register."""
    kind = KINDS[name]

    @door(kind.right)
    @require_http_methods(["GET", "POST"])
    def page(request: HttpRequest) -> HttpResponse:
        found, asks = site_ask(request, kind.right)
        if request.method == "GET":
            return _show(request, kind, asks)
        try:
            site = site_of(found, {"site": request.POST.get("site", "")})
        except WrongFields as error:
            return _show(request, kind, asks, wrong=" ".join(error.errors.values()), status=422)
        try:
            if "content" in request.POST:
                return _taken(request, kind, asks, site)
            return _told(request, kind, asks, site, _sent(request))
        except SheetUnreadableError as error:
            return _show(request, kind, asks, wrong=unreadable(error), status=status_of(error))

    return page


def _sent(request: HttpRequest) -> bytes:
    """The bytes of the file, no more than are ever read."""
    file = request.FILES.get("sheet")
    if file is None:
        raise SheetUnreadableError("no file", "a CSV file")
    return bytes(file.read(MOST_BYTES + 1))


def _told(
    request: HttpRequest, kind: Kind, asks: Any, site: Site, raw: bytes, wrong: str = "", status: int = 200
) -> HttpResponse:
    """What each row would do; nothing is written yet."""
    told = dry_run(kind, raw, site.id)
    more = {
        "told": told,
        "counts": told.counts,
        "rows": fate_rows(told.fates),
        "content": base64.b64encode(raw).decode(),
        "site": site,
        "wrong": wrong,
    }
    return _show(request, kind, asks, status=status, **more)


def _taken(request: HttpRequest, kind: Kind, asks: Any, site: Site) -> HttpResponse:
    """Take in exactly the file that was looked at; another one is looked at again."""
    try:
        raw = base64.b64decode(request.POST["content"], validate=True)
    except (binascii.Error, ValueError):
        raise SheetUnreadableError("no file", "a CSV file") from None
    try:
        told = take_in(
            acting=acting_of(request),
            kind=kind,
            site=site.id,
            import_id=entry_id_of(request),
            raw=raw,
            sha256=request.POST.get("sha256", ""),
        )
    except (FileChangedError, ProveAgainError, UnknownPersonError) as error:
        return _told(request, kind, asks, site, raw, refused_words(error), status_of(error))
    messages.success(request, gettext("Taken in, under the hash of exactly this file."))
    return _show(request, kind, asks, told=told, counts=told.counts, rows=fate_rows(told.fates), done=True)


def _show(request: HttpRequest, kind: Kind, asks: Any, status: int = 200, **more: Any) -> HttpResponse:
    context = {
        "kind": kind.name,
        "title": gettext("Take in a sheet: %(kind)s") % {"kind": gettext(kind.name)},
        "columns": column_words(kind),
        "guidance": guidance(kind),
        "most": {"rows": MOST_ROWS, "bytes": MOST_BYTES},
        "site_asks": asks,
        "proves": any(cell.prove_again for cell in TABLE[kind.right].values()),
        "here": {"work orders": "rebuilds", "bearings": "bearings", "gauges": "equipment"}.get(kind.name, ""),
        "entry_id": request.POST.get("entry_id", "") or str(new_id()),
        "action": kind.right == Action.PEOPLE,
        **more,
    }
    return render(request, "registers/sheet.html", context, status=status)


def unreadable(error: SheetUnreadableError) -> str:
    """What is wrong with the file as a whole, and what would be read."""
    facts = {"why": gettext(error.why), "value": error.value, "allowed": error.allowed, "line": error.line}
    words = gettext("Not read, %(why)s") % facts
    if error.line:
        words += gettext(", line %(line)s") % facts
    if error.value:
        words += gettext(": “%(value)s”") % facts
    return words + gettext(". Wanted: %(allowed)s.") % facts


import_orders, import_bearings, import_gauges, import_people = map(_sheet, KINDS)
