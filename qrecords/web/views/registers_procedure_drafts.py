"""Procedures to be drafted and decided about: the form, a file to import, two approvals."""

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from qrecords.ledger.identifiers import new_id
from qrecords.people.errors import ProveAgainError, UnknownPersonError
from qrecords.people.permissions import Action
from qrecords.people.queries import names
from qrecords.steps.interchange.faults import CaseFaultsError
from qrecords.steps.procedure import STANDARD, read_procedure
from qrecords.steps.procedure_file import MOST_BYTES, read_file
from qrecords.web.door import acting_of, door, entry_id_of, may, person_of
from qrecords.web.moments import moment
from qrecords.web.registers.asking import Ask, typed, wrong
from qrecords.web.registers.procedure import procedure_page
from qrecords.web.registers.procedure_form import document_of, values_of, wanted_from
from qrecords.web.registers.procedure_parts import parts, when
from qrecords.web.registers.procedure_words import in_words
from qrecords.web.showing import FIGURES
from qrecords.web.views.registers import reach_of
from qrecords.web.views.registers_forms import GET_POST
from qrecords.web.views.registers_procedures import HERE, now, standing_document
from qrecords.web.views.registers_tables import site_here
from qrecords.workshop import procedure_actions as actions
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import ProcedureDraft, ProcedureVersion, Site
from qrecords.workshop.procedures import (
    IN_FORCE,
    OPEN,
    REFUSED,
    WAITS,
    Dossier,
    dossier,
    faults_of_new,
    in_force_at,
)
from qrecords.workshop.queries import sites

RECORDED = {
    "draft": _("Drafted. Two people approve it, of whom one at least wrote nothing of it."),
    "approve": _("Approved once. Another person approves it too."),
    "in force": _("Approved by two. It comes in force on its day; what is open keeps the version it has."),
    "other": _("Recorded."),
}
FORM_INPUTS = {"from": "from_day", "reason": "reason", "revision": "revision", "contract": "contract"}


def _base(request: HttpRequest, site: Site) -> Mapping[str, Any]:
    """The document that a new draft begins with: a version that is named, or what is in force."""
    wanted = request.GET.get("from", "")
    if wanted:
        found = ProcedureVersion.objects.filter(digest=wanted, site=site.id).first()
        if found is not None:
            return dict(found.document)
    return dict(standing_document(site.id, now()))


@door(Action.DRAFT)
@require_http_methods(GET_POST)
def procedure_new(request: HttpRequest) -> HttpResponse:
    """Draft a procedure, beginning with the one in force."""
    site, _query, _all = site_here(request, Action.DRAFT)
    title = gettext("New draft of a procedure")
    return _drafted(request, title, site, _base(request, site), None)


@door(Action.DRAFT)
@require_http_methods(GET_POST)
def draft_edit(request: HttpRequest, id: UUID) -> HttpResponse:
    """Draft it anew: a newer draft takes the place of this one, which stays."""
    found = dossier(id, reach_of(request, Action.DRAFT))
    draft = next(each for each in found.drafts if each.id == id)
    site = next(site for site in sites(reach_of(request, Action.DRAFT)) if site.id == draft.site)
    words = {"name": draft.name, "revision": draft.revision}
    title = gettext("%(name)s rev. %(revision)s, drafted anew") % words
    return _drafted(request, title, site, draft.document, draft)


def _drafted(
    request: HttpRequest, title: str, site: Site, base: Mapping[str, Any], before: ProcedureDraft | None
) -> HttpResponse:
    if request.method == "GET":
        return _form(request, title, values_of(base), {})
    given = {name: value.strip()[:2000] for name, value in request.POST.dict().items()}
    read = document_of(given, base)
    if given.get("way") == "more":
        return _form(request, title, given, {})
    read.take(faults_of_new(read.document))
    at, errors = wanted_from(given, site.zone)
    errors |= read.errors
    if not given.get("reason"):
        errors["reason"] = wrong("", gettext("what changes, and why, in one line"))
    if errors:
        return _form(request, title, given, errors)
    try:
        draft = actions.draft_procedure(
            acting=acting_of(request),
            site=site.id,
            draft_id=entry_id_of(request),
            document=read.document,
            reason=given["reason"],
            wanted_from=at,
            instead_of=before,
        )
    except RegisterFieldError as error:
        field = FORM_INPUTS.get(error.field, error.field)
        return _form(request, title, given, {field: wrong(given.get(field, ""), error.allowed)})
    messages.info(request, gettext(RECORDED["draft"]))
    return redirect("procedure-draft", id=draft.id)


def _form(
    request: HttpRequest, title: str, given: Mapping[str, str], errors: Mapping[str, str]
) -> HttpResponse:
    context = {
        "title": title,
        "entry_id": request.POST.get("entry_id", "") or str(new_id()),
        "wrong": bool(errors),
        **parts(given, errors),
    }
    return render(request, "registers/procedure_form.html", context | HERE, status=422 if errors else 200)


@door(Action.DRAFT)
@require_http_methods(GET_POST)
def procedure_import(request: HttpRequest) -> HttpResponse:
    """A draft from a file; its faults are named by their places."""
    site, _query, _all = site_here(request, Action.DRAFT)
    if request.method == "GET":
        return _import_page(request, None, {}, ())
    given = typed(request, [Ask(name, "") for name in ("from_day", "from_time", "reason")])
    upload = request.FILES.get("file")
    if upload is None:
        errors = {"file": wrong("", gettext("a file as this page exports it"))}
        return _import_page(request, given, errors, ())
    try:
        document = read_file(upload.read(MOST_BYTES + 1))
        faults = [str(fault) for fault in faults_of_new(document)]
    except CaseFaultsError as error:
        faults = [str(fault) for fault in error.faults]
    at, errors = wanted_from(given, site.zone)
    if faults or errors:
        return _import_page(request, given, errors, faults)
    try:
        draft = actions.draft_procedure(
            acting=acting_of(request),
            site=site.id,
            draft_id=entry_id_of(request),
            document=document,
            reason=given["reason"],
            wanted_from=at,
        )
    except RegisterFieldError as error:
        field = {"from": "from_day", "reason": "reason"}.get(error.field, "file")
        return _import_page(request, given, {field: wrong(error.value, error.allowed)}, ())
    messages.info(request, gettext(RECORDED["draft"]))
    return redirect("procedure-draft", id=draft.id)


def _import_page(request: HttpRequest, given: Any, errors: Mapping[str, str], faults: Any) -> HttpResponse:
    context = {
        "fields": when(given or {}, errors),
        "errors": errors,
        "faults": faults,
        "entry_id": request.POST.get("entry_id", "") or str(new_id()),
    }
    bad = bool(errors or faults)
    return render(request, "registers/procedure_import.html", context | HERE, status=422 if bad else 200)


@door(Action.READ)
@require_GET
def procedure_draft(request: HttpRequest, id: UUID) -> HttpResponse:
    """A draft beside what it would replace; here it is decided."""
    return _draft_page(request, dossier(id, reach_of(request)))


def _draft_page(
    request: HttpRequest, found: Dossier, errors: Mapping[str, str] | None = None
) -> HttpResponse:
    draft, at, me = found.newest, now(), person_of(request).id
    site = Site.objects.get(id=draft.site)
    standing = in_force_at(draft.site, at)
    stands = found.stands(at, [version.id for version in standing])
    there = _replaces(draft, site)
    people = names([*(each.by for each in found.drafts), *(act.by for act in found.acts)])
    mine = draft.by == me and found.version is None
    approves = may(request, Action.PROCEDURE)
    lines = in_words(there.document, draft.document) if there else []
    context = {
        "draft": draft,
        "stands": gettext(stands),
        "site": site.name,
        "by": people[str(draft.by)],
        "when": moment(draft.at, site.zone),
        "wanted": moment(draft.wanted_from, site.zone) if draft.wanted_from else "",
        "since": moment(found.version.valid_from, site.zone) if found.version else "",
        "there": there,
        "changed": [line for line in lines if line.changed],
        "page": procedure_page(read_procedure(draft.document), FIGURES),
        "told": _told(found, people, site.zone),
        "approvals": len(found.approvals),
        "may_decide": stands in OPEN and approves and _may_approve(found, me),
        "why_not": _why_not(found, me) if stands in OPEN and approves else "",
        "may_edit": stands in (*OPEN, REFUSED) and may(request, Action.DRAFT),
        "may_withdraw": _may_withdraw(stands, mine, approves, may(request, Action.DRAFT)),
        "needs_password": not mine,
        "entry_id": request.POST.get("entry_id", "") or str(new_id()),
        "errors": errors or {},
        "reason": request.POST.get("reason", ""),
    }
    return render(request, "registers/procedure_draft.html", context | HERE, status=422 if errors else 200)


def _replaces(draft: ProcedureDraft, site: Site) -> ProcedureVersion | None:
    """The version it would take the place of: of its name, else the workshop's own; of one that is in force
    already, what was in force the moment before."""
    version = ProcedureVersion.objects.filter(draft__dossier=draft.dossier).first()
    before = version.valid_from if version else now()
    for name in (draft.name, ""):
        rows = ProcedureVersion.objects.filter(site=site.id, valid_from__lte=before)
        rows = rows.exclude(draft__dossier=draft.dossier)
        found = (rows.filter(name=name) if name else rows).order_by("-valid_from", "-id").first()
        if found is not None:
            return found
    return None


def _told(found: Dossier, people: Mapping[str, str], zone: str) -> list[tuple[str, str, str, str]]:
    """What was said of it in its order: (what, who, when, why)."""
    drafted = [
        (each.at, gettext("drafted") if each.nth == 1 else gettext("drafted anew"), each.by, each.reason)
        for each in found.drafts
    ]
    acted = [(act.at, gettext(act.what), act.by, act.reason) for act in found.acts]
    return [(what, people[str(by)], moment(at, zone), why) for at, what, by, why in sorted(drafted + acted)]


def _may_approve(found: Dossier, person: UUID) -> bool:
    return not _why_not(found, person)


def _why_not(found: Dossier, person: UUID) -> str:
    """Why this person does not give the next approval; '' where he may."""
    given = {act.by for act in found.approvals}
    if person in given:
        return gettext("You have approved it. Another person approves it too.")
    if given and {person, *given} <= found.drafted_by:
        return gettext(
            "One who drafted it has approved it. The other approval is by who wrote nothing of it."
        )
    return ""


def _may_withdraw(stands: str, mine: bool, approves: bool, drafts: bool) -> bool:
    if stands in (WAITS, IN_FORCE):
        return approves
    return stands in (*OPEN, REFUSED) and (approves or (mine and drafts))


@door(Action.PROCEDURE)
@require_POST
def procedure_decide(request: HttpRequest, id: UUID) -> HttpResponse:
    """Approve or refuse, with one's own password."""
    way = request.POST.get("way", "")
    if way not in ("approve", "refuse"):
        found = dossier(id, reach_of(request))
        return _draft_page(request, found, {"draft": wrong(way, gettext("approve or refuse"))})
    return _decided(request, id, way)


@door(Action.DRAFT)
@require_POST
def procedure_withdraw(request: HttpRequest, id: UUID) -> HttpResponse:
    """Take back one's own draft, or end what is in force."""
    return _decided(request, id, "withdraw")


def _decided(request: HttpRequest, id: UUID, way: str) -> HttpResponse:
    found = dossier(id, reach_of(request))
    draft = next(each for each in found.drafts if each.id == id)
    reason = {"reason": request.POST.get("reason", "")}
    try:
        acting, act_id = acting_of(request), entry_id_of(request)
        if way == "approve":
            actions.approve_procedure(acting=acting, act_id=act_id, draft=draft)
        elif way == "refuse":
            actions.refuse_procedure(acting=acting, act_id=act_id, draft=draft, **reason)
        else:
            actions.withdraw_procedure(acting=acting, act_id=act_id, draft=draft, **reason)
    except RegisterFieldError as error:
        field = "reason" if error.field == "reason" else "draft"
        return _draft_page(request, found, {field: wrong(error.value, error.allowed)})
    except (ProveAgainError, UnknownPersonError):
        return _draft_page(request, found, {"password": gettext("This is not your password.")})
    came = way == "approve" and ProcedureVersion.objects.filter(draft=draft).exists()
    messages.info(request, gettext(RECORDED["in force" if came else way if way == "approve" else "other"]))
    return redirect("procedure-draft", id=draft.id)


@door(Action.PROCEDURE)
@require_POST
def procedure_first(request: HttpRequest) -> HttpResponse:
    """The standard procedure put in force by one person, at the installation of a site."""
    here = {str(site.id): site for site in sites(reach_of(request, Action.PROCEDURE))}
    site = here.get(request.POST.get("site", ""))
    if site is None:
        raise Http404
    try:
        actions.put_in_force(
            acting=acting_of(request), procedure_id=entry_id_of(request), site=site.id, document=STANDARD
        )
    except (ProveAgainError, UnknownPersonError):
        return render(
            request,
            "registers/procedure.html",
            {**HERE, "without": [site], "may_approve": True, "wrong": gettext("This is not your password.")},
            status=422,
        )
    messages.info(request, gettext("The standard procedure is in force."))
    return redirect("procedure")
