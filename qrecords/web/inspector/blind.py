"""The blind second reading: what a photo shows is typed before the record's value is seen.

The marking becomes a check entry of its own. The display is a comparison: whether the photo says what was
typed; nothing is recorded of it, and the reader's session remembers that it was done.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from django.utils.translation import gettext

from qrecords.engineering import units
from qrecords.engineering.errors import EngineeringError
from qrecords.steps.case import Answered, Case
from qrecords.steps.gauges import STEP_ID
from qrecords.steps.sealed import FROM_MARKING, Sealed
from qrecords.web.inspector.rights import Possible
from qrecords.web.photographs import Taken
from qrecords.web.showing import Shown
from qrecords.wording.figures import Figures

UNREADABLE = "-"
NEAR = 10
"""A display of this seat says its nominal size within a tenth (house rule): anything else is a slip or the
display of something else, and would open the readings to whoever types just any figure."""


class NoSizeError(Exception):
    """What was typed for the display is no size of this seat; its text says what is asked."""


def read_display_nm(typed: str, nominal_nm: int) -> int:
    """The size on the display. NoSizeError names what was typed, the unit and the range."""
    low, high = nominal_nm - nominal_nm // NEAR, nominal_nm + nominal_nm // NEAR
    try:
        read_nm = units.read(typed, "length", "mm").base
    except EngineeringError:
        read_nm = 0
    if not low <= read_nm <= high:
        facts = {"typed": typed[:40], "low": f"{low / 1e6:g}", "high": f"{high / 1e6:g}"}
        raise NoSizeError(gettext("Display: “%(typed)s” is no size of %(low)s…%(high)s mm here.") % facts)
    return read_nm


@dataclass(frozen=True)
class Blind:
    """What is kept back from this reader: `marking` until there is an own reading, `readings` until the
    display was read. `heard` is what the reader saw there, `said` how it compares."""

    marking: bool
    readings: bool
    marking_photo: Taken | None
    display_photo: Taken | None
    heard: str = ""
    said: str = ""
    same: bool = False


def blind(
    case: Case, able: Possible, photos: Sequence[Taken], heard: str, figures: Figures, *, due: bool
) -> Blind:
    """Kept back only from whom may check, while the record is open; the display only if there is a photo.
    `due`: the own reading of the marking is still to come."""
    newest = {each.shot: each for each in photos}
    marking, display = newest.get("marking"), newest.get("micrometer")
    typed = [a for a in case.many(STEP_ID, "journal") if case.value_of(STEP_ID, a.key)]
    seen = able.check and display is not None and display.photo is not None and bool(typed)
    seen = seen and not case.amendments  # what was signed once has been read by two
    nominal_nm = case.requirement.nominal_nm
    said, same = compared(heard, typed, nominal_nm, figures) if heard and seen else ("", False)
    return Blind(
        marking=due,
        readings=seen and not said,
        marking_photo=marking,
        display_photo=display if seen else None,
        heard="" if heard == UNREADABLE else heard,
        said=said,
        same=same,
    )


def compared(heard: str, typed: Sequence[Answered], nominal_nm: int, figures: Figures) -> tuple[str, bool]:
    """How what was read off the display stands beside the readings as they were typed; '' for no size."""
    if heard == UNREADABLE:
        return gettext("The display cannot be read: return the photo, or say why it is believed."), False
    try:
        read_nm = read_display_nm(heard, nominal_nm)
    except NoSizeError:
        return "", False
    nearest = min(typed, key=lambda answered: abs(answered.base - read_nm))
    _, plane, direction = nearest.key.split(".")[:3]
    facts = {
        "count": len(typed),
        "place": f"{plane} {direction}°",
        "typed": figures.mm(nearest.base, 3),
        "apart": figures.um(abs(nearest.base - read_nm)),
    }
    if nearest.base == read_nm:
        return gettext("You read what was typed at %(place)s.") % facts, True
    words = gettext(
        "None of %(count)s readings says that. Nearest is %(place)s, typed as %(typed)s mm: "
        "%(apart)s µm away from what you read."
    )
    return words % facts, False


def kept_back(shown: Shown, kept: Blind | Sealed) -> Shown:
    """A finding with everything left out that gives away what the reader is about to read himself. Its
    verdict stays, so that a flag is seen; what is to be decided shows after the reading."""
    sealed = Sealed(kept.marking, kept.readings)
    if not sealed.rule(shown.finding.rule):
        return shown
    marking = shown.finding.rule in FROM_MARKING
    until = gettext("until your own reading.") if marking else gettext("until you have read the display.")
    return replace(
        shown,
        lead=gettext("Hidden"),
        rest=until,
        found=gettext("hidden"),
        limit="",
        margin="",
        times_u="",
        working=None,
        hidden=True,
    )
