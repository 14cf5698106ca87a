"""The wanted photos of a page, and how each stands."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext

from qrecords.evidence.derivatives import path_of
from qrecords.mountings.judging import Judged
from qrecords.mountings.models import Mounting
from qrecords.steps.acts import LOG_SHOT
from qrecords.web.chosen_words import CHOSEN
from qrecords.web.names import SHOTS

PART_OF_STEP: Mapping[str, str] = {
    "identification": "ring",
    "preparation": "ring",
    "measurement": "bore",
    "heating": "set-up",
    "seating": "seat",
    "shoulder_gap": "gap",
    "protection": "close",
}


def part_of(step: str) -> str:
    """The part of a screen on which the shots of a step are taken; a chosen step has its own."""
    return PART_OF_STEP.get(step, step if step in CHOSEN else "ring")


THUMB_PX = 320


@dataclass(frozen=True)
class WantedShot:
    """`received` counts the photos that are here, `thumbs` are the addresses of their small pictures so far
    as they are made; `waiting` counts those announced and not yet here."""

    id: str
    label: str
    received: int
    thumbs: tuple[str, ...]
    waiting: int
    part: str
    """The part of a screen on which it is taken."""
    drawing: tuple[tuple[str, str], ...] = ()
    """Beside each small picture the page on which one draws on a copy of it."""

    @property
    def taken(self) -> bool:
        return bool(self.received or self.waiting)


def shots(mounting: Mounting, judged: Judged, part: str = "") -> tuple[WantedShot, ...]:
    """The shots of one part, or all of them."""
    found = []
    for shot in judged.case.procedure.shots:
        if shot.id == LOG_SHOT:  # a file of the heater's, handed in on its own page
            continue
        if part and part_of(shot.step) != part:
            continue
        photos = [photo for photo in judged.case.photos if photo.shot == shot.id]
        here = dict.fromkeys(photo.sha256 for photo in photos if photo.received)
        made = [sha256 for sha256 in here if path_of(sha256, THUMB_PX)]
        thumbs = tuple(reverse("photo", args=[mounting.id, sha256, str(THUMB_PX)]) for sha256 in made)
        draw = (reverse("photo-marks", args=[mounting.id, sha256]) for sha256 in made)
        waiting = len({photo.sha256 for photo in photos} - set(here))
        found.append(
            WantedShot(
                shot.id,
                gettext(SHOTS.get(shot.id, shot.id)),
                len(here),
                thumbs,
                waiting,
                part_of(shot.step),
                tuple(zip(thumbs, draw, strict=True)),
            )
        )
    return tuple(found)


def untaken(mounting: Mounting, judged: Judged) -> tuple[WantedShot, ...]:
    return tuple(shot for shot in shots(mounting, judged) if not shot.taken)
