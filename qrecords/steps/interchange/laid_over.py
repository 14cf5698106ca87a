"""The tables of a case: those of this program, with rows of the site's own copies laid over them."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from qrecords.engineering.errors import EngineeringError, TableRowError
from qrecords.engineering.own_rows import SHAPES, document_of, read_row
from qrecords.engineering.tables import BUILT_IN, Approval, Row, Tables
from qrecords.steps.interchange.faults import CaseFaultsError, Fault, below, told

ROWS = "/tables/rows"


def own_rows(tables: Tables) -> tuple[Row, ...]:
    """The rows that are not of this program."""
    if tables is BUILT_IN:
        return ()
    known = set(BUILT_IN.rows)
    return tuple(row for row in tables.rows if row not in known)


def tables_document(tables: Tables) -> dict[str, Any]:
    """The tables as a case document holds them: their digest, and the rows that are not of this program."""
    return {"digest": tables.digest, "rows": [_document(row) for row in own_rows(tables)]}


def _document(row: Row) -> dict[str, Any]:
    approved = row.approval
    if approved is None:
        return document_of(row)
    return document_of(row) | {"approval": {"entry": approved.entry, "by": approved.by, "on": approved.on}}


def tables_of(document: Mapping[str, Any]) -> Tables:
    """The tables of a case document; CaseFaultsError names every row that cannot be read."""
    rows, faults = [], []
    for place, given in enumerate(document.get("rows", ())):
        at = below(ROWS, place)
        try:
            rows.append(_row(given))
        except TableRowError as error:
            faults.append(_fault(at, given, error))
        except EngineeringError as error:
            faults.append(Fault(at, "table-row", why=str(error)))
    if faults:
        raise CaseFaultsError(faults)
    return BUILT_IN.overlaid(rows) if rows else BUILT_IN


def _fault(at: str, given: Mapping[str, Any], error: TableRowError) -> Fault:
    """With the member that is wrong; of a part of the key or one of the values also its name."""
    told_of, why = error.field, ""
    if error.field not in given:
        parts = [name for name, _ in SHAPES[given["table"]].key]
        told_of, why = "key" if error.field in parts else "values", f"is not possible as {error.field}"
    return Fault(below(at, told_of), "table-row", told(error.value), error.unit, error.allowed, why)


def _row(given: Mapping[str, Any]) -> Row:
    """A row that nobody approved is one that nobody confirmed."""
    said = {name: value for name, value in given.items() if name != "approval"}
    approved = given.get("approval")
    row = read_row(said, confirmed=approved is not None)
    return replace(row, approval=Approval(**approved)) if approved else row
