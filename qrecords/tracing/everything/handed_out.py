"""Which export an entry speaks of: handed out to who took it, while he still may."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from qrecords.ledger.models import Entry
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.people.queries import reach
from qrecords.proof.canonical import parse_canonical
from qrecords.tracing.everything.take import EVERY_SITE


@dataclass(frozen=True)
class Taken:
    """`sites` None: all of them. `name`: of the file, without its ending."""

    sites: Sequence[uuid.UUID] | None
    name: str


def handed_out(person: Person, entry_id: uuid.UUID, at: datetime) -> Taken | None:
    """None where this person took no such export, or may take none of it any more. Two queries."""
    entry = Entry.objects.filter(id=entry_id, kind="export").first()
    if entry is None:
        return None
    content = parse_canonical(bytes(entry.payload))
    where = reach(person.id, Action.EXPORT, at)
    every = content["body"]["said"]["of"] == EVERY_SITE
    may = where.everywhere or (not every and entry.site in where.sites)
    if content["author"]["person"] != str(person.id) or not may:
        return None
    day = content["at_server"][:10]
    return Taken(None if every else [entry.site], f"qrecords-{day}-{content['body']['seen']['size']}")
