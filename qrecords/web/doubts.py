"""What no second source confirms, in words: the row of a table as people name it, and what it rests on.

A finding keeps each doubt as one text, a row of a table by the names of the table and its key; old judgements
hold the same texts, so they are put into words here and nowhere changed.
"""

import re
from collections.abc import Mapping

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.wording.figures import ELLIPSIS

ROW = re.compile(
    r"(?P<standard>ISO [\d-]+:\d+) (?P<table>\w+) (?P<key>.*) over (?P<over>\S+) to (?P<upto>\S+) mm"
)
TABLES: Mapping[str, str] = {
    "it_grades": _("standard tolerance, grade %(key)s"),
    "hole_delta": _("addition for holes, grade %(key)s"),
    "shaft_fundamental_deviations": _("fundamental deviation of shafts, %(key)s"),
    "hole_fundamental_deviations": _("fundamental deviation of holes, %(key)s"),
    "bearing_bore_tolerance": _("bore of bearings, class %(key)s"),
    "bearing_od_tolerance": _("outside diameter of bearings, class %(key)s"),
    "radial_internal_clearance": _("radial clearance, %(key)s"),
    "boundary_dimensions": _("boundary dimensions, series and bore code %(key)s"),
}
KINDS: Mapping[str, str] = {
    "deep_groove_ball_cyl_bore": _("deep groove ball bearing"),
    "self_aligning_ball_cyl_bore": _("self-aligning ball bearing, cylindrical bore"),
    "self_aligning_ball_tapered_bore": _("self-aligning ball bearing, tapered bore"),
    "spherical_roller_cyl_bore": _("spherical roller bearing, cylindrical bore"),
    "spherical_roller_tapered_bore": _("spherical roller bearing, tapered bore"),
    "cylindrical_roller_cyl_bore": _("cylindrical roller bearing"),
}


def doubt(text: str) -> str:
    """`ISO 5753-1:2009 radial_internal_clearance … 3 over 50 to 65 mm` → *radial clearance, deep groove ball
    bearing, group C3, 50…65 mm (ISO 5753-1:2009): from memory*. What is no row of a table stays as it is."""
    row = ROW.fullmatch(text)
    if row is None or row["table"] not in TABLES:
        return text
    words = gettext(TABLES[row["table"]]) % {"key": _key(row["key"].split())}
    size = row["upto"] if row["over"] == row["upto"] else row["over"] + ELLIPSIS + row["upto"]
    facts = {"what": words, "size": size, "standard": row["standard"]}
    return gettext("%(what)s, %(size)s mm (%(standard)s): from memory") % facts


def _key(parts: list[str]) -> str:
    if parts[0] not in KINDS:
        return " ".join(parts)
    group = parts[1] if parts[1] == "N" else f"C{parts[1]}"
    return gettext("%(kind)s, group %(group)s") % {"kind": gettext(KINDS[parts[0]]), "group": group}
