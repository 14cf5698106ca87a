"""The tables of the standards: what is in force at a site, and rows proposed from the site's own copy.

A row is put in force on its page, by a person who is there; never here.
"""

from typing import Any

from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api.door import Resource, acting_of, reach_of, site_of
from qrecords.api.operations import Operation
from qrecords.api.receipts import Receipt, write
from qrecords.api.table_forms import (
    ProposalBody,
    ProposedRows,
    RowsAnswer,
    RowsQuery,
    TablesAnswer,
    TablesQuery,
)
from qrecords.engineering.own_rows import SHAPES, document_of
from qrecords.engineering.tables import Row
from qrecords.people.permissions import Action
from qrecords.steps.findings import of_rows
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.table_actions import propose_row
from qrecords.workshop.tables import acts_of, in_force, proposed_at, standing_of


def _site(request: Request, asked: dict[str, Any]) -> Any:
    site, where = site_of(request, Action.READ, asked), reach_of(request, Action.READ)
    if not where.everywhere and site not in where.sites:
        raise UnknownObjectError("site", site)
    return site


class Tables(Resource):
    operations = {"GET": Operation("list tables", (Action.READ,), TablesAnswer, query=TablesQuery)}

    def get(self, request: Request) -> Response:
        """Every table of the standards as it is in force at a site."""
        tables = in_force(_site(request, self.asked(request)))
        lines = [_line(name, [row for row in tables.rows if row.table == name]) for name in SHAPES]
        return Response(TablesAnswer({"digest": tables.digest, "tables": lines}).data)


def _line(table: str, rows: list[Row]) -> dict[str, Any]:
    shape = SHAPES[table]
    return {
        "table": table,
        "unit": shape.unit,
        "key": [name for name, _may in shape.key],
        "values": shape.values,
        "standards": list(dict.fromkeys(row.cited for row in rows)),
        "rows": len(rows),
        "unconfirmed": sum(not row.confirmed for row in rows),
    }


class TableRows(Resource):
    operations = {
        "GET": Operation("list the rows of a table", (Action.READ,), RowsAnswer, query=RowsQuery),
        "POST": Operation("propose a row", (Action.PROPOSE_ROW,), Receipt, ProposalBody, write=True),
    }

    def get(self, request: Request) -> Response:
        """The rows of one table as they are in force at a site."""
        asked = self.asked(request)
        tables = in_force(_site(request, asked))
        rows = [row for row in tables.rows if row.table == asked["table"]]
        return Response(RowsAnswer({"digest": tables.digest, "rows": [_row(row) for row in rows]}).data)

    def post(self, request: Request) -> Response:
        """Propose a row of the site's own copy. It judges nothing until another person has approved it on its
        page."""
        said = self.said(request)
        site, acting = site_of(request, Action.PROPOSE_ROW, said), acting_of(request, said)
        return write(
            said["entry_id"],
            "table row",
            said["entry_id"],
            lambda: propose_row(
                acting=acting,
                site=site,
                row_id=said["entry_id"],
                document=said["document"],
                reason=said["reason"],
                sure=said.get("sure", False),
            ),
        ).response()


def _row(row: Row) -> dict[str, Any]:
    said = document_of(row)
    names = ("key", "over_mm", "upto_mm", "values", "standard", "edition")
    return {name: said[name] for name in names} | of_rows(row.told)


class Proposals(Resource):
    operations = {"GET": Operation("list proposed rows", (Action.READ,), ProposedRows, query=TablesQuery)}

    def get(self, request: Request) -> Response:
        """Rows proposed from a site's own copies, the newest first, and what became of each."""
        site = _site(request, self.asked(request))
        acts = acts_of(site)
        rows = [
            {name: getattr(row, name) for name in ("id", "document", "reason", "proposed_by", "proposed_at")}
            | {"stands": standing_of(row, acts)}
            for row in proposed_at(site)
        ]
        return Response(ProposedRows({"rows": rows}).data)
