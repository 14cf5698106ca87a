"""What one person says of one mounting, before it is an entry."""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from qrecords.engineering.tables import BUILT_IN
from qrecords.ledger.envelope import File
from qrecords.ledger.models import Entry
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting
from qrecords.people.stating import Told, state, stated_before


@dataclass(frozen=True, kw_only=True)
class Statement:
    """`said` is what the person stated and binds a replay; what the server works out goes into `seen`. Every
    entry of a mounting pins the procedure it began under and the tables in force."""

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
        return stated_before(self.acting, self.kind, **self._told())

    def file(self, seen: Mapping[str, Any] | None = None, *, schema: str | None = None) -> Entry:
        """Append it, with what the server froze or worked out beside it."""
        return state(self.acting, self.kind, **self._told() | {"seen": seen or {}, "schema": schema})

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
            "tables": BUILT_IN.digest,
        }
