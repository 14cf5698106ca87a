"""Which spacer, sleeve, nut, plating job or lubricant batch went into a mounting."""

import uuid

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import refuse_closed
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Mounting, PartUse
from qrecords.mountings.queries import case_of
from qrecords.mountings.stating import Statement
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.lines import optional_line
from qrecords.workshop.models import Part


@atomic()
def use_part(
    *, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, part: Part, place: str = ""
) -> Entry:
    """A part went into this mounting, `place` where. It is work, as every other fact of it; RefusedError once
    the mounting is signed off or closed. What the register said of the part is frozen beside it."""
    require(acting, Action.RECORD, mounting.site)
    if part.site != mounting.site:
        raise UnknownObjectError("part", part.id)
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    said = {"part": str(part.id), "place": optional_line("place", place, 80)}
    using = Statement(acting=acting, mounting=locked, kind="part used", id=entry_id, said=said)
    known = using.before()
    if known is not None:
        return known
    refuse_closed("record", case_of(locked))
    entry = using.file({"kind": part.kind, "name": part.name, "lot": part.lot})
    PartUse.objects.create(id=entry_id, part=part, mounting=locked, place=said["place"])
    judge(locked)
    return entry
