"""The only writers of a site's own rows of the tables: proposed by one person, decided by another."""

import uuid
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from qrecords.engineering.own_rows import document_of, read_row
from qrecords.engineering.row_fits import far, fits, leaves_no_gap
from qrecords.ledger.append import atomic
from qrecords.people.acting import Acting, require
from qrecords.people.bounds import zone_of
from qrecords.people.errors import NotForOneselfError
from qrecords.people.permissions import Action
from qrecords.people.queries import version_at
from qrecords.people.stating import state
from qrecords.workshop.errors import RegisterFieldError, RowSettledError
from qrecords.workshop.models import Site, TableRow, TableRowAct
from qrecords.workshop.tables import (
    APPROVED,
    IN_FORCE,
    PROPOSED,
    REFUSED,
    WITHDRAWN,
    acts_of,
    in_force,
    standing_of,
    tables_of,
)

LONGEST_REASON = 400
KINDS: Mapping[str, str] = {
    APPROVED: "table row approval",
    REFUSED: "table row refusal",
    WITHDRAWN: "table row withdrawal",
}
"""What may become of a row → the kind of its entry."""


@atomic()
def propose_row(
    *,
    acting: Acting,
    site: uuid.UUID,
    row_id: uuid.UUID,
    document: Mapping[str, Any],
    reason: str,
    sure: bool = False,
) -> TableRow:
    """Propose a row read in the site's own copy of a standard; it judges nothing until another person
    approved it. TableRowError names the field that cannot be; FarRowError asks back once (`sure` confirms)
    what lies far from the row that stands there now."""
    require(acting, Action.PROPOSE_ROW, site)
    row = read_row(document)
    tables = in_force(site)
    known = TableRow.objects.filter(id=row_id).first()
    if known is None:
        fits(row, tables)
        asked = far(row, tables)
        if asked is not None and not sure:
            raise asked
    there = tables.row(row.table, row.key, row.upto_mm)
    state(
        acting,
        "table row",
        id=row_id,
        site=site,
        about=("table row", row_id),
        said=document_of(row),
        seen={"there": None if there is None else document_of(there)["values"]},
        reason=_reason(reason),
        tables=tables.digest,
    )
    return known or TableRow.objects.create(
        id=row_id,
        site=site,
        document=document_of(row),
        reason=_reason(reason),
        proposed_by=acting.author.id,
        proposed_at=acting.now,
    )


@atomic()
def approve_row(*, acting: Acting, act_id: uuid.UUID, row: TableRow) -> TableRowAct:
    """Put a proposed row in force, from now. Never by who proposed it (NotForOneselfError); asked again
    whether it goes with the rows around it, which may have changed since (TableRowError)."""
    require(acting, Action.APPROVE_ROW, row.site)
    if acting.author.id == row.proposed_by:
        raise NotForOneselfError(Action.APPROVE_ROW)
    return _decide(acting, act_id, row, APPROVED, "")


@atomic()
def refuse_row(*, acting: Acting, act_id: uuid.UUID, row: TableRow, reason: str) -> TableRowAct:
    """Refuse a proposed row, saying why. Who proposed it withdraws it instead."""
    require(acting, Action.APPROVE_ROW, row.site)
    if acting.author.id == row.proposed_by:
        raise NotForOneselfError(Action.APPROVE_ROW)
    return _decide(acting, act_id, row, REFUSED, _reason(reason))


@atomic()
def withdraw_row(*, acting: Acting, act_id: uuid.UUID, row: TableRow, reason: str) -> TableRowAct:
    """Take back a row, saying why: one's own while it is only proposed; one in force, whoever may put rows in
    force. What was opened under it keeps it; from now the built-in row stands again."""
    begun = TableRowAct.objects.filter(row=row).exclude(id=act_id).exists()
    own_proposal = acting.author.id == row.proposed_by and not begun
    require(acting, Action.PROPOSE_ROW if own_proposal else Action.APPROVE_ROW, row.site)
    return _decide(acting, act_id, row, WITHDRAWN, _reason(reason))


def _reason(text: str) -> str:
    reason = text.strip()
    if not reason or len(reason) > LONGEST_REASON or not reason.isprintable():
        raise RegisterFieldError("reason", text, f"1 to {LONGEST_REASON} characters in one line")
    return reason


MAY_BECOME: Mapping[str, tuple[str, ...]] = {PROPOSED: (APPROVED, REFUSED, WITHDRAWN), IN_FORCE: (WITHDRAWN,)}


def _decide(acting: Acting, act_id: uuid.UUID, row: TableRow, what: str, reason: str) -> TableRowAct:
    """One decision after the other at a site: the order tells which tables were in force when. An act of
    authority has the server's time alone."""
    acting = replace(acting, at_device=None)
    site = Site.objects.select_for_update().get(id=row.site)
    acts = acts_of(site.id)
    known = next((act for act in acts if act.id == act_id), None)
    before = [act for act in acts if known is None or act.nth < known.nth]
    stands = standing_of(row, before)
    if known is None and what not in MAY_BECOME.get(stands, ()):
        raise RowSettledError(row.id, stands)
    act = known or TableRowAct(
        id=act_id,
        site=site.id,
        nth=acts[-1].nth + 1 if acts else 1,
        row=row,
        what=what,
        by=acting.author.id,
        by_hash=version_at(acting.author.id, acting.now).hash,
        on=acting.now.astimezone(zone_of(site.zone)).date().isoformat(),
        at=acting.now,
        reason=reason,
    )
    if known is None:
        _refuse_gaps(row, what, before)
    tables = tables_of([*before, act])
    state(
        acting,
        KINDS[what],
        id=act_id,
        site=site.id,
        about=("table row", row.id),
        said={"row": str(row.id)},
        seen={"tables": tables.digest, "on": act.on, "nth": act.nth},
        reason=reason or None,
        tables=tables_of(before).digest,
    )
    if known is None:
        act.save(force_insert=True)
    return act


def _refuse_gaps(row: TableRow, what: str, before: list[TableRowAct]) -> None:
    """A row approved still goes with the others; one withdrawn leaves no gap between them."""
    if what == APPROVED:
        fits(read_row(row.document), tables_of(before))
    elif what == WITHDRAWN and standing_of(row, before) == IN_FORCE:
        leaves_no_gap(read_row(row.document), tables_of(before))
