"""Registered equipment as it stood at the act, frozen beside the capture that used it."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

KINDS = (
    "outside micrometer",
    "bore gauge",
    "setting master",
    "feeler set",
    "thermometer",
    "temperature probe",
    "field meter",
    "heater",
    "dial indicator",
)
SETTING_MASTER = "setting master"
WITHOUT_FIELD = ("oven", "hot plate", "oil bath")
HEATER_KINDS = ("induction", *WITHOUT_FIELD)
IN_USE = "in use"
DROPPED, QUARANTINE = "dropped", "quarantine"
STATUSES = (IN_USE, QUARANTINE, DROPPED, "lost", "scrapped")
DAMAGES = (DROPPED, "struck", "overheated", "wet", "other")
"""What may have happened to a piece: after any of it only a calibration puts it in use again (house rule)."""
CALIBRATION = ("certificate", "due", "expanded_u")
"""What tells one calibration from the next; a change of status carries it on."""


@dataclass(frozen=True)
class GearRecord:
    """One gauge, meter, master or heater at a moment.

    `expanded_u` is U (k = 2) and `resolution` the digit step, in the base unit of what it measures
    (nm, m°C or K⁻³, nT); `repeatability` one standard deviation in the same unit. `due` is the last day of
    validity. A calibration that is absent leaves `expanded_u` None.
    """

    id: str
    kind: str
    mark: str
    status: str
    resolution: int
    expanded_u: int | None
    repeatability: int
    resolution_in_u: bool
    due: date | None
    certificate: str
    heater_kind: str
    blades_nm: tuple[int, ...]
    range_nm: tuple[int, int] | None
    """What sizes it measures; None where nobody said, or where it measures no size."""
    data_output: bool
    """It sends its readings: nobody types them."""
    calibration: str
    """Entry id of the calibration in force."""
    power_w: int
    """Rated power of a heater, W; 0 where nobody said."""
    in_force_from: datetime | None
    """From when this calibration was first in force, whatever changes of status came since; None where the
    entry was written before that was kept."""
    error_u: int = 0
    """u of an error that was found later and taken off its readings (ruling 23); 0 for what was recorded."""

    def holds(self, size_nm: int) -> bool:
        """Whether a size lies in its range, as far as its range is known."""
        return self.range_nm is None or self.range_nm[0] <= size_nm <= self.range_nm[1]

    def fault(self, day: date) -> str:
        """Why it proves nothing on a day: *not-in-use*, *expired*; '' if it does. *Due* includes its day."""
        if self.status != IN_USE:
            return "not-in-use"
        return "" if self.due is not None and day <= self.due else "expired"

    @property
    def calibrated(self) -> bool:
        """Whether anything says so: a certificate, its U or its last day."""
        return bool(self.certificate) or self.expanded_u is not None or self.due is not None

    @property
    def standard_u(self) -> int | None:
        """u of the gauge in base units, rounded up: calibration, resolution and repeatability (ruling 1), and
        of an error taken off (ruling 23)."""
        if self.expanded_u is None:
            return None
        digit = 0.0 if self.resolution_in_u else self.resolution / 12**0.5
        square = (self.expanded_u / 2) ** 2 + digit**2 + self.repeatability**2 + self.error_u**2
        return -int(-(square**0.5) // 1)

    @property
    def whole_u(self) -> int | None:
        """U (k = 2) with that of an error taken off, rounded up."""
        if self.expanded_u is None or not self.error_u:
            return self.expanded_u
        return -int(-math.hypot(self.expanded_u, 2 * self.error_u) // 1)


def read_gear(document: Mapping[str, Any]) -> GearRecord:
    """The record that an entry froze."""
    due, since = document.get("due"), document.get("in_force_from")
    return GearRecord(
        id=str(document["id"]),
        kind=str(document["kind"]),
        mark=str(document["mark"]),
        status=str(document.get("status", IN_USE)),
        resolution=int(document.get("resolution", 0)),
        expanded_u=None if document.get("expanded_u") is None else int(document["expanded_u"]),
        repeatability=int(document.get("repeatability", 0)),
        resolution_in_u=bool(document.get("resolution_in_u", False)),
        due=date.fromisoformat(due) if due else None,
        certificate=str(document.get("certificate", "")),
        heater_kind=str(document.get("heater_kind", "")),
        blades_nm=tuple(int(blade) for blade in document.get("blades_nm", ())),
        range_nm=_range(document.get("range_nm")),
        data_output=bool(document.get("data_output", False)),
        calibration=str(document.get("calibration", "")),
        power_w=int(document.get("power_w", 0)),
        in_force_from=datetime.fromisoformat(since) if since else None,
        error_u=int(document.get("error_u", 0)),
    )


def _range(ends: Any) -> tuple[int, int] | None:
    if ends is None:
        return None
    low, high = (int(end) for end in ends)
    if not 0 <= low < high:
        raise ValueError(f"range {low}…{high} nm")
    return low, high
