"""The look-backs that touch a mounting, as they stand beside its record: whoever signs sees what is open."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext

from qrecords.mountings.look_backs import look_backs_on, open_look_backs
from qrecords.mountings.models import Mounting
from qrecords.web import parts
from qrecords.web.look_backs.words import CLASS_WORDS, frame_of, is_open, subject_of, window_of
from qrecords.workshop.models import LookBack
from qrecords.workshop.queries import zone_of_site


@dataclass(frozen=True)
class Beside:
    """One look-back: of what, between when, its class for this mounting ('' while it is not judged yet or is
    kept back from the reader)."""

    title: str
    window: str
    open: bool
    word: str
    verdict: parts.Verdict | None
    href: str


def beside(mounting: Mounting, *, sealed: bool = False, only_open: bool = False) -> tuple[Beside, ...]:
    """Those that judged it, and those that are open and will. Four queries at most."""
    told = look_backs_on([mounting.id]).get(mounting.id, [])
    judged = {row.id: result for row, result in told}
    rows: dict[uuid.UUID, LookBack] = {row.id: row for row, _result in told}
    rows |= {row.id: row for row in open_look_backs(mounting)}
    if not rows:
        return ()
    zone = zone_of_site(mounting.site)
    return tuple(
        _beside(row, judged[row.id].verdict if row.id in judged else "", mounting, zone, sealed=sealed)
        for row in sorted(rows.values(), key=lambda row: row.opened_at)
        if is_open(row) or not only_open
    )


def _beside(row: LookBack, verdict: str, mounting: Mounting, zone: str, *, sealed: bool) -> Beside:
    page = "look-back-mounting" if verdict and not sealed else "look-back"
    args = [row.id, mounting.id] if verdict and not sealed else [row.id]
    shown = "" if sealed else verdict
    return Beside(
        subject_of(row),
        window_of(row, zone),
        is_open(row),
        gettext(CLASS_WORDS[shown]) if shown else "",
        frame_of(shown) if shown else None,
        reverse(page, args=args),
    )


def of_piece(rows: Sequence[LookBack], zone: str) -> list[Beside]:
    """The look-backs of one piece of equipment."""
    return [_of_piece(row, zone) for row in rows]


def _of_piece(row: LookBack, zone: str) -> Beside:
    href = reverse("look-back", args=[row.id])
    return Beside(subject_of(row), window_of(row, zone), is_open(row), "", None, href)
