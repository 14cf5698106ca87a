"""The form of a piece of equipment and of its next version: status, calibration, blades, kind of heater."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from django.utils.translation import gettext

from qrecords.steps.gear import HEATER_KINDS, KINDS
from qrecords.web.moments import zone_of
from qrecords.web.registers.asking import Ask, Reading
from qrecords.web.registers.lists import STATUSES

MOST_BLADES = 40


@dataclass(frozen=True)
class Scale:
    """What a kind measures: the quantity of its errors, their unit, and the largest U in base units."""

    quantity: str
    unit: str
    largest: int


SIZED = ("outside micrometer", "bore gauge")
RANGE = ("range_low", "range_high")
LENGTH = Scale("length", "um", 1_000_000)
SCALES: Mapping[str, Scale] = {
    "thermometer": Scale("temperature_difference", "K", 50_000),
    "heater": Scale("temperature_difference", "K", 50_000),
    "field meter": Scale("field", "mT", 10_000_000),
}


def scale_of(kind: str) -> Scale:
    return SCALES.get(kind, LENGTH)


def _options(values: tuple[str, ...], empty: str = "") -> list[tuple[str, str]]:
    first = [("", empty)] if empty else []
    return first + [(value, gettext(value)) for value in values]


def identity_asks() -> list[Ask]:
    """What a new piece is asked first."""
    return [
        Ask("mark", gettext("mark on the piece"), required=True, hint=gettext("as engraved, e.g. MIC-131")),
        Ask("kind", gettext("kind"), "select", _options(KINDS, gettext("choose")), required=True),
    ]


def version_asks(kind: str, now: datetime, zone: str, standing: Mapping[str, Any] | None = None) -> list[Ask]:
    """What every version is asked. Without a kind (a new piece) every kind's questions are there; the unit of
    U follows the kind. Nothing of a calibration is prefilled but the resolution, which stays the piece's."""
    scale = scale_of(kind)
    unit = {"um": "µm"}.get(scale.unit, scale.unit) if kind else ""
    by_kind = "" if kind else gettext("µm; thermometer and heater K; field meter mT") + ". "
    none = gettext("empty: no calibration")
    local = now.astimezone(zone_of(zone)).strftime("%Y-%m-%dT%H:%M")
    asks = [
        Ask("status", gettext("status"), "select", _options(STATUSES), required=True, value="in use"),
        Ask("valid_from", gettext("from"), "datetime-local", required=True, value=local, hint=zone),
        Ask("due", gettext("due, last day of validity"), "date"),
        Ask("certificate", gettext("certificate"), hint=gettext("number and laboratory")),
        Ask(
            "expanded_u",
            "U (k = 2)",
            unit=unit,
            numeric=True,
            hint=by_kind + none,
        ),
        Ask("resolution", gettext("resolution, one step"), unit=unit, numeric=True, hint=by_kind),
        Ask("repeatability", gettext("repeatability, 1 s"), unit=unit, numeric=True, hint=by_kind),
        Ask("resolution_in_u", gettext("the certificate's U holds the resolution"), "checkbox"),
        Ask("as_found", gettext("as found"), hint=gettext("error before adjustment, by size")),
        Ask("as_left", gettext("as left")),
        Ask("note", gettext("note"), hint=gettext("dropped, repaired, moved")),
    ]
    if kind in ("", *SIZED):
        ends = [f"{end / 1_000_000:g}" for end in (standing or {}).get("range_nm", ())] or ["", ""]
        captions = (gettext("measures from"), gettext("measures up to"))
        for name, caption, end in zip(RANGE, captions, ends, strict=True):
            asks.append(Ask(name, caption, unit="mm", numeric=True, value=end))
    if kind in ("", "feeler set"):
        hint = gettext("feeler set: mm, thinnest to thickest, e.g. 0.03 0.04 0.05")
        asks.append(Ask("blades", gettext("blades"), unit="mm", hint=hint, value=_blades(standing)))
    if kind in ("", "heater"):
        options = _options(HEATER_KINDS, gettext("no heater"))
        known = str((standing or {}).get("heater_kind", ""))
        asks.append(Ask("heater_kind", gettext("kind of heater"), "select", options, value=known))
    return asks


def _blades(standing: Mapping[str, Any] | None) -> str:
    blades = sorted(int(blade) for blade in (standing or {}).get("blades_nm", ()))
    return " ".join(f"{blade / 1_000_000:g}" for blade in blades)


def read_version(kind: str, reading: Reading, zone: str) -> tuple[dict[str, Any], datetime]:
    """The document and the moment it is valid from; every wrong field is kept in `reading`."""
    scale = scale_of(kind)
    document: dict[str, Any] = {"status": reading.one_of("status", STATUSES)}
    due = reading.day("due", optional=True)
    if due:
        document["due"] = due.isoformat()
    for name in ("expanded_u", "resolution", "repeatability"):
        base = reading.quantity(name, scale.quantity, scale.unit, 0, scale.largest, optional=True)
        if base is not None:
            document[name] = base
    if reading.given.get("resolution_in_u"):
        document["resolution_in_u"] = True
    for name, longest in (("certificate", 80), ("as_found", 400), ("as_left", 400), ("note", 400)):
        if text := reading.text(name, longest, optional=True):
            document[name] = text
    if kind in SIZED:
        ends = [reading.quantity(n, "length", "mm", 0, 2_000_000_000, optional=True) for n in RANGE]
        if None not in ends:
            document["range_nm"] = ends
    if kind == "feeler set":
        document["blades_nm"] = _read_blades(reading)
    if kind == "heater":
        document["heater_kind"] = reading.one_of("heater_kind", HEATER_KINDS)
    local = reading.moment("valid_from")
    return document, (local or datetime(2000, 1, 1)).replace(tzinfo=zone_of(zone)).astimezone(UTC)  # noqa: DTZ001


def _read_blades(reading: Reading) -> list[int]:
    """Blades of 0.01…3 mm, each once; both decimal signs, divided by spaces or semicolons."""
    words = reading.given.get("blades", "").replace(";", " ").split()
    each = [Reading({"blades": word}) for word in words[:MOST_BLADES]]
    found = [one.quantity("blades", "length", "mm", 10_000, 3_000_000) for one in each]
    failed = [one.errors["blades"] for one in each if one.errors]
    if failed:
        reading.errors["blades"] = failed[0]
    elif not words or len(words) > MOST_BLADES:
        reading.errors["blades"] = gettext("1 to %(n)s blades of 0.01…3 mm") % {"n": MOST_BLADES}
    return sorted({blade for blade in found if blade is not None})
