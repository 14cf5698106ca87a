"""Rows of the cast's own copy of a standard: proposed by the engineer, approved by the quality manager."""

from typing import Any

from qrecords.ledger.identifiers import new_id
from qrecords.workshop.models import TableRow, TableRowAct
from qrecords.workshop.table_actions import approve_row, propose_row
from tests.cast import Workshop

CLEARANCE: dict[str, Any] = {
    "table": "radial_internal_clearance", "key": ["deep_groove_ball_cyl_bore", "3"], "over_mm": "50",
    "upto_mm": "65", "values": ["24", "44"], "standard": "ISO 5753-1", "edition": "2009",
    "place": "table 2, page 7", "copy": "copy 3, order PO-4471",
}  # fmt: skip
"""As the built-in row, which nobody confirmed, but for a micrometre."""
IT6: dict[str, Any] = {
    **CLEARANCE, "table": "it_grades", "key": ["6"], "upto_mm": "80", "values": ["20"],
    "standard": "ISO 286-1", "edition": "2010",
}  # fmt: skip


def propose(
    shop: Workshop, who: str = "engineer", reason: str = "compared with our copy", **changes: Any
) -> TableRow:
    return propose_row(
        acting=shop.acting(who), site=shop.site, row_id=new_id(), document={**CLEARANCE, **changes},
        reason=reason,
    )  # fmt: skip


def approve(shop: Workshop, row: TableRow, who: str = "quality") -> TableRowAct:
    return approve_row(acting=shop.proved(who), act_id=new_id(), row=row)
