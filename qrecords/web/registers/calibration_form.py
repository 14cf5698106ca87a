"""What a certificate says beside U, in a form: errors by size, the most they may be, laboratory, interval."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from django.utils.translation import gettext

from qrecords.engineering import units
from qrecords.steps.calibration import FOUND, LEFT, MONTHS, MOST_MONTHS, MOST_POINTS, MPE, SIZE_OF, due_after
from qrecords.steps.new_gear import Scale
from qrecords.web.registers.asking import Ask, Reading

WORDS = (("laboratory", 80), ("place", 60))


def calibration_asks(kind: str, scale: Scale, standing: Mapping[str, Any]) -> list[Ask]:
    """What belongs to one calibration (as found, as left) begins empty; the rest as it stands."""
    unit, size_unit = scale.unit_said if kind else "", SIZE_OF[scale.unit][1]
    each = gettext("size, error and U of each, e.g. 75 +1 0.8; 90 +9 3; %(size)s and %(unit)s")
    by_kind = gettext("by kind: mm and µm, °C and K, mT")
    hint = each % {"size": size_unit, "unit": scale.unit_said} if kind else f"{each.split(';')[0]}; {by_kind}"
    most = standing.get(MPE)
    months = standing.get("interval_months", MONTHS.get(kind, ""))
    return [
        Ask(
            MPE,
            gettext("most its error may be"),
            unit=unit,
            numeric=True,
            hint=gettext("what it is accepted with; empty: nobody said"),
            value="" if most is None else units.show(int(most), scale.quantity, scale.unit),
        ),
        Ask(FOUND, gettext("as found, by size"), hint=hint),
        Ask(LEFT, gettext("as left, by size"), hint=hint),
        Ask("laboratory", gettext("laboratory"), value=str(standing.get("laboratory", ""))),
        Ask(
            "interval_months",
            gettext("calibrated every"),
            unit=gettext("months"),
            numeric=True,
            hint=gettext("common practice, no source; with it the due day may be left empty"),
            value=str(months),
        ),
        Ask("place", gettext("kept at"), value=str(standing.get("place", ""))),
    ]


def read_calibration(scale: Scale, reading: Reading, begins: date | None) -> dict[str, Any]:
    """What was typed of these; wrong fields are kept in `reading`. Without a due day it follows from the
    interval and the day from which the version stands."""
    document: dict[str, Any] = {}
    most = reading.quantity(MPE, scale.quantity, scale.unit, 1, scale.most, optional=True)
    if most is not None:
        document[MPE] = most
    for name in (FOUND, LEFT):
        if points := read_points(scale, reading, name):
            document[name] = points
    for name, longest in WORDS:
        if text := reading.text(name, longest, optional=True):
            document[name] = text
    if reading.given.get("interval_months"):
        months = reading.whole("interval_months", 1, MOST_MONTHS, gettext("months"))
        document["interval_months"] = months
        if not reading.given.get("due") and begins and "interval_months" not in reading.errors:
            document["due"] = due_after(begins, months).isoformat()
    return document


def read_points(scale: Scale, reading: Reading, name: str) -> list[dict[str, int]]:
    """`75 +1 0.8; 90 +9 3` as points."""
    told = [part.split() for part in reading.given.get(name, "").split(";") if part.strip()]
    quantity, size_unit, most_size = SIZE_OF[scale.unit]
    found = []
    for words in told[: MOST_POINTS + 1]:
        if len(words) != 3:
            reading.errors[name] = gettext("“%(part)s” is no size, error and U") % {
                "part": " ".join(words)[:40]
            }
            return []
        one = Reading(dict(zip(("size", "error", "expanded_u"), words, strict=True)))
        size = one.quantity("size", quantity, size_unit, 0, most_size)
        error = one.quantity("error", scale.quantity, scale.unit, -scale.most, scale.most)
        expanded = one.quantity("expanded_u", scale.quantity, scale.unit, 0, scale.most)
        if size is None or error is None or expanded is None or one.errors:
            reading.errors[name] = next(iter(one.errors.values()))
            return []
        found.append({"size": size, "error": error, "expanded_u": expanded})
    return found
