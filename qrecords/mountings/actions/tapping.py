"""Taps: one word and a moment, while the ring is hot. Never refused for their order or their content."""

import uuid
from datetime import timedelta

from qrecords.ledger.append import atomic
from qrecords.ledger.models import Entry
from qrecords.mountings.actions.papering import FromPaper, read_from_paper
from qrecords.mountings.errors import (
    AlreadyTappedError,
    TooLateToUndoError,
    UnknownTapError,
    refuse_closed,
)
from qrecords.mountings.judging import judge
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of
from qrecords.mountings.stating import Statement
from qrecords.people.acting import Acting, require
from qrecords.people.permissions import Action
from qrecords.steps.acts import Tap
from qrecords.steps.case import Case
from qrecords.steps.runs import EVENTS, TAPS
from qrecords.steps.telephone import as_heard

UNDO_SECONDS = 10
ROAD_SECONDS = 5
"""What a tap's undo may lose on the road to the server without becoming too late."""


@atomic()
def tap(
    *,
    acting: Acting,
    mounting: Mounting,
    entry_id: uuid.UUID,
    what: str,
    release: str = "",
    code: str = "",
    after: str | None = None,
    paper: FromPaper | None = None,
) -> Entry:
    """One tap. *heater on* names the leaf hash of the release it relies on, or the one-time code that was
    read back by telephone; heat that names none is recorded and judged. `after` is the newest tap that the
    page showed ('' for none): AlreadyTappedError if the same was tapped since, on another device. `paper`: it
    was written on a sheet, with the time and, at *heater on*, the release as they stand there. RefusedError
    on a closed mounting."""
    require(acting, Action.TAP, mounting.site)
    if what not in TAPS + EVENTS:
        raise UnknownTapError(what, TAPS + EVENTS)
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    case = case_of(locked)
    done = read_from_paper(acting, case, paper)
    said = {"what": what, **done.said()}
    if what == "heater on":
        said |= {"release": release, "code": as_heard(code)}
    tapped = Statement(acting=acting, mounting=locked, kind="tap", id=entry_id, said=said)
    known = tapped.before()
    if known is not None:
        return known
    refuse_closed("tap", case)
    _refuse_second(case, what, after)
    entry = tapped.file(done.seen())
    judge(locked)
    return entry


def _refuse_second(case: Case, what: str, after: str | None) -> None:
    """A page that was shown before somebody else tapped offers the same tap once more."""
    if after is None:
        return
    shown = case.order.get(after, -1)
    since = [made for made in case.taps if made.what == what and case.order[made.entry] > shown]
    if since:
        raise AlreadyTappedError(what, since[-1].entry, since[-1].at, since[-1].author)


@atomic()
def undo(*, acting: Acting, mounting: Mounting, entry_id: uuid.UUID, tap_id: uuid.UUID) -> Entry:
    """Take back one's own tap within ten seconds. The tap stays in the ledger, struck out."""
    require(acting, Action.TAP, mounting.site)
    locked = Mounting.objects.select_for_update().get(id=mounting.id)
    undone = Statement(
        acting=acting,
        mounting=locked,
        kind="tap",
        id=entry_id,
        said={"what": "undo"},
        prev=tap_id,
        reason="undone",
    )
    known = undone.before()
    if known is not None:
        return known
    case = case_of(locked)
    refuse_closed("undo", case)
    _refuse_late(acting, next((t for t in case.taps if t.entry == str(tap_id)), None))
    entry = undone.file()
    judge(locked)
    return entry


def _refuse_late(acting: Acting, struck: Tap | None) -> None:
    """Both clocks must allow it: the device's by the tap, the server's by its receipt."""
    limit = timedelta(seconds=UNDO_SECONDS + ROAD_SECONDS)
    if struck is None or struck.received is None or struck.author != str(acting.author.id):
        raise TooLateToUndoError(UNDO_SECONDS)
    if struck.paper:
        return  # typed from a sheet, it is put right like anything typed: struck out and tapped again
    if acting.act_time - struck.at > limit or acting.now - struck.received > limit:
        raise TooLateToUndoError(UNDO_SECONDS)
