"""Fields, choices and reasons in the fitter's words."""

from collections.abc import Mapping

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.steps.answers import Absent, State
from qrecords.steps.demagnetisation import CYCLE_SECONDS
from qrecords.web import chosen_words

LABELS: Mapping[str, str] = {
    "written.": _("day and time as written"),
    "identification.marking": _("marking, read from the ring itself"),
    "identification.package": _("package until now"),
    "identification.serial": _("serial"),
    "identification.lot": _("lot"),
    "identification.date_code": _("date code"),
    "preparation.edge_burrs": _("burrs on the leading edge"),
    "preparation.shoulder_burrs": _("burrs on the shoulder"),
    "preparation.fillet": _("fillet"),
    "preparation.wiped": _("wiped clean, every filing gone"),
    "preparation.gear_ready": _("all gear at hand"),
    "preparation.zone": _("zone kept clear"),
    "measurement.gauge": _("micrometer"),
    "measurement.master": _("master"),
    "measurement.thermometer": _("thermometer"),
    "measurement.master_before": _("gauge on its master, off by"),
    "measurement.master_after": _("gauge on its master afterwards, off by"),
    "measurement.shaft": _("shaft"),
    "measurement.bearing": _("bearing"),
    "measurement.gauge_temp": _("gauge"),
    "measurement.air": _("air"),
    "measurement.master_temp": _("master, if it differs"),
    "measurement.noted_first": _("noted first, typed after"),
    "measurement.journal": _("journal"),
    "measurement.plane_at": _("from the shoulder to"),
    "bore.source": _("bore of the ring"),
    "bore.gauge": _("bore gauge"),
    "bore.bore": _("bore"),
    "bore.sign_checked": _("bore above zero: sign looked at again"),
    "clearance_before.g0": _("clearance before, G0"),
    "clearance_before.gauge": _("G0 found with"),
    "clearance_before.method": _("G0 felt with"),
    "heating.heater": _("heater"),
    "heating.setup": _("set-up"),
    "heating.probe": _("probe on the"),
    "heating.set_to": _("set to"),
    "heating.own_ceiling": _("the bearing's own ceiling"),
    "heating.own_ceiling_source": _("where that ceiling is written"),
    "heating.peak": _("peak, by the probe"),
    "heating.peak_outer": _("peak, outer ring"),
    "heating.cross_check": _("cross-check, inner ring"),
    "heating.at_seat": _("ring when it met the seat"),
    "demagnetisation.cycle": _("demagnetising cycle, {least} to {most} s"),
    "demagnetisation.field": _("strongest field, ring cold"),
    "demagnetisation.meter": _("field meter"),
    "demagnetisation.where": _("where it was strongest"),
    "seating.film": _("film on the seat"),
    "seating.went_home": _("it went home"),
    "seating.dropped": _("dropped"),
    "seating.hammered": _("hammer used"),
    "seating.held_by": _("held by"),
    "shoulder_gap.feeler": _("feeler set"),
    "shoulder_gap.ring_temp": _("ring now"),
    "shoulder_gap.shaft_temp": _("shaft now"),
    "shoulder_gap.gap": _("gap"),
    "clearance_after.g1": _("clearance left, G1"),
    "clearance_after.gauge": _("G1 found with"),
    "clearance_after.method": _("G1 felt with"),
    "running.turns": _("turned by hand, it runs"),
    "running.turned": _("turned by hand"),
    "running.spot_at": _("tight spot, from the keyway"),
    "running.sound": _("heard while turning"),
    "running.aligns": _("outer ring aligns itself"),
    "protection.covered": _("covered"),
    "protection.wrap": _("wrapped in"),
    **chosen_words.LABELS,
}
CHOICES: Mapping[str, str] = {
    "in an oven, on a plate or in a bath": _("oven, plate or bath"),
    "on a crossbar through the bore": _("crossbar through the bore"),
}
REASONS: tuple[tuple[str, str], ...] = (
    (f"{State.NOT_DONE}|no gauge", _("no gauge")),
    (f"{State.NOT_POSSIBLE}|cannot reach", _("cannot reach")),
    (f"{State.NOT_DONE}|no time", _("no time")),
    (f"{State.NOT_DONE}|other", _("other")),
)
"""Why something was not measured: two taps in all."""
REFUSED_LOG: Mapping[str, str] = {
    "empty": _("it is empty. Write it again."),
    "too-large": _("it is larger than 2 MB: no log of one heating is."),
    "digest-differs": _("other bytes came than were announced. Send it again."),
}
REFUSED_FILE: Mapping[str, str] = {
    "empty": _("it is empty. Take it again."),
    "too-large": _("it is larger than 25 MB. Choose a smaller size in the camera."),
    "not-a-photo": _("it is no picture that can be read here: JPEG, PNG, WebP and HEIC are."),
    "too-many-pixels": _("it has more than 60 million pixels. Choose a smaller size in the camera."),
    "too-many-scans": _("it is built in a way that a picture is not. Take it again."),
    "damaged": _("it broke off on its way. Take it again."),
    "digest-differs": _("other bytes came than were announced. Send it again."),
}


def field_label(name: str) -> str:
    """`step.key` as a person reads it; the place of a reading stands behind: *journal A at 60°*."""
    step, _, key = name.partition(".")
    head, _, place = key.partition(".")
    text = gettext(LABELS.get(f"{step}.{head}", head.replace("_", " ")))
    if name == "demagnetisation.cycle":
        text = text.format(least=CYCLE_SECONDS[0], most=CYCLE_SECONDS[1])
    return f"{text} {place_label(place)}" if place else text


def place_label(place: str) -> str:
    """`A.60` → *A at 60°*; `90` → *at 90°*; `A` → *plane A*; a repeat says which: *A at 60°, 2nd time*."""
    parts = place.split(".")
    if len(parts) == 1 and parts[0].isalpha():
        return gettext("plane {plane}").format(plane=parts[0])
    if len(parts) == 1:
        return gettext("at {angle}°").format(angle=parts[0])
    text = gettext("{plane} at {angle}°").format(plane=parts[0], angle=parts[1])
    return f"{text}, {gettext('time {n}').format(n=parts[2])}" if len(parts) > 2 else text


def choice_label(option: str) -> str:
    return gettext(CHOICES.get(option, option))


def absent_words(absent: Absent) -> str:
    """`not possible: cannot reach`."""
    return f"{choice_label(absent.state)}: {choice_label(absent.reason)}"


def unit_label(unit: str) -> str:
    """`um from 80 mm` → *µm from 80*."""
    return unit.replace("um", "µm").removesuffix(" mm") if " from " in unit else unit.replace("um", "µm")
