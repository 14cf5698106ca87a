"""One work order and its machines; the release of one machine of it by the inspector."""

import uuid
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import translation
from django.utils.translation import gettext
from django.views.decorators.http import require_GET, require_http_methods

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.errors import ChangedMeanwhileError, SealedError
from qrecords.mountings.queries import cases_of
from qrecords.people.errors import ProveAgainError, UnknownPersonError
from qrecords.people.permissions import Action
from qrecords.people.queries import names, reach
from qrecords.refusals import status_of
from qrecords.signoff.rebuild_actions import release_rebuild
from qrecords.signoff.rebuild_queries import releases_of, shown_of_rebuild, with_standing
from qrecords.steps.rebuild import RebuildState
from qrecords.steps.sealed import sealed_for
from qrecords.web.door import ACTION_ERRORS, acting_of, door, entry_id_of, may, person_of, shown_of
from qrecords.web.inspector.reader import heard_on, zone_for
from qrecords.web.inspector.rights import rights_at
from qrecords.web.inspector.sheets import body_mm, cut
from qrecords.web.rebuilds.certificate import blocks, sheet_block, title_of
from qrecords.web.rebuilds.ends import End, Ends, ends_of, people_of
from qrecords.web.rebuilds.order import PlaceLine, machines_of, places_of, shafts_of, title_block
from qrecords.web.rebuilds.released import released_of
from qrecords.web.rebuilds.releasing import Releasing, releasing
from qrecords.web.refused import refused_words
from qrecords.web.showing import FIGURES
from qrecords.workshop.models import Rebuild
from qrecords.workshop.queries import rebuild as rebuild_for

SHAFTS_A_PAGE = 6
LEFT_OUT = "left_out."


def rebuild_of(request: HttpRequest, id: uuid.UUID, action: Action) -> Any:
    """The rebuild with its standing; UnknownObjectError as if it did not exist."""
    found = rebuild_for(id, reach(person_of(request).id, action, datetime.now(UTC)))
    return with_standing(Rebuild.objects.select_related("machine")).get(id=found.id)


@door(Action.READ)
@require_GET
def rebuild(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """The whole order: its machines, every place of this one, both ends of each shaft."""
    found = rebuild_of(request, id, Action.READ)
    traces, zone = may(request, Action.TRACE), zone_for(request)
    places = places_of(found, page="mounting-trace" if traces else "inspect")
    release = releases_of([found.id]).get(found.id)
    shafts, number, more = _shafts(request, places)
    context = {
        "rebuild": found,
        "title_block": title_block(found, found.standing, zone),
        "machines": machines_of(found),
        "places": places,
        "shafts": _ends(request, found, shafts, traces=traces),
        "earlier": number - 1,
        "later": number + 1 if more else 0,
        "released": released_of(release, zone) if release else None,
        "may_release": release is None and may(request, Action.RELEASE_REBUILD),
    }
    return render(request, "rebuilds/rebuild.html", context)


def _shafts(request: HttpRequest, places: list[PlaceLine]) -> tuple[dict[str, Any], int, bool]:
    """The shafts of this page, its number, and whether there is another."""
    by_shaft = shafts_of(places)
    asked = request.GET.get("page", "1")
    most = max(1, -(-len(by_shaft) // SHAFTS_A_PAGE))
    number = min(max(int(asked) if asked.isdecimal() and len(asked) < 6 else 1, 1), most)
    first = (number - 1) * SHAFTS_A_PAGE
    return dict(list(by_shaft.items())[first : first + SHAFTS_A_PAGE]), number, number < most


def _ends(request: HttpRequest, found: Rebuild, shafts: Mapping[str, Any], *, traces: bool) -> list[Ends]:
    """The columns of each shaft. Three queries and the rights."""
    person = person_of(request)
    cases = cases_of([mounting for of in shafts.values() for mounting in of])
    may_check = rights_at(person, found.site, datetime.now(UTC)).may(Action.CHECK)
    called = names(people_of(list(cases.values())))

    def end(mounting: Any) -> End:
        case, heard = cases[mounting.id], bool(heard_on(request, mounting))
        sealed = sealed_for(case, str(person.id), may_check=may_check, read_display=heard)
        return End(mounting, case, sealed, called)

    return [
        ends_of(shaft, [end(mounting) for mounting in of], FIGURES, traces=traces)
        for shaft, of in shafts.items()
    ]


@door(Action.RELEASE_REBUILD)
@require_http_methods(["GET", "POST"])
def rebuild_release(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """What is released, what keeps it from being released, and the release itself."""
    found = rebuild_of(request, id, Action.RELEASE_REBUILD)
    if request.method == "GET":
        return _show(request, found, {}, "")
    given = {
        name: value.strip()[:2000] for name, value in request.POST.dict().items() if isinstance(value, str)
    }
    left_out = {
        uuid.UUID(name.removeprefix(LEFT_OUT)): reason
        for name, reason in given.items()
        if name.startswith(LEFT_OUT) and reason and _is_uuid(name.removeprefix(LEFT_OUT))
    }
    try:
        release_rebuild(
            acting=acting_of(request),
            rebuild=found,
            entry_id=entry_id_of(request),
            shown=shown_of(request),
            left_out=left_out,
            remark=given.get("remark", ""),
        )
    except (ProveAgainError, UnknownPersonError) as error:
        return _show(request, found, given, "", refused_words(error), status_of(error))
    except ChangedMeanwhileError as error:
        return _show(request, found, given, refused_words(error), status=status_of(error))
    except ACTION_ERRORS as error:
        return _show(request, found, given, refused_words(error), status=status_of(error))
    messages.success(request, gettext("Released. What comes later is shown as after release."))
    return redirect("rebuild", id=found.id)


@door(Action.READ)
@require_GET
def rebuild_certificate(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """A4 sheets. Before the release the same sheets say that they are no certificate. SealedError while its
    reader has still to read one of the rings himself."""
    found = rebuild_of(request, id, Action.READ)
    places = places_of(found, page="inspect")
    _refuse_sealed(request, found, places)
    release = releases_of([found.id]).get(found.id)
    zone, language = zone_for(request), translation.get_language() or "en"
    if release is not None:
        fixed = released_of(release, zone).seen["certificate"]
        zone, language = fixed["zone"], fixed["language"]
    address = request.build_absolute_uri(reverse("rebuild", args=[found.id]))
    with translation.override(language):
        released = released_of(release, zone) if release else None
        sheets = cut(blocks(found, places, released, address, zone), body_mm(title_of(found)))
        pairs = [(s, sheet_block(found, released, language, s.number, s.of)) for s in sheets]
        context = {"sheets": pairs, "language": language, "released": released, "rebuild": found}
        return HttpResponse(render_to_string("certificate/rebuild.html", context, request))


def _refuse_sealed(request: HttpRequest, found: Rebuild, places: list[PlaceLine]) -> None:
    standing = [place.standing for place in places if place.standing is not None]
    person = person_of(request)
    may_check = rights_at(person, found.site, datetime.now(UTC)).may(Action.CHECK)
    cases = cases_of(standing)
    for mounting in standing:
        heard = bool(heard_on(request, mounting))
        if sealed_for(cases[mounting.id], str(person.id), may_check=may_check, read_display=heard):
            raise SealedError(mounting.id)


def _is_uuid(text: str) -> bool:
    try:
        uuid.UUID(text)
    except ValueError:
        return False
    return True


def _show(
    request: HttpRequest,
    found: Any,
    given: Mapping[str, str],
    wrong: str,
    password_wrong: str = "",
    status: int = 200,
) -> HttpResponse:
    """The page of the release, with what was typed and what is wrong."""
    zone, released = zone_for(request), found.standing == RebuildState.RELEASED
    shown: Releasing = releasing(found, person_of(request), given, released=released)
    context = {
        "rebuild": found,
        "title_block": title_block(found, found.standing, zone),
        "releasing": shown,
        "shown": shown_of_rebuild(found),
        "remark": given.get("remark", ""),
        "wrong": wrong,
        "password_wrong": password_wrong,
        "entry_id": request.POST.get("entry_id", "") or str(new_id()),
    }
    return render(request, "rebuilds/release.html", context, status=status)
