"""What is left before *ready*: each thing with the page on which it is done."""

from dataclasses import dataclass

from django.urls import reverse

from qrecords.mountings.judging import Judged
from qrecords.mountings.models import Mounting
from qrecords.steps.findings import Finding
from qrecords.steps.standard import RULES
from qrecords.steps.transitions import standing_release
from qrecords.web.fitter.screens import SCREENS, field_of, head, to_come
from qrecords.web.fitter.shots import untaken
from qrecords.web.names import name


@dataclass(frozen=True)
class Left:
    label: str
    href: str


def page_of(mounting: Mounting, judged: Judged, finding: Finding) -> str:
    """The page on which the answer to a finding is given."""
    if finding.rule == "cold-released":
        return _at(mounting, "cold", "hold")
    if finding.rule == "released-before-heat":
        if standing_release(judged.case, "fit") is None:
            return _at(mounting, "measure", "fit")
        return reverse("hot", args=[mounting.id])
    field = field_of(finding)
    for screen in SCREENS.values():
        for part in screen.parts:
            if field in map(head, part.fields):
                return _at(mounting, screen.name, part.name)
    stage = RULES[finding.rule].stage
    return _at(mounting, next(screen.name for screen in SCREENS.values() if screen.stage == stage))


def _at(mounting: Mounting, screen: str, part: str = "") -> str:
    address = reverse(f"fit-{screen}", args=[mounting.id])
    return f"{address}?part={part}" if part else address


def left(mounting: Mounting, judged: Judged) -> tuple[Left, ...]:
    """What nobody has entered yet, in the order of the work, and the photos not taken."""
    told = {"photos-present"} | ({"cold-released"} if standing_release(judged.case, "cold") else set())
    coming = [f for f in to_come(judged.findings) if f.rule not in told]
    answers = [Left(name(f.characteristic), page_of(mounting, judged, f)) for f in coming]
    return tuple(dict.fromkeys(answers)) + photos_left(mounting, judged)


def photos_left(mounting: Mounting, judged: Judged) -> tuple[Left, ...]:
    screens = {part.name: screen.name for screen in SCREENS.values() for part in screen.parts}
    return tuple(
        Left(name(f"photo {shot.id}"), _at(mounting, screens[shot.part], shot.part))
        for shot in untaken(mounting, judged)
    )
