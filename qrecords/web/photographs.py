"""The photos of a record: by shot, with what is known of each, and those that came after the signature."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from django.http.response import HttpResponseBase
from django.urls import reverse
from django.utils.translation import gettext

from qrecords.evidence.models import StoredFile
from qrecords.steps import acts
from qrecords.steps.case import Case
from qrecords.steps.standard import STEPS
from qrecords.web.marked import drawn_on
from qrecords.web.moments import moment
from qrecords.web.names import SHOTS
from qrecords.web.parts import Photo

STEP_OF_RULE: Mapping[str, str] = {rule.id: step.id for step in STEPS.values() for rule in step.rules}
"""The step whose photos lie beside a finding."""
SANDBOX = "default-src 'none'; sandbox"


def sandboxed(answer: HttpResponseBase) -> None:
    """What a file from outside is sent with: nothing in it runs, and nobody guesses another type for it."""
    answer["Content-Security-Policy"] = SANDBOX
    answer["X-Content-Type-Options"] = "nosniff"
    answer["Cache-Control"] = "private, max-age=86400, immutable"


@dataclass(frozen=True)
class Taken:
    """One photo as shown. `photo` is None while its picture is not made or it has not arrived; `note` says
    which."""

    shot: str
    sha256: str
    name: str
    photo: Photo | None
    note: str
    after_signature: bool


def taken(
    case: Case,
    stored: Mapping[str, StoredFile],
    zone: str,
    edge_px: int = 1600,
    *,
    draw: bool = False,
    signed: bool = False,
) -> list[Taken]:
    """Every photo the record names, in the order it named them, with what is drawn on a copy of it. `draw`
    leads to where one draws; `signed` shows what stood at the signature alone."""
    found = [_taken(case, photo, stored, zone, edge_px) for photo in case.photos]
    return [_marked(case, each, draw=draw, signed=signed) for each in found]


def _marked(case: Case, found: Taken, *, draw: bool, signed: bool) -> Taken:
    if found.photo is None:
        return found
    drawn = drawn_on(case, found.sha256, signed=signed)
    words = found.photo.caption
    if drawn:
        words += " · " + gettext("drawn on a copy: {marks}").format(marks=drawn.words)
    address = reverse("photo-marks", args=[case.mounting, found.sha256]) if draw else ""
    return replace(found, photo=replace(found.photo, caption=words, drawn=drawn, draw=address))


def _taken(case: Case, photo: acts.Photo, stored: Mapping[str, StoredFile], zone: str, edge_px: int) -> Taken:
    name = gettext(SHOTS.get(photo.shot, photo.shot))
    file = stored.get(photo.sha256)
    note = "" if file else gettext("taken, not yet received")
    if file is not None and file.recipe is None:
        note = gettext("received; its picture is being made")
    shown = None
    if not note:
        source = gettext("camera") if photo.camera else gettext("gallery")
        caption = f"{name} · {source}, {moment(photo.at, zone)}"
        if photo.after_signature:
            caption += " · " + gettext("after signature")
        shown = Photo(
            src=reverse("photo", args=[case.mounting, photo.sha256, edge_px]),
            alt=name,
            caption=caption,
            enlarge=reverse("photo", args=[case.mounting, photo.sha256, "1600"]),
        )
    return Taken(photo.shot, photo.sha256, name, shown, note, photo.after_signature)


def beside(case: Case, rule: str, photos: Iterable[Taken]) -> tuple[Taken, ...]:
    """The newest photo of each shot that belongs to the rule's step."""
    step = STEP_OF_RULE.get(rule, "")
    shots = [shot.id for shot in case.procedure.shots if shot.step == step]
    newest = {each.shot: each for each in photos if each.shot in shots}
    return tuple(newest[shot] for shot in shots if shot in newest)
