"""The payloads that are kept, each in a file of its own: what was filed, its leaf hash and its signature.

The key that signed them was thrown away, so a payload that somebody changes later cannot be made to hold.
"""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any
from uuid import UUID

from qrecords.proof.canonical import canonical_bytes
from qrecords.steps.standard import STEPS

OLD = Path(__file__).parent / "old"
DOCUMENTED = Path(__file__).parents[2] / "docs" / "entries.md"


@dataclass(frozen=True)
class Kept:
    """One file of `old/`; read as the ledger hands out an entry (`steps.folding.Stated`)."""

    name: str
    content: Mapping[str, Any]

    @property
    def payload(self) -> dict[str, Any]:
        payload: dict[str, Any] = self.content["payload"]
        return payload

    @cached_property
    def bytes(self) -> bytes:
        return canonical_bytes(self.payload)

    @property
    def kind(self) -> str:
        return str(self.payload["kind"])

    @property
    def id(self) -> UUID:
        return UUID(self.payload["id"])

    @property
    def leaf(self) -> str:
        return str(self.content["leaf"])

    @property
    def index(self) -> int:
        return int(self.content["index"])

    @property
    def said(self) -> Mapping[str, Any]:
        said: Mapping[str, Any] = self.payload["body"]["said"]
        return said


def kept() -> list[Kept]:
    return [Kept(path.stem, json.loads(path.read_text())) for path in sorted(OLD.glob("*.json"))]


def one_of(kind: str) -> Kept:
    return next(file for file in kept() if file.kind == kind)


def file_name(kind: str, schema: str | None) -> str:
    """`capture` of `bore/1` → `capture-bore-1`; `file received` → `file-received`."""
    return "-".join([kind.replace(" ", "-"), *(schema.split("/") if schema else [])])


def wanted() -> set[str]:
    """A name for every kind that is written down, and for every step's schema of today."""
    rows = [line for line in DOCUMENTED.read_text().splitlines() if line.startswith("| `")]
    kinds = [kind for row in rows for kind in re.findall(r"`([^`]+)`", row.split("|")[1])]
    named = {file_name(kind, None) for kind in kinds if kind != "capture"}
    return named | {
        file_name("capture", f"{step.id}/{step.version}") for step in STEPS.values() if step.fields
    }
