"""From an act to an entry: the one place where an envelope is filled in."""

import uuid
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

from qrecords.ledger.append import append
from qrecords.ledger.models import Entry
from qrecords.people import queries
from qrecords.people.acting import Acting

APP_VERSION = "0.1.0"


def instant(moment: datetime) -> str:
    """UTC, ISO 8601, milliseconds."""
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.") + f"{moment.microsecond // 1000:03d}Z"


def state(
    acting: Acting,
    kind: str,
    *,
    id: uuid.UUID,
    site: uuid.UUID,
    said: Mapping[str, Any],
    seen: Mapping[str, Any] | None = None,
    mounting: uuid.UUID | None = None,
    about: tuple[str, uuid.UUID] | None = None,
    files: Sequence[Mapping[str, Any]] = (),
    prev: uuid.UUID | None = None,
    reason: str | None = None,
    versions: Mapping[str, str] | None = None,
) -> Entry:
    """Append what one person states. `about` names a register object; `mounting` a mounting.

    `said` is what the person stated, `seen` what the server froze beside it. Raises the ledger's
    DifferentContentError when the id was used before for something else.
    """
    sender = acting.sender or acting.author
    envelope = {
        "v": 1,
        "kind": kind,
        "id": str(id),
        "site": str(site),
        "mounting": str(mounting) if mounting else None,
        "object": {"type": about[0], "id": str(about[1])} if about else None,
        "author": queries.stamp(acting.author, acting.now),
        "sender": queries.stamp(sender, acting.now),
        "device": acting.device,
        "counter": acting.counter,
        "identity": acting.identity,
        "at_device": instant(acting.act_time),
        "at_server": instant(acting.now),
        "zone": acting.zone,
        "versions": {"app": APP_VERSION, "schema": "", "procedure": "", "tables": "", **(versions or {})},
        "body": {"said": dict(said), "seen": dict(seen or {})},
        "files": [dict(file) for file in files],
        "prev": str(prev) if prev else None,
        "reason": reason,
        "known": acting.known,
    }
    return append(envelope)
