"""Procedures to be read: which are in force, each version and draft, one beside another, one as a file."""

from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext
from django.views.decorators.http import require_GET

from qrecords.people.permissions import Action
from qrecords.people.queries import Reach, names
from qrecords.steps.procedure import STANDARD, read_procedure
from qrecords.steps.procedure_file import as_file
from qrecords.web.door import door, may
from qrecords.web.moments import moment
from qrecords.web.registers.procedure import procedure_page
from qrecords.web.registers.procedure_form import slug
from qrecords.web.registers.procedure_words import in_words
from qrecords.web.showing import FIGURES
from qrecords.web.views.registers import reach_of, zone_within
from qrecords.workshop.models import ProcedureDraft, ProcedureVersion, Site
from qrecords.workshop.procedures import OPEN, WAITS, Dossier, dossiers, in_force_at, version_by_digest
from qrecords.workshop.queries import sites

HERE = {"here": "procedure"}


def now() -> datetime:
    return datetime.now(UTC)


@door(Action.READ)
@require_GET
def procedures(request: HttpRequest) -> HttpResponse:
    """What is in force at each of the asker's sites, every version and every draft, and how each stands."""
    where, at = reach_of(request), now()
    found = sites(where)
    standing = {site.id: in_force_at(site.id, at) for site in found}
    own = {each[0].id: each[0] for each in standing.values() if each}
    defaults = ProcedureVersion.objects.in_bulk(own)
    context = {
        "shown": [
            (site.name, defaults[standing[site.id][0].id], _page(defaults[standing[site.id][0].id].document))
            for site in found
            if standing[site.id]
        ],
        "lines": _lines(where, found, [version for each in standing.values() for version in each], at),
        "without": [site for site in found if not standing[site.id]],
        "may_draft": may(request, Action.DRAFT),
        "may_approve": may(request, Action.PROCEDURE),
    }
    return render(request, "registers/procedure.html", context | HERE)


def _page(document: Any) -> Any:
    return procedure_page(read_procedure(document), FIGURES)


def _lines(
    where: Reach, found: Sequence[Site], standing: Sequence[ProcedureVersion], at: datetime
) -> list[dict[str, Any]]:
    """Every dossier and the first procedures, what waits for somebody first."""
    zones = {site.id: site for site in found}
    in_force = [version.id for version in standing]
    each = dossiers(where)
    people = names(draft.by for one in each for draft in (one.newest,))
    lines = [_line(one, one.stands(at, in_force), zones, people) for one in each]
    firsts = ProcedureVersion.objects.filter(draft=None).defer("document").order_by("-valid_from", "-id")
    if not where.everywhere:
        firsts = firsts.filter(site__in=where.sites)
    for version in firsts:
        site = zones.get(version.site)
        lines.append(
            {
                "title": f"{version.name} {gettext('rev.')} {version.revision}",
                "contract": version.contract,
                "stands": gettext("in force") if version.id in in_force else gettext("replaced"),
                "site": site.name if site else "",
                "by": gettext("put in force at the installation"),
                "when": moment(version.valid_from, site.zone if site else "UTC"),
                "digest": version.digest,
            }
        )
    return sorted(lines, key=lambda line: not line.get("waits"))


def _line(one: Dossier, stands: str, found: dict[UUID, Site], people: dict[str, str]) -> dict[str, Any]:
    draft, site = one.newest, found.get(one.newest.site)
    zone = site.zone if site else "UTC"
    since = one.version.valid_from if one.version else draft.at
    return {
        "title": f"{draft.name} {gettext('rev.')} {draft.revision}",
        "contract": draft.contract,
        "stands": gettext(stands),
        "waits": stands in OPEN,
        "site": site.name if site else "",
        "by": people[str(draft.by)],
        "when": moment(since, zone) + (f" ({gettext('to come')})" if stands == WAITS else ""),
        "draft": draft.id,
        "digest": draft.digest if one.version else "",
    }


@door(Action.READ)
@require_GET
def version(request: HttpRequest, digest: str) -> HttpResponse:
    """One version as a page a person can read: the very document that mountings pinned."""
    found = version_by_digest(digest, reach_of(request))
    site = Site.objects.filter(id=found.site).first()
    context = {
        "version": found,
        "page": _page(found.document),
        "site": site.name if site else "",
        "since": moment(found.valid_from, site.zone if site else "UTC"),
        "may_draft": may(request, Action.DRAFT),
    }
    return render(request, "registers/procedure_version.html", context | HERE)


@door(Action.READ)
@require_GET
def file(request: HttpRequest, digest: str) -> HttpResponse:
    """The version as one readable file."""
    return _file(version_by_digest(digest, reach_of(request)))


def _file(found: ProcedureVersion | ProcedureDraft) -> HttpResponse:
    name = f"{slug(found.name, 40) or 'procedure'}-{slug(found.revision, 20) or 'x'}.json"
    answer = HttpResponse(as_file(found.document), content_type="application/json; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer


@door(Action.READ)
@require_GET
def draft_file(request: HttpRequest, id: UUID) -> HttpResponse:
    """A draft as one readable file."""
    rows = ProcedureDraft.objects.filter(id=id)
    where = reach_of(request)
    found = (rows if where.everywhere else rows.filter(site__in=where.sites)).first()
    if found is None:
        raise Http404
    return _file(found)


def choices(where: Reach) -> list[tuple[str, str, ProcedureVersion | ProcedureDraft]]:
    """Everything that can be compared, by an id of its own: versions in force before, and newest drafts."""
    versions = ProcedureVersion.objects.defer("document").order_by("-valid_from", "-id")
    rows = versions if where.everywhere else versions.filter(site__in=where.sites)
    found: list[tuple[str, str, ProcedureVersion | ProcedureDraft]] = [
        (str(each.id), f"{each.name} {gettext('rev.')} {each.revision}", each) for each in rows
    ]
    drafts = [one.newest for one in dossiers(where) if one.version is None]
    words = gettext("%(name)s rev. %(revision)s, draft")
    return found + [
        (str(each.id), words % {"name": each.name, "revision": each.revision}, each) for each in drafts
    ]


@door(Action.READ)
@require_GET
def compare(request: HttpRequest) -> HttpResponse:
    """Two versions field by field: what changed first, then all that is the same."""
    where = reach_of(request)
    found = choices(where)
    by_id = {id: (words, row) for id, words, row in found}
    first = [id for id, _words, _row in found[:2]]
    old = request.GET.get("old", first[-1] if first else "")
    new = request.GET.get("new", first[0] if first else "")
    chosen = [by_id[id] for id in (old, new) if id in by_id]
    lines = in_words(chosen[0][1].document, chosen[1][1].document) if len(chosen) == 2 else []
    context = {
        "options": [(id, words) for id, words, _row in found],
        "old": old,
        "new": new,
        "old_words": chosen[0][0] if chosen else "",
        "new_words": chosen[-1][0] if chosen else "",
        "changed": [line for line in lines if line.changed],
        "same": [line for line in lines if not line.changed],
        "both": len(chosen) == 2,
        "zone": zone_within(where),
    }
    return render(request, "registers/procedure_compare.html", context | HERE)


def standing_document(site: UUID, at: datetime) -> Any:
    """What a new draft begins with: the workshop's own procedure, or the standard one where none is."""
    found = in_force_at(site, at)
    return found[0].document if found else dict(STANDARD)
