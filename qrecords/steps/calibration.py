"""What a certificate says of a piece beside its U: errors as found and as left at several sizes, the most
they may be, who calibrated it and how often that is done."""

import calendar
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from qrecords.engineering import units
from qrecords.engineering.errors import shortened
from qrecords.steps.errors import DocumentError
from qrecords.steps.new_gear import MEND, SCALES, SIZES_NM, SOURCE, Scale, is_whole

FOUND, LEFT = POINTS = ("found_points", "left_points")
"""Fields of the document: as found, before anything was adjusted, and as left."""
MPE = "mpe"
MONTHS: Mapping[str, int] = {
    "outside micrometer": 12,
    "bore gauge": 12,
    "dial indicator": 12,
    "feeler set": 12,
    "thermometer": 12,
    "temperature probe": 12,
    "field meter": 12,
    "heater": 12,
    "setting master": 24,
}
"""From one calibration to the next (common practice, no source; of feeler sets half a year to a year)."""
MOST_MONTHS = 120
GAUGES = frozenset({"outside micrometer", "bore gauge", "dial indicator"})
LEAST_POINTS, MOST_POINTS = 3, 12
"""A gauge is calibrated at three sizes at least (common practice, no source)."""
NOT_FROZEN = frozenset(
    {
        *POINTS,
        "as_found",
        "as_left",
        "certificate_file",
        "laboratory",
        "place",
        "interval_months",
        "note",
    }
)
"""What is not frozen beside each capture: the entry of the calibration, which is named there, holds it."""
SIZE_OF: Mapping[str, tuple[str, str, int]] = {
    "um": ("length", "mm", SIZES_NM[1]),
    "K": ("temperature", "°C", 500_000),
    "mT": ("field", "mT", 10_000_000),
}
"""Unit of an error → quantity and unit of the size it is told at, and the largest in base units."""
SHA256 = re.compile(r"[0-9a-f]{64}")
WORDS = {"laboratory": 80, "place": 60}


@dataclass(frozen=True)
class CalibrationPoint:
    """At `size` it reads `error` too high, with U (k = 2), in the base unit of what it measures."""

    size: int
    error: int
    expanded_u: int


def points_of(document: Mapping[str, Any], name: str) -> tuple[CalibrationPoint, ...]:
    """The points of a document, by rising size; none where it says nothing by size."""
    told = document.get(name) or ()
    points = (CalibrationPoint(int(p["size"]), int(p["error"]), int(p["expanded_u"])) for p in told)
    return tuple(sorted(points, key=lambda point: point.size))


def out_of(document: Mapping[str, Any], name: str) -> tuple[CalibrationPoint, ...]:
    """The points whose error is more than the piece is accepted with; none while nobody says how much that
    is."""
    most = document.get(MPE)
    return tuple(p for p in points_of(document, name) if most is not None and abs(p.error) > int(most))


def due_after(calibrated: date, months: int) -> date:
    """The last day of an interval that begins on a day: the same day of the month, or the month's last."""
    year, month = divmod(calibrated.month - 1 + months, 12)
    year += calibrated.year
    last = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(calibrated.day, last))


def calibration_faults(kind: str, document: Mapping[str, Any]) -> Iterator[DocumentError]:
    """Every field of these that cannot be."""
    scale = SCALES[kind]
    most = document.get(MPE)
    if most is not None and (not is_whole(most) or not 0 < most <= scale.most):
        yield _fault(MPE, f"{scale.told(most)}; allowed: more than 0, {scale.said(scale.most)} at most")
    months = document.get("interval_months")
    if months is not None and (not is_whole(months) or not 1 <= months <= MOST_MONTHS):
        yield _fault("interval_months", f"{shortened(str(months))!r}; allowed: 1…{MOST_MONTHS} months")
    for name in POINTS:
        yield from _points(kind, scale, name, document.get(name), bool(str(document.get(SOURCE) or "")))
    for name, longest in WORDS.items():
        text = str(document.get(name) or "")
        if len(text) > longest or not text.isprintable():
            yield _fault(name, f"{shortened(text)!r}; allowed: {longest} characters in one line")
    file = document.get("certificate_file")
    if file is not None and not SHA256.fullmatch(str(file)):
        yield _fault("certificate_file", "no SHA-256 of a file that was sent here")


def _points(kind: str, scale: Scale, name: str, told: Any, sourced: bool) -> Iterator[DocumentError]:
    if told is None:
        return
    least = LEAST_POINTS if kind in GAUGES else 1
    if not isinstance(told, Sequence) or isinstance(told, str) or not least <= len(told) <= MOST_POINTS:
        count = len(told) if isinstance(told, Sequence) and not isinstance(told, str) else 0
        yield _fault(name, f"{count} points are given; allowed: {least} to {MOST_POINTS} ({kind})")
        return
    for point in told:
        wrong = point_fault(scale, point, "expanded_u") or ("" if sourced else _uncommon(kind, scale, point))
        if wrong:
            yield _fault(name, wrong)
            return
    if len({point["size"] for point in told}) < len(told):
        yield _fault(name, "one size stands twice; allowed: each size once")


def point_fault(scale: Scale, told: Any, u_name: str) -> str:
    """What is wrong with one point of an error by size, its u under this name; '' if nothing is."""
    names = ("size", "error", u_name)
    if not isinstance(told, Mapping) or set(told) != set(names):
        return f"a point says {', '.join(names)}"
    size_quantity, size_unit, most_size = SIZE_OF[scale.unit]
    spans = {"size": (0, most_size), "error": (-scale.most, scale.most), u_name: (0, scale.most)}
    for name, (low, high) in spans.items():
        sent = told[name]
        quantity, unit = (size_quantity, size_unit) if name == "size" else (scale.quantity, scale.unit)
        if is_whole(sent) and low <= sent <= high:
            continue
        if is_whole(sent) and abs(sent) <= units.BIGGEST_BASE:
            said = f"{units.show(sent, quantity, unit)} {unit}".replace("um", "µm")
        else:
            said = repr(shortened(str(sent)))
        ends = "…".join(units.show(end, quantity, unit) for end in (low, high))
        return f"{name}: {said} is not possible; allowed: {ends} {unit}".replace("um", "µm")
    return ""


def _uncommon(kind: str, scale: Scale, point: Mapping[str, int]) -> str:
    low, high = scale.usual_u
    if low <= point["expanded_u"] <= high:
        return ""
    said, usual = scale.said(point["expanded_u"]), scale.span(scale.usual_u)
    return f"expanded_u: {said} is far from the usual {usual} ({kind}); {MEND}"


def _fault(field: str, why: str) -> DocumentError:
    return DocumentError("equipment", field, why)
