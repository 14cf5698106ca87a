"""Writing a case document: everything of a record that a judgement asks, as it is stored."""

from base64 import b64encode
from collections.abc import Iterable, Mapping
from typing import Any
from unicodedata import is_normalized

from qrecords.engineering.tables import Tables
from qrecords.steps.interchange.form import FORM, VERSION
from qrecords.steps.interchange.laid_over import tables_document
from qrecords.steps.procedure import Procedure
from qrecords.steps.stated import Stated

LOG = "text/csv"


def case_document(
    entries: Iterable[Stated], procedure: Procedure, tables: Tables, logs: Mapping[str, bytes]
) -> dict[str, Any]:
    """The case of one mounting: its entries in ledger order with their leaf hashes, the procedure it began
    under, the tables that judge it and its heating logs by their SHA-256. Read back, it is judged to the same
    digests."""
    return {
        "form": FORM,
        "version": VERSION,
        "procedure": dict(procedure.document),
        "tables": tables_document(tables),
        "entries": [{**entry.payload, "leaf": entry.leaf} for entry in entries],
        "files": {sha256: _file(content) for sha256, content in logs.items()},
    }


def _file(content: bytes) -> dict[str, str]:
    """As text where every reader of it gets the same bytes again, else in base64."""
    try:
        text = content.decode()
    except UnicodeDecodeError:
        text = "\0"
    if "\0" in text or not is_normalized("NFC", text):
        return {"media": LOG, "base64": b64encode(content).decode()}
    return {"media": LOG, "text": text}
