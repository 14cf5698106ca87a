"""Names of things as people read them: characteristics, fields, steps, shots."""

import re
from collections.abc import Mapping

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.web import chosen_words

NAMES: Mapping[str, str] = {
    "ring marking": _("Ring marking"),
    "serial as ordered": _("Serial as ordered"),
    "lot as ordered": _("Lot as ordered"),
    "date code as ordered": _("Date code as ordered"),
    "inspector's reading": _("Marking, inspector's own reading"),
    "package-intact": _("Package"),
    "edge-burrs": _("Burrs, leading edge"),
    "shoulder-burrs": _("Burrs, shoulder"),
    "fillet-clears": _("Fillet"),
    "wiped-clean": _("Wiped clean"),
    "gear-ready": _("Gear at hand"),
    "zone-kept": _("Zone kept"),
    "journal size": _("Journal, worst reading"),
    "journal readings": _("Journal, all readings"),
    "journal roundness": _("Journal, roundness, half"),
    "journal taper": _("Journal, taper, half"),
    "bore": _("Bore of the ring"),
    "interference": _("Interference, least / most"),
    "clearance before": _("Clearance before the fit"),
    "clearance forecast": _("Clearance left, forecast"),
    "clearance found": _("Clearance found"),
    "clearance as forecast": _("Clearance against forecast"),
    "fit released before heat": _("Released before heat"),
    "heater": _("Heater"),
    "set-up": _("Set-up on the heater"),
    "probe-on-inner-ring": _("Probe on the inner ring"),
    "peak temperature": _("Peak, inner ring"),
    "heating log": _("Heating log"),
    "heating log peak": _("Heating log, never above"),
    "heating log peak, outer ring": _("Heating log, outer ring"),
    "heating log peak, elsewhere": _("Heating log, beside the rings"),
    "heating log as typed": _("Heating log against the typed peak"),
    "heating log as typed, outer ring": _("Heating log of the outer ring against the typed peak"),
    "heating log as typed, elsewhere": _("Heating log beside the rings against the typed peak"),
    "heating log and taps": _("Heating log against the taps"),
    "heating log and heater": _("Heating log against the heater's power"),
    "ring difference": _("Inner hotter than outer"),
    "could have slid on": _("Could it have slid on"),
    "demagnetising cycle": _("Demagnetising cycle"),
    "residual field": _("Residual field"),
    "seat-film": _("Film on the seat"),
    "went home": _("Went home"),
    "not dropped": _("Not dropped"),
    "not-hammered": _("Hammer used"),
    "held": _("How held"),
    "pressed home": _("Pressed home"),
    "cold when checked": _("Cold when checked"),
    "shoulder gap": _("Shoulder gap"),
    "gaps on one plane": _("Gaps on one plane"),
    "turns-freely": _("Turned by hand"),
    "order in time, measurement": _("Order in time, journal"),
    "order in time, bore": _("Order in time, bore"),
    "order in time, clearance_before": _("Order in time, clearance before"),
    "order in time, shoulder_gap": _("Order in time, shoulder gap"),
    "order in time, clearance_after": _("Order in time, clearance found"),
    "order in time, running": _("Order in time, running check"),
    "heat in the time": _("Heat in the time"),
    "runs-quietly": _("Heard while turning"),
    "aligns-itself": _("Outer ring aligns itself"),
    "covered": _("Covered"),
    "cold check released": _("Cold check released before covering"),
    "heatings of this bearing": _("Heatings of this bearing"),
    "speed of readings": _("Speed of readings"),
    "same digits at both ends": _("Same digits at both ends"),
    "one temperature": _("One temperature"),
    **chosen_words.NAMES,
    "master check": _("Gauge on its master"),
}
SHOTS: Mapping[str, str] = {
    "marking": _("ring marking"),
    "package": _("box label and ring"),
    "seat": _("seat all round"),
    "micrometer": _("micrometer on the shaft, display legible"),
    "probe": _("probe on the inner ring"),
    "held": _("bearing held against the shoulder"),
    "blade": _("blade at the shoulder"),
    "covered": _("covered bearing"),
    "field": _("field meter on the ring"),
    "heating log": _("the heater's log"),
    "paper_sheet": _("the paper sheet"),
    **chosen_words.SHOTS,
}
FIELDS: Mapping[str, str] = {
    "machine_name": _("machine"),
    "nominal": _("nominal d"),
    "shaft_class": _("class"),
    "bore_class": _("class of the bore"),
    "outside": _("D"),
    "width": _("B"),
    "size_source": _("where D and B were taken from"),
    "shaft_bore": _("hollow shaft"),
    "limit_upper": _("upper limit"),
    "limit_lower": _("lower limit"),
    "bore_upper": _("upper limit of the bore"),
    "bore_lower": _("lower limit of the bore"),
    "bore_source": _("where the limits of the bore are written"),
    "limits": _("limits of this drawing"),
    "interference_least": _("interference from"),
    "interference_most": _("interference to"),
    "clearance_least": _("least clearance left"),
    "clearance_min": _("least clearance left"),
    "clearance_kind": _("clearance table"),
    "raceway": _("inner raceway"),
    "stabilised": _("stabilised to"),
    "kinds": _("kind of bearing"),
    "scheme": _("statutory scheme"),
    "released_by": _("who releases it under that scheme"),
    "to": _("handed over to"),
    "by": _("who wrote it"),
    "written": _("time as written"),
    "sha256": _("photo"),
    "expanded_u": _("U (k = 2)"),
    "range": _("sizes it measures"),
    "heater_kind": _("kind of heater"),
    "power": _("rated power"),
    "sign_in": _("sign-in name"),
}
"""Fields of registers, drawings and people, where their page calls them otherwise than their key does."""
ABOUT_PHOTOS: Mapping[str, str] = {"in time": _("taken in time"), "used before": _("used before")}


def field_name(field: str) -> str:
    """A field of a register, a drawing or a person by the name on its page; its unit stands at its value."""
    bare = re.sub("_(?:mm|um|nm|kg|c|w)$", "", field)
    return gettext(FIELDS.get(bare, bare.replace("_", " ")))


def hold_name(hold: str) -> str:
    """`before heat`, `cold check`."""
    built_in = {"fit": gettext("before heat"), "cold": gettext("cold check")}
    return built_in.get(hold, hold.replace("-", " "))


def amendment_name(number: int) -> str:
    """`amendment 2 of the signed record`."""
    return gettext("amendment %(n)s of the signed record") % {"n": number}


def name(characteristic: str) -> str:
    """A characteristic by its printed name; gauges, photos and competences name themselves."""
    told, _of, number = characteristic.partition(", heating ")
    if number:
        return gettext("{name}, heating {number}").format(name=name(told), number=number)
    logged = re.fullmatch(r"(heating log.*) ([0-9]+)", characteristic)
    if logged:
        return gettext("{name}, log {number}").format(name=name(logged[1]), number=logged[2])
    if characteristic.startswith("photo "):
        shot, _of, about = characteristic.removeprefix("photo ").partition(" ")
        named = gettext("Photo: {shot}").format(shot=gettext(SHOTS.get(shot, shot)))
        return f"{named}, {gettext(ABOUT_PHOTOS.get(about, about))}" if about else named
    return gettext(NAMES.get(characteristic, characteristic[:1].upper() + characteristic[1:]))
