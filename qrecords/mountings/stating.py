"""What one person says of one mounting, before it is an entry."""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from qrecords.ledger.envelope import File
from qrecords.ledger.models import Entry
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import tables_for
from qrecords.people.acting import Acting
from qrecords.people.stating import Told, state, stated_before

BY_RECEIPT = frozenset(
    {
        "release",
        "decision",
        "return",
        "withdrawal",
        "drawing",
        "signature",
        "re-review",
        "amendment",
        "judgement",
        "elsewhere",
    }
)
"""What has the server's time alone: acts of authority and what the server says. A device chooses its own."""


@dataclass(frozen=True, kw_only=True)
class Statement:
    """`said` is what the person stated and binds a replay; what the server works out goes into `seen`. Every
    entry of a mounting pins the procedure it began under and the tables that judge it."""

    acting: Acting
    mounting: Mounting
    kind: str
    id: uuid.UUID
    said: Mapping[str, Any] = field(default_factory=dict)
    files: tuple[File, ...] = ()
    prev: uuid.UUID | None = None
    reason: str | None = None

    def before(self) -> Entry | None:
        """The entry that says this already: what is sent again is not judged again."""
        return stated_before(self._acting(), self.kind, **self._told())

    def file(self, seen: Mapping[str, Any] | None = None, *, schema: str | None = None) -> Entry:
        """Append it, with what the server froze or worked out beside it."""
        return state(self._acting(), self.kind, **self._told() | {"seen": seen or {}, "schema": schema})

    def _acting(self) -> Acting:
        return replace(self.acting, at_device=None) if self.kind in BY_RECEIPT else self.acting

    def _told(self) -> Told:
        return {
            "id": self.id,
            "site": self.mounting.site,
            "mounting": self.mounting.id,
            "said": self.said,
            "files": self.files,
            "prev": self.prev,
            "reason": self.reason,
            "procedure": self.mounting.procedure_digest,
            "tables": tables_for(self.mounting).digest,
        }
