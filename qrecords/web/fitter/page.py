"""What every page of one mounting shows: strip, title block, step strip, safety wording."""

from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.judging import Judged
from qrecords.mountings.models import Mounting
from qrecords.people.models import Person
from qrecords.people.queries import names
from qrecords.steps.shown import shown_now
from qrecords.steps.transitions import State, standing_release, state_of
from qrecords.web import parts
from qrecords.web.fitter.decided import decided
from qrecords.web.fitter.screens import SCREENS, Screen, ended, label
from qrecords.web.heading import scheme_words, unread_line
from qrecords.web.names import amendment_name, name
from qrecords.web.showing import FIGURES

FIRST: dict[str, str] = {
    "heat": _("Anyone with a pacemaker or other implant, or who is pregnant, stays outside the marked zone."),
    "cold": _("Never tap a ring on cold."),
}
"""The sentence of a screen that comes before the whole wording."""
CAUTIONS = (
    _(
        "Anyone with a pacemaker or other implanted or worn medical device, or who is pregnant, stays "
        "outside the marked zone unless individually assessed by the employer. No one is asked here."
    ),
    _("Bare metal from about 65 °C burns in a second. Gloves on; rings and watches off; no loose sleeves."),
    _("Oil bath: mind the flash point, keep a fire watch, no water. Never an open flame on a ring."),
)


@dataclass(frozen=True)
class Moment:
    """Times as the device's clock shows them."""

    zone: tzinfo

    def clock(self, at: datetime) -> str:
        return at.astimezone(self.zone).strftime("%H:%M")

    def seconds(self, at: datetime) -> str:
        return at.astimezone(self.zone).strftime("%H:%M:%S")

    def day(self, at: datetime) -> str:
        return at.astimezone(self.zone).strftime("%Y-%m-%d %H:%M")


def moment_of(request: HttpRequest) -> Moment:
    """The zone the device told in its cookie, else the installation's."""
    try:
        return Moment(ZoneInfo(request.COOKIES.get("zone", "") or settings.TIME_ZONE))
    except (KeyError, ValueError, OSError):
        return Moment(ZoneInfo(settings.TIME_ZONE))


def strip(person: Person, now: datetime, moment: Moment) -> parts.Strip:
    return parts.Strip(names([person.id])[str(person.id)], moment.clock(now))


def place(mounting: Mounting) -> str:
    """Owner, machine, shaft where there is more than one, and position: never cut off."""
    journal = mounting.journal
    words = [journal.machine.owner, journal.machine.name, journal.position]
    if journal.shaft != "1":
        words.insert(2, gettext("shaft {n}").format(n=journal.shaft))
    return " · ".join(words)


def seat(judged: Judged) -> parts.Cell:
    asked = judged.case.requirement
    size = f"{asked.nominal_mm.normalize():f} {asked.shaft_class}".strip()
    upper = FIGURES.deviation_um(asked.journal.upper_nm)
    return parts.Cell(
        gettext("seat"), size, upper=upper, lower=FIGURES.deviation_um(asked.journal.lower_nm), unit="µm"
    )


def title_block(
    mounting: Mounting, judged: Judged, third: parts.Cell | None = None
) -> tuple[parts.Cell, ...]:
    return (
        parts.Cell(
            gettext("mounting"), mounting.number, strong=True, href=reverse("sheet", args=[mounting.id])
        ),
        parts.Cell(gettext("bearing"), mounting.bearing.designation),
        third or seat(judged),
        parts.Cell(gettext("place"), place(mounting), own_row=True),
    )


def step_strip(mounting: Mounting, judged: Judged, here: Screen) -> tuple[parts.Step, ...]:
    found = []
    for screen in SCREENS.values():
        state = "here" if screen.name == here.name else "done" if ended(judged, screen) else "later"
        hold = ""
        if screen.hold in judged.case.procedure.holds:
            hold = "released" if standing_release(judged.case, screen.hold) else "open"
        href = reverse(f"fit-{screen.name}", args=[mounting.id])
        found.append(parts.Step(label(screen), state, "" if state == "here" else href, hold))
    return tuple(found)


def safety(
    mounting: Mounting, screen_name: str, *, long_hold: bool = False, before_heat: bool = False
) -> parts.Safety:
    """The wording of every page that guides work, with the machine's statutory scheme. On the page from
    which heat is switched on (`before_heat`) it stands open, the notice of the zone above the tap."""
    words = scheme_words(mounting.journal.machine)
    hot = screen_name in ("heat", "hot")
    return parts.Safety(
        gettext(FIRST.get(screen_name, "")) if screen_name in FIRST else "",
        words,
        long_hold,
        tuple(gettext(caution) for caution in CAUTIONS[before_heat:]) if hot else (),
        notice=gettext(CAUTIONS[0]) if before_heat else "",
    )


def given_back(judged: Judged) -> list[tuple[str, str]]:
    """What the newest return is about, by its name, and why; nothing once it was answered. A signed record
    that was opened for an amendment says what has to change."""
    state = state_of(judged.case)
    if state == State.AMENDING:
        amendment = judged.case.amendments[-1]
        return [(amendment_name(amendment.number), amendment.reason)]
    if state != State.RETURNED:
        return []
    return [(name(about), reason) for about, reason in judged.case.returns[-1].items]


def frame(
    request: HttpRequest, person: Person, mounting: Mounting, judged: Judged, screen: Screen, now: datetime
) -> dict[str, Any]:
    """The context that all pages of a mounting share."""
    moment = moment_of(request)
    return {
        "strip": strip(person, now, moment),
        "title_block": title_block(mounting, judged),
        "steps": step_strip(mounting, judged, screen),
        "safety": safety(mounting, screen.name),
        "mounting": mounting,
        "unread": unread_line(judged.case),
        "screen": screen,
        "returned": given_back(judged),
        "decided": decided(judged, screen.stage, moment.day),
        "has_points": bool(judged.case.procedure.points),
        "entry_id": new_id(),
        "shown": shown_now(judged.case),
        "gloves": request.COOKIES.get("gloves") == "1",
        "left_handed": request.COOKIES.get("left_handed") == "1",
        "theme": request.COOKIES.get("theme", ""),
    }
