"""Drawing on a copy of a photo: arrows, circles and words as numbers. The photo itself is never touched."""

import uuid
from collections.abc import Mapping, Sequence
from typing import Any

from qrecords.ledger.append import atomic
from qrecords.ledger.errors import NotRecordedError
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import NeedsReasonError
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.mountings.stating import Statement
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.steps.errors import FieldError, LineError
from qrecords.steps.marks import read_marks


@atomic()
def mark_photo(
    *,
    acting: Acting,
    mounting: Mounting,
    entry_id: uuid.UUID,
    sha256: str,
    marks: Sequence[Mapping[str, Any]],
    instead_of: uuid.UUID | None = None,
    reason: str = "",
) -> Entry:
    """Draw on a photo. FieldError or LineError names what cannot be drawn. `instead_of` names the drawing
    that this one takes the place of, with a reason (NeedsReasonError); no marks at all take it away. After
    the signature it is kept, and shown as that."""
    require(acting, Action.ATTACH, mounting.site)
    drawn = read_marks(marks)
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    case = case_of(locked)
    if sha256 not in {photo.sha256 for photo in case.photos}:
        raise FieldError("sha256", sha256, "", "a photo of this mounting")
    if not drawn and instead_of is None:
        raise LineError("marks", 1, "", "", "an arrow, a circle or words", "")
    if instead_of is not None:
        if str(instead_of) not in {each.entry for each in case.marks if each.sha256 == sha256}:
            raise NotRecordedError(instead_of)
        if not reason.strip():
            raise NeedsReasonError(("marks",), str(instead_of))
    drawing = Statement(
        acting=acting,
        mounting=locked,
        kind="photo marks",
        id=entry_id,
        said={"sha256": sha256, "marks": [mark.document() for mark in drawn]},
        prev=instead_of,
        reason=reason.strip() or None,
    )
    entry = drawing.file()
    judge(locked)
    return entry
