"""The start of a shift: gauges, masters, meters, feelers, heater and climate recorded once, for the mountings
of the next hours to refer to. It pre-fills; it answers nothing in any of them."""

import uuid
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

from qrecords.ledger.append import atomic
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.people.stating import state
from qrecords.steps.answers import Value
from qrecords.steps.errors import FieldError
from qrecords.steps.shift import BY_ID
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import ShiftStart
from qrecords.workshop.queries import frozen_gear

SHIFT = timedelta(hours=12)
"""As long a night shift is one shift."""
MOST_PIECES = 40


@atomic()
def start_shift(
    *,
    acting: Acting,
    site: uuid.UUID,
    shift_id: uuid.UUID,
    gear: Sequence[uuid.UUID],
    climate: Mapping[str, Value],
) -> ShiftStart:
    """Record what this person has at hand for the shift. A second start is another one: the newest counts.
    RegisterFieldError for a piece that is not of this site, or where nothing is said at all."""
    require(acting, Action.RECORD, site)
    pieces = list(dict.fromkeys(str(piece) for piece in gear))
    frozen = frozen_gear(pieces, acting.act_time, site)
    unknown = [piece for piece in pieces if piece not in frozen]
    if unknown or len(pieces) > MOST_PIECES:
        raise RegisterFieldError(
            "gear", ", ".join(unknown)[:60], "pieces registered at this site, 40 at most"
        )
    said = {"gear": pieces, "climate": {name: answer.document() for name, answer in climate.items()}}
    if not pieces and not climate:
        raise RegisterFieldError("gear", "", "a piece of equipment, or the climate")
    about = ("shift start", shift_id)
    state(acting, "shift start", id=shift_id, site=site, about=about, said=said, seen={"gear": frozen})
    row, _ = ShiftStart.objects.get_or_create(
        id=shift_id,
        defaults={"site": site, "person": acting.author.id, "at": acting.act_time, "document": said},
    )
    return row


def read_climate(
    typed: Mapping[str, tuple[str, str]], sure: frozenset[str] = frozenset()
) -> dict[str, Value]:
    """Climate as typed, (text, unit) by field; what is blank is not said. FieldError asks back, a slip unless
    it is `sure`."""
    found = {}
    for name, (text, unit) in typed.items():
        if name not in BY_ID:
            raise FieldError(name, text, unit, " or ".join(BY_ID))
        if text.strip():
            found[name] = BY_ID[name].parse(text, unit, sure=name in sure)
    return found


def shift_of(person: uuid.UUID, site: uuid.UUID, at: datetime) -> ShiftStart | None:
    """The start of the shift a person is in at a moment; one query."""
    rows = ShiftStart.objects.filter(person=person, site=site, at__lte=at, at__gt=at - SHIFT)
    return rows.order_by("-at", "-id").first()


def air_of(row: ShiftStart) -> Mapping[str, Any] | None:
    """The air as it was typed there."""
    found: Mapping[str, Any] | None = row.document["climate"].get("air")
    return found
