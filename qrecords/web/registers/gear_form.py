"""The form of a piece of equipment and of its next version: status, calibration, blades, kind of heater."""

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from django.utils.translation import gettext

from qrecords.engineering import units
from qrecords.people.bounds import zone_of
from qrecords.steps.calibration import calibration_faults
from qrecords.steps.gear import HEATER_KINDS, IN_USE, KINDS, STATUSES
from qrecords.steps.new_gear import (
    BLADES_NM,
    FIGURES,
    MOST_BLADES,
    POWER_W,
    SCALES,
    SIZES_NM,
    SOURCE,
    Scale,
    gear_faults,
)
from qrecords.web.registers.asking import Ask, Reading
from qrecords.web.registers.calibration_form import calibration_asks, read_calibration

INPUTS = {"blades_nm": "blades", "range_nm": "range_high"}
"""Field of the document → input of the form, where they differ."""
SIZED = ("outside micrometer", "bore gauge")
RANGE = ("range_low", "range_high")


def scale_of(kind: str) -> Scale:
    return SCALES.get(kind, SCALES["outside micrometer"])


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
    U follows the kind. A next version begins as the one that stands, so that a piece put in quarantine keeps
    its calibration; what belongs to one event alone (as found, as left, note) begins empty."""
    scale = scale_of(kind)
    unit = scale.unit_said if kind else ""
    by_kind = "" if kind else gettext("µm; thermometer and heater K; field meter mT")
    known = _known(scale, standing or {})
    local = now.astimezone(zone_of(zone)).strftime("%Y-%m-%dT%H:%M")
    asks = [
        *_validity_asks(known, local, zone),
        *_calibration_asks(known, unit, by_kind),
        *calibration_asks(kind, scale, standing or {}),
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
        heater = str((standing or {}).get("heater_kind", ""))
        asks.append(Ask("heater_kind", gettext("kind of heater"), "select", options, value=heater))
        power, hint = (
            str((standing or {}).get("power_w", "")),
            gettext("of a heater; its logs are asked by it"),
        )
        asks.append(Ask("power_w", gettext("rated power"), unit="W", numeric=True, value=power, hint=hint))
    return asks


def _validity_asks(known: Mapping[str, str], local: str, zone: str) -> list[Ask]:
    status = known.get("status", IN_USE)
    return [
        Ask("status", gettext("status"), "select", _options(STATUSES), required=True, value=status),
        Ask("valid_from", gettext("from"), "datetime-local", required=True, value=local, hint=zone),
        Ask("due", gettext("due, last day of validity"), "date", value=known.get("due", "")),
    ]


def _calibration_asks(known: Mapping[str, str], unit: str, by_kind: str) -> list[Ask]:
    """What the certificate says; `by_kind` names the unit of each kind where the kind is still asked."""
    none = gettext("empty: no calibration")
    numbers = (
        ("expanded_u", "U (k = 2)", f"{by_kind}. {none}" if by_kind else none),
        ("resolution", gettext("resolution, one step"), by_kind),
        ("repeatability", gettext("repeatability, 1 s"), by_kind),
    )
    laboratory, held = gettext("number and laboratory"), gettext("the certificate's U holds the resolution")
    asked_for = gettext("only if asked for: certificate and page")
    return [
        Ask("certificate", gettext("certificate"), hint=laboratory, value=known.get("certificate", "")),
        *(
            Ask(name, caption, unit=unit, numeric=True, hint=hint, value=known.get(name, ""))
            for name, caption, hint in numbers
        ),
        Ask("resolution_in_u", held, "checkbox", value=known.get("resolution_in_u", "")),
        Ask(
            SOURCE, gettext("where unusual figures are written"), hint=asked_for, value=known.get(SOURCE, "")
        ),
    ]


KEPT = ("status", "due", "certificate", SOURCE)


def _known(scale: Scale, standing: Mapping[str, Any]) -> dict[str, str]:
    """What the standing version says, as it would be typed."""
    known = {name: str(standing[name]) for name in KEPT if standing.get(name)}
    for name in FIGURES:
        if standing.get(name) is not None:
            known[name] = units.show(int(standing[name]), scale.quantity, scale.unit)
    if standing.get("resolution_in_u"):
        known["resolution_in_u"] = "yes"
    return known


def _blades(standing: Mapping[str, Any] | None) -> str:
    blades = sorted(int(blade) for blade in (standing or {}).get("blades_nm", ()))
    return " ".join(f"{blade / 1_000_000:g}" for blade in blades)


def read_version(kind: str, reading: Reading, zone: str) -> tuple[dict[str, Any], datetime]:
    """The document and the moment it is valid from; every wrong field is kept in `reading`. Out of use, what
    is left empty is not asked for."""
    scale = scale_of(kind)
    document: dict[str, Any] = {"status": reading.one_of("status", STATUSES)}
    due = reading.day("due", optional=True)
    if due:
        document["due"] = due.isoformat()
    for name in FIGURES:
        base = reading.quantity(name, scale.quantity, scale.unit, 0, scale.most, optional=True)
        if base is not None:
            document[name] = base
    if reading.given.get("resolution_in_u"):
        document["resolution_in_u"] = True
    in_use = document["status"] == IN_USE
    words = (("certificate", 80), (SOURCE, 120), ("as_found", 400), ("as_left", 400), ("note", 400))
    for name, longest in words:
        if text := reading.text(name, longest, optional=True):
            document[name] = text
    if kind in SIZED:
        document |= _read_range(reading)
    if kind == "feeler set":
        document["blades_nm"] = _read_blades(reading, optional=not in_use)
    if kind == "heater" and (in_use or reading.given.get("heater_kind")):
        document["heater_kind"] = reading.one_of("heater_kind", HEATER_KINDS)
    if kind == "heater" and reading.given.get("power_w"):
        document["power_w"] = reading.whole("power_w", *POWER_W, "W")
    local = reading.moment("valid_from")
    document |= read_calibration(scale, reading, local.date() if local else None)
    if kind in SCALES:
        for fault in (*gear_faults(kind, document), *calibration_faults(kind, document)):
            reading.errors.setdefault(INPUTS.get(fault.field, fault.field), fault.why)
    return document, (local or datetime(2000, 1, 1)).replace(tzinfo=zone_of(zone)).astimezone(UTC)  # noqa: DTZ001


def _read_range(reading: Reading) -> dict[str, Any]:
    """The sizes it measures, from a smaller to a larger one; nothing while neither end is told."""
    low, high = (reading.quantity(n, "length", "mm", *SIZES_NM, optional=True) for n in RANGE)
    if reading.errors.keys() & set(RANGE):
        return {}
    told = [end is not None for end in (low, high)]
    if low is not None and high is not None and low >= high:
        reading.errors[RANGE[1]] = gettext("%(high)s mm is not above %(low)s mm, where it measures from") % {
            "high": f"{high / 1_000_000:g}",
            "low": f"{low / 1_000_000:g}",
        }
    elif told[0] != told[1]:
        reading.errors[RANGE[told.index(False)]] = gettext("both ends of the range, 0…2000 mm, or neither")
    return {} if low is None or high is None else {"range_nm": [low, high]}


def _read_blades(reading: Reading, *, optional: bool) -> list[int]:
    """Blades of 0.01…3 mm, each once; both decimal signs, divided by spaces or semicolons."""
    words = reading.given.get("blades", "").replace(";", " ").split()
    each = [Reading({"blades": word}) for word in words[:MOST_BLADES]]
    found = [one.quantity("blades", "length", "mm", *BLADES_NM) for one in each]
    failed = [one.errors["blades"] for one in each if one.errors]
    if failed:
        reading.errors["blades"] = failed[0]
    elif (not words and not optional) or len(words) > MOST_BLADES:
        reading.errors["blades"] = gettext("1 to %(n)s blades of 0.01…3 mm") % {"n": MOST_BLADES}
    return sorted({blade for blade in found if blade is not None})
