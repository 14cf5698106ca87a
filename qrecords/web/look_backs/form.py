"""Opening a look-back: first of what, then between when and with which error."""

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

from django.utils.translation import gettext

from qrecords.engineering import units
from qrecords.people.bounds import zone_of
from qrecords.steps.calibration import SIZE_OF
from qrecords.steps.new_gear import SCALES, Scale
from qrecords.steps.new_look_back import BATCH, DRAWING, LOT, PERSON
from qrecords.web.registers.asking import Ask, Reading
from qrecords.workshop.models import Equipment, Site

ROWS = 6
"""Points that the form takes; the API takes more."""
OF = {LOT: "lot", PERSON: "person", DRAWING: "drawing", BATCH: "batch"}


def window_asks(since: date | None, found: date) -> list[Ask]:
    return [
        Ask(
            "since",
            gettext("from: last good calibration or master check"),
            "date",
            required=True,
            value=since.isoformat() if since else "",
        ),
        Ask(
            "found", gettext("day it was found, the last one"), "date", required=True, value=found.isoformat()
        ),
        Ask("why", gettext("why"), required=True, hint=gettext("what was found, and where it is written")),
    ]


def of_asks(subject: str, people: Sequence[tuple[str, str]]) -> list[Ask]:
    """Which one, of what is not a piece of equipment."""
    match subject:
        case "bearing lot":
            return [Ask("lot", gettext("lot"), required=True, hint=gettext("as on the ring or its box"))]
        case "person":
            return [Ask("person", gettext("person"), "select", people, required=True)]
        case "drawing revision":
            return [
                Ask("drawing", gettext("drawing"), required=True),
                Ask("revision", gettext("revision that was used"), required=True),
                Ask(
                    "right",
                    gettext("right revision"),
                    required=True,
                    hint=gettext("registered at its places"),
                ),
            ]
        case "lubricant batch":
            return [Ask("batch", gettext("batch"), required=True)]
    return []


def points_asked(
    piece: Equipment, given: Mapping[str, str], found: Sequence[Mapping[str, Any]]
) -> list[list[dict[str, str]]]:
    """The rows of the error: what was typed, else what the newest calibration found, in the piece's units."""
    scale = SCALES[piece.kind]
    quantity, size_unit, _most = SIZE_OF[scale.unit]
    rows = []
    for number in range(ROWS):
        known = _typed(found[number], scale, quantity, size_unit) if number < len(found) else ("", "", "")
        rows.append(
            [
                {
                    "name": f"{name}-{number}",
                    "value": given.get(f"{name}-{number}", value if not given else ""),
                }
                for name, value in zip(("size", "error", "u"), known, strict=True)
            ]
        )
    return rows


def _typed(point: Mapping[str, Any], scale: Scale, quantity: str, size_unit: str) -> tuple[str, str, str]:
    return (
        units.show(point["size"], quantity, size_unit),
        units.show(point["error"], scale.quantity, scale.unit),
        units.show(2 * point["u"], scale.quantity, scale.unit),
    )


def units_of(piece: Equipment) -> tuple[str, str]:
    """Of sizes and of errors, as they are lettered."""
    scale = SCALES[piece.kind]
    return SIZE_OF[scale.unit][1], scale.unit_said


def read_document(
    subject: str, piece: Equipment | None, given: Mapping[str, str], reading: Reading, site: Site
) -> dict[str, Any]:
    """What is opened; wrong fields are kept in `reading`."""
    document: dict[str, Any] = {"subject": subject}
    if piece is not None:
        document |= {"of": str(piece.id), "points": read_points(piece, given, reading)}
    else:
        document["of"] = reading.text(OF[subject], 80)
        if subject == DRAWING:
            document |= {name: reading.text(name, 80) for name in ("revision", "right")}
    since, found = reading.day("since"), reading.day("found")
    if since and found:
        if found < since:
            reading.errors["found"] = gettext("It lies before the day it begins.")
        document["since"] = _midnight(since, site.zone)
        document["until"] = _midnight(found + timedelta(days=1), site.zone)
    return document


def _midnight(on: date, zone: str) -> str:
    return datetime.combine(on, time(), zone_of(zone)).astimezone(UTC).isoformat()


def read_points(piece: Equipment, given: Mapping[str, str], reading: Reading) -> list[dict[str, int]]:
    """The rows that are filled in: each wholly. U is halved for u, rounded up."""
    scale = SCALES[piece.kind]
    quantity, size_unit, most_size = SIZE_OF[scale.unit]
    points = []
    for number in range(ROWS):
        size, error, u = names = [f"{name}-{number}" for name in ("size", "error", "u")]
        if not any(given.get(name) for name in names):
            continue
        one = Reading(given)
        at = one.quantity(size, quantity, size_unit, 0, most_size)
        high = one.quantity(error, scale.quantity, scale.unit, -scale.most, scale.most)
        expanded = one.quantity(u, scale.quantity, scale.unit, 0, scale.most)
        if one.errors:
            reading.errors |= one.errors
            reading.errors.setdefault("points", next(iter(one.errors.values())))
        elif at is not None and high is not None and expanded is not None:
            points.append({"size": at, "error": high, "u": -(-expanded // 2)})
    return points
