"""Case documents: the examples of the manual, and a record of the casebook as a ledger would hold it."""

import copy
import json
from pathlib import Path
from typing import Any

from qrecords.proof.canonical import canonical_bytes
from qrecords.proof.merkle import leaf_hash
from qrecords.steps.interchange.answer import judgement
from qrecords.steps.interchange.faults import CaseFaultsError, Fault
from qrecords.steps.interchange.form import FORM, VERSION
from qrecords.steps.interchange.reading import read_case
from tests.steps.casebook import Book

DOCS = Path(__file__).parents[3] / "docs"
EXAMPLES = {path.stem: path for path in sorted((DOCS / "cases").glob("*.json"))}


def example(name: str) -> Any:
    return json.loads(EXAMPLES[name].read_text())


def as_bytes(document: Any) -> bytes:
    return json.dumps(document, ensure_ascii=False).encode()


def judged(document: Any) -> dict[str, Any]:
    return judgement(read_case(as_bytes(document)), "test")


def faults_of(document: Any) -> tuple[Fault, ...]:
    """What is wrong with a document, or with bytes that are none."""
    try:
        judgement(read_case(document if isinstance(document, bytes) else as_bytes(document)), "test")
    except CaseFaultsError as error:
        return error.faults
    return ()


def changed(document: Any, at: str, value: Any) -> Any:
    """A copy with another value at a pointer; `...` takes it away."""
    made = copy.deepcopy(document)
    *way, last = [part.replace("~1", "/").replace("~0", "~") for part in at.split("/")[1:]]
    place = made
    for part in way:
        place = place[int(part)] if isinstance(place, list) else place[part]
    key: Any = int(last) if isinstance(place, list) else last
    if value is ...:
        del place[key]
    else:
        place[key] = value
    return made


def stored(book: Book) -> dict[str, Any]:
    """The record as the ledger's own case document."""
    names = {line.leaf: line.id for line in book.lines}
    leaves: dict[str, str] = {}
    entries = []
    for line in book.lines:
        payload = copy.deepcopy(dict(line.payload))
        said = payload["body"]["said"]
        if said.get("release"):
            said["release"] = leaves[names[said["release"]]]
        payload |= {"v": 1, "kind": line.kind, "id": line.id, "site": "s", "versions": {"app": "0.1.0"}}
        leaves[line.id] = leaf_hash(canonical_bytes(payload)).hex()
        entries.append({**payload, "leaf": leaves[line.id]})
    return {"form": FORM, "version": VERSION, "procedure": book.procedure, "entries": entries}
