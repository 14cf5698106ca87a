"""Which tables of the standards are in force at a site, now and when a mounting pinned them.

The rows that a site approved from its own copy lie over the built-in ones. A set of tables is known by its
digest; it is never kept, but found again from the acts of the register.
"""

import uuid
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from functools import lru_cache

from qrecords.engineering.own_rows import read_row
from qrecords.engineering.tables import BUILT_IN, Approval, Row, Tables
from qrecords.people.permissions import Action
from qrecords.people.queries import reach
from qrecords.workshop.models import TableRow, TableRowAct

APPROVED, REFUSED, WITHDRAWN = "approved", "refused", "withdrawn"
PROPOSED, IN_FORCE, REPLACED = "proposed", "in force", "replaced"
"""How a proposed row stands; with *refused* and *withdrawn* beside them."""


def approved_row(row: TableRow, approval: Approval) -> Row:
    """The row as it is laid over: confirmed by the site's own copy, and saying by whose approval."""
    return replace(read_row(row.document), approval=approval)


def laid_over(acts: Sequence[TableRowAct]) -> dict[uuid.UUID, Row]:
    """By id the rows that these acts, in their order, leave in force. The last approved of one place stands;
    what it took the place of does not come back when it is withdrawn."""
    standing: dict[tuple[object, ...], tuple[uuid.UUID, Row]] = {}
    for act in acts:
        if act.what == REFUSED:
            continue
        row = approved_row(act.row, Approval(str(act.id), act.by_hash, act.on))
        place = (row.table, row.key, row.over_mm, row.upto_mm)
        if act.what == APPROVED:
            standing[place] = (act.row_id, row)
        elif standing.get(place, (None,))[0] == act.row_id:
            del standing[place]
    return dict(standing.values())


def standing_of(row: TableRow, acts: Sequence[TableRowAct]) -> str:
    """How a row stands after these acts of its site."""
    own = [act.what for act in acts if act.row_id == row.id]
    if not own:
        return PROPOSED
    if own[-1] != APPROVED:
        return own[-1]
    return IN_FORCE if row.id in laid_over(acts) else REPLACED


def acts_of(site: uuid.UUID) -> list[TableRowAct]:
    """Everything decided about rows of a site, in its order; one query."""
    return list(TableRowAct.objects.filter(site=site).select_related("row"))


def proposed_at(site: uuid.UUID) -> list[TableRow]:
    """Every row that was proposed at a site, the newest first; one query."""
    return list(TableRow.objects.filter(site=site).order_by("-proposed_at", "-id"))


def in_force(site: uuid.UUID | None) -> Tables:
    """The tables that what begins now at this site is judged by; the built-in ones without a site. One query
    at most."""
    return tables_of(acts_of(site)) if site else BUILT_IN


def tables_of(acts: Sequence[TableRowAct]) -> Tables:
    """The tables that these acts leave in force."""
    rows = tuple(laid_over(acts).values())
    return _overlaid(rows) if rows else BUILT_IN


@lru_cache(maxsize=64)
def _overlaid(rows: tuple[Row, ...]) -> Tables:
    return BUILT_IN.overlaid(rows)


def pinned(digest: str, site: uuid.UUID, at: datetime) -> Tables:
    """The very tables a mounting pinned when it was opened. Where this program does not know them any more,
    for its own were others then, today's with the site's rows of that moment, which say what they stand for.
    One query, and none for the built-in tables."""
    if digest in ("", BUILT_IN.digest):
        return BUILT_IN
    if digest in _KNOWN:
        return _KNOWN[digest]
    acts = acts_of(site)
    for until in range(len(acts), 0, -1):
        tables = tables_of(acts[:until])
        if tables.digest == digest:
            _KNOWN[digest] = tables
            return tables
    then = tables_of([act for act in acts if act.at <= at])
    return Tables(lambda: then.rows, stands_for=digest)


_KNOWN: dict[str, Tables] = {}
"""Sets found before: a digest names one content for ever. One a decision about a row, so there are few."""


def tables_for_planning(person: uuid.UUID, at: datetime) -> Tables:
    """Those in force at the site where this person reads; the built-in ones for who reads at several,
    of which nobody can tell for which he plans. Two queries."""
    where = reach(person, Action.READ, at)
    here = [] if where.everywhere else list(where.sites)
    return in_force(here[0] if len(here) == 1 else None)
