"""The tables of the standards: what is in force, where each row is from, and rows of the site's own copy."""

from decimal import Decimal, InvalidOperation
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from qrecords.engineering.errors import FarRowError, TableRowError
from qrecords.engineering.own_rows import SHAPES, read_row
from qrecords.engineering.tables import Row, Tables
from qrecords.ledger.identifiers import new_id
from qrecords.people.errors import ProveAgainError, UnknownPersonError
from qrecords.people.permissions import Action
from qrecords.people.queries import names
from qrecords.web.door import acting_of, door, entry_id_of, may, person_of
from qrecords.web.doubts import named, told
from qrecords.web.listing.held import held_export, held_listing
from qrecords.web.moments import day
from qrecords.web.registers import row_form
from qrecords.web.registers.asking import typed, wrong
from qrecords.web.registers.effects import effects
from qrecords.web.registers.tables import (
    KEYS,
    TITLES,
    beside,
    columns_of,
    place_query,
    rows_of,
    size_words,
    standing_words,
    table_lines,
    value_words,
)
from qrecords.web.views.registers import reach_of
from qrecords.web.views.registers_forms import GET_POST, show_form
from qrecords.workshop import table_actions
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import Site, TableRow
from qrecords.workshop.queries import sites
from qrecords.workshop.tables import IN_FORCE, PROPOSED, acts_of, proposed_at, standing_of, tables_of

HERE = {"here": "tables"}
RECORDED = (_("Recorded."), _("Recorded. Mountings opened from now on are judged by it."))


def site_here(request: HttpRequest, action: Action = Action.READ) -> tuple[Site, str, list[Site]]:
    """The site whose tables are shown, how an address names it, and all there are: the first where none is
    named."""
    found = sites(reach_of(request, action))
    wanted = request.GET.get("site", "")
    chosen = next((site for site in found if str(site.id) == wanted), found[0] if found else None)
    if chosen is None:
        raise Http404
    return chosen, f"?site={chosen.id}" if len(found) > 1 else "", found


def _known(table: str) -> str:
    if table not in SHAPES:
        raise Http404
    return table


@door(Action.READ)
@require_GET
def tables(request: HttpRequest) -> HttpResponse:
    """Every table with its standard, how its rows stand, and the rows of the site's own copy."""
    site, query, found = site_here(request)
    acts = acts_of(site.id)
    rows = proposed_at(site.id)
    people = names(row.proposed_by for row in rows)
    own = [
        {
            "id": row.id,
            "what": _what(read_row(row.document)),
            "stands": gettext(standing_of(row, acts)),
            "waits": standing_of(row, acts) == PROPOSED,
            "by": people[str(row.proposed_by)],
            "day": day(row.proposed_at, site.zone),
        }
        for row in rows
    ]
    in_force = tables_of(acts)
    context = {
        "lines": table_lines(in_force, query),
        "own": own,
        "site": site,
        "sites": found if len(found) > 1 else [],
        "digest": in_force.digest,
    }
    return render(request, "registers/tables.html", context | HERE)


def _what(row: Row) -> str:
    return f"{named(row.table, list(row.key))}, {size_words(row.over_mm, row.upto_mm)}"


@door(Action.READ)
@require_GET
def table(request: HttpRequest, table: str) -> HttpResponse:
    """The rows of one table as they are in force: filtered, sorted, paged, exported."""
    site, query, _sites = site_here(request)
    rows = rows_of(tables_of(acts_of(site.id)), _known(table))
    columns = columns_of(table, query)
    answer = held_export(request, columns, rows, KEYS, table)
    if answer is not None:
        return answer
    context = {"title": gettext(TITLES[table]), "listing": held_listing(request, columns, rows, KEYS)}
    return render(request, "registers/list.html", context | HERE)


def _row_at(request: HttpRequest, tables: Tables, table: str) -> Row | None:
    """The row that the address names by key and range; None where there is none."""
    key = tuple(request.GET.getlist("key"))
    try:
        over, upto = (Decimal(request.GET.get(name, "")[:20]) for name in ("over", "upto"))
    except InvalidOperation:
        return None
    return next((r for r in tables.all_of(table, key) if (r.over_mm, r.upto_mm) == (over, upto)), None)


@door(Action.READ)
@require_GET
def table_row(request: HttpRequest, table: str) -> HttpResponse:
    """One row: its values, where they are from, and what was proposed for this place."""
    site, query, _sites = site_here(request)
    acts = acts_of(site.id)
    row = _row_at(request, tables_of(acts), _known(table))
    if row is None:
        return redirect("table", table=table)
    place = (row.table, row.key, row.over_mm, row.upto_mm)
    proposed = [(p, read_row(p.document)) for p in proposed_at(site.id)]
    context = {
        "title": gettext(TITLES[table]),
        "table": table,
        "what": _what(row),
        "values": value_words(row),
        "standard": row.cited,
        "stands": standing_words(row),
        "told": told(row.told),
        "confirmed": row.confirmed and row.approval is None,
        "history": [
            {"id": p.id, "stands": gettext(standing_of(p, acts)), "day": day(p.proposed_at, site.zone)}
            for p, r in proposed
            if (r.table, r.key, r.over_mm, r.upto_mm) == place
        ],
        "propose": f"{place_query(row)}{query.replace('?', '&')}",
        "may_propose": may(request, Action.PROPOSE_ROW),
    }
    return render(request, "registers/table_row.html", context | HERE)


@door(Action.PROPOSE_ROW)
@require_http_methods(GET_POST)
def row_propose(request: HttpRequest, table: str) -> HttpResponse:
    """Propose a row from the site's own copy. What lies far from the row that stands is asked back once."""
    site, _query, _sites = site_here(request, Action.PROPOSE_ROW)
    there = _row_at(request, tables_of(acts_of(site.id)), _known(table))
    title = gettext("%(table)s: a row of our own copy") % {"table": gettext(TITLES[table])}
    asks = row_form.asks_of(table, there, sure=bool(request.POST.get(f"{row_form.SURE}-asked")))
    more: dict[str, Any] = {**HERE, "template": "row_form"}
    if request.method == "GET":
        return show_form(request, title, asks, **more)
    given = typed(request, asks)
    try:
        row = table_actions.propose_row(
            acting=acting_of(request),
            site=site.id,
            row_id=entry_id_of(request),
            document=row_form.document_typed(table, given),
            reason=given["reason"],
            sure=bool(given.get(row_form.SURE)),
        )
    except FarRowError as error:
        field, asks = row_form.input_of(table, error.field), row_form.asks_of(table, there, sure=True)
        said = gettext("Expected %(allowed)s. Look again; if your copy has it so, say so below.")
        errors = {field: said % {"allowed": error.allowed}}
        return show_form(request, title, asks, given, errors, asked_sure=True, **more)
    except (TableRowError, RegisterFieldError) as error:
        field = row_form.input_of(table, error.field)
        value = given.get(field, str(error.value))
        return show_form(request, title, asks, given, {field: wrong(value, error.allowed)}, **more)
    messages.info(request, gettext("Proposed. Another person approves it."))
    return redirect("proposed-row", id=row.id)


def _proposed(request: HttpRequest, id: UUID, action: Action) -> tuple[TableRow, Site]:
    here = {site.id: site for site in sites(reach_of(request, action))}
    row = TableRow.objects.filter(id=id, site__in=here).first()
    if row is None:
        raise Http404
    return row, here[row.site]


@door(Action.READ)
@require_GET
def proposed_row(request: HttpRequest, id: UUID) -> HttpResponse:
    """A proposed row beside the one that stands, and what it would change; here it is decided."""
    return _page(request, *_proposed(request, id, Action.READ))


def _page(
    request: HttpRequest, proposal: TableRow, site: Site, errors: dict[str, str] | None = None
) -> HttpResponse:
    acts = acts_of(site.id)
    stands, row, now = standing_of(proposal, acts), read_row(proposal.document), tables_of(acts)
    there = next((r for r in now.all_of(row.table, row.key) if r.upto_mm == row.upto_mm), None)
    people = names([proposal.proposed_by, *(act.by for act in acts)])
    own = proposal.proposed_by == person_of(request).id
    context = {
        "row": proposal,
        "what": _what(row),
        "title": gettext(TITLES[row.table]),
        "table": row.table,
        "stands": gettext(stands),
        "standard": row.cited,
        "place": proposal.document,
        "beside": beside(row, there),
        "there_told": told(there.told) if there else (),
        "there_standard": there.cited if there else "",
        "there_stands": standing_words(there) if there else "",
        "by": people[str(proposal.proposed_by)],
        "day": day(proposal.proposed_at, site.zone),
        "acts": [
            (gettext(act.what), people[str(act.by)], day(act.at, site.zone), act.reason)
            for act in acts
            if act.row_id == proposal.id
        ],
        "effects": effects(site.id, now, now.overlaid([row])) if stands == PROPOSED else [],
        "undecided": stands == PROPOSED,
        "own": own,
        "may_decide": stands == PROPOSED and not own and may(request, Action.APPROVE_ROW),
        "may_withdraw": (stands == IN_FORCE and may(request, Action.APPROVE_ROW))
        or (stands == PROPOSED and own and may(request, Action.PROPOSE_ROW)),
        "needs_password": stands == IN_FORCE,
        "entry_id": request.POST.get("entry_id", "") or str(new_id()),
        "errors": errors or {},
        "reason": request.POST.get("reason", ""),
    }
    return render(request, "registers/proposed_row.html", context | HERE, status=422 if errors else 200)


@door(Action.APPROVE_ROW)
@require_POST
def row_decide(request: HttpRequest, id: UUID) -> HttpResponse:
    """Approve or refuse, by another person than who proposed it, who gives his password again."""
    way = request.POST.get("way", "")
    if way not in ("approve", "refuse"):
        row, site = _proposed(request, id, Action.READ)
        return _page(request, row, site, {"row": wrong(way, gettext("approve or refuse"))})
    return _decided(request, id, way)


@door(Action.PROPOSE_ROW)
@require_POST
def row_withdraw(request: HttpRequest, id: UUID) -> HttpResponse:
    """Take back one's own proposal, or a row that is in force."""
    return _decided(request, id, "withdraw")


def _decided(request: HttpRequest, id: UUID, way: str) -> HttpResponse:
    row, site = _proposed(request, id, Action.READ)
    reason = {"reason": request.POST.get("reason", "")}
    try:
        acting, act_id = acting_of(request), entry_id_of(request)
        if way == "approve":
            table_actions.approve_row(acting=acting, act_id=act_id, row=row)
        elif way == "refuse":
            table_actions.refuse_row(acting=acting, act_id=act_id, row=row, **reason)
        else:
            table_actions.withdraw_row(acting=acting, act_id=act_id, row=row, **reason)
    except RegisterFieldError as error:
        return _page(request, row, site, {"reason": wrong(error.value, error.allowed)})
    except (ProveAgainError, UnknownPersonError):
        return _page(request, row, site, {"password": gettext("This is not your password.")})
    except TableRowError as error:
        return _page(request, row, site, {"row": str(error)})
    messages.info(request, gettext(RECORDED[way == "approve"]))
    return redirect("proposed-row", id=row.id)
