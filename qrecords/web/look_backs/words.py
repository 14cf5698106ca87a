"""A look-back in words: of what, between when, what is known of the error."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.engineering import units
from qrecords.people.queries import names
from qrecords.steps.again import IN_DOUBT
from qrecords.steps.calibration import SIZE_OF
from qrecords.steps.new_gear import SCALES, Scale
from qrecords.web import parts
from qrecords.web.moments import day
from qrecords.workshop.models import LookBack

SUBJECT_WORDS: Mapping[str, str] = {
    "equipment": _("gauge, master, meter or heater"),
    "bearing lot": _("bearing lot"),
    "person": _("person whose authorisation was wrong"),
    "drawing revision": _("drawing revision"),
    "lubricant batch": _("lubricant batch"),
}
CLASS_WORDS: Mapping[str, str] = {
    "nonconforming": _("nonconforming"),
    "not proven": _("not proven"),
    "in doubt": _("in doubt"),
    "conforming": _("conforming"),
}


@dataclass(frozen=True)
class PointRow:
    """One point of the error: at which size, how much too high, with which U (k = 2)."""

    size: str
    error: str
    expanded_u: str


def subject_of(look_back: LookBack) -> str:
    """`MIC-114`, `lot L-77`, `O. Brandreth`, `CB-118 rev. B, right: C`."""
    match look_back.subject:
        case "equipment":
            return look_back.equipment.mark if look_back.equipment else look_back.of
        case "person":
            known = getattr(look_back, "person_name", "")
            return str(known or names([look_back.of])[look_back.of])
        case "drawing revision":
            words = {"drawing": look_back.of, **look_back.document}
            return gettext("%(drawing)s rev. %(revision)s, right: %(right)s") % words
    return look_back.of


def window_of(look_back: LookBack, zone: str) -> str:
    """`13 Oct 2025 … 12 Oct 2026`; the end of a day is that day."""
    last = look_back.until - timedelta(seconds=1)
    return f"{day(look_back.since, zone)} … {day(last, zone)}"


def point_rows(look_back: LookBack) -> list[PointRow]:
    points = look_back.document.get("points") or []
    if not points or look_back.equipment is None:
        return []
    return [_point_row(SCALES[look_back.equipment.kind], point) for point in points]


def _point_row(scale: Scale, point: Mapping[str, Any]) -> PointRow:
    quantity, unit, _most = SIZE_OF[scale.unit]
    error = units.show(point["error"], scale.quantity, scale.unit)
    sign = "+" if point["error"] > 0 else ""
    return PointRow(
        f"{units.show(point['size'], quantity, unit)} {unit}",
        f"{sign}{error} {scale.unit_said}".replace("-", "−"),
        f"{units.show(2 * point['u'], scale.quantity, scale.unit)} {scale.unit_said}",
    )


def is_open(look_back: LookBack) -> bool:
    return not hasattr(look_back, "end")


def frame_of(verdict: str) -> parts.Verdict | None:
    """The frame of a class; none for what is in doubt, which nobody judged."""
    return None if verdict == IN_DOUBT else parts.Verdict(verdict, iso=True)
