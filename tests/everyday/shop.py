"""An invented workshop: what it mounts, who mounts it, and what it is measured with."""

from dataclasses import dataclass
from typing import Any

BALL, CYLINDRICAL, SPHERICAL = (
    "deep_groove_ball_cyl_bore",
    "cylindrical_roller_cyl_bore",
    "spherical_roller_cyl_bore",
)


@dataclass(frozen=True)
class Sort:
    """One kind of job; `roller`: a feeler fits, so the clearance is measured."""

    designation: str
    bore_mm: int
    outside_mm: int
    width_mm: int
    shaft_class: str
    clearance_kind: str
    group: str
    kinds: tuple[str, ...] = ()
    seat_width_mm: int = 60

    @property
    def roller(self) -> bool:
        return self.clearance_kind in (CYLINDRICAL, SPHERICAL)

    def requirement(self) -> dict[str, Any]:
        return {
            "nominal_mm": str(self.bore_mm), "shaft_class": self.shaft_class, "drawing": "OM-2071",
            "revision": "B", "designation": self.designation, "clearance_kind": self.clearance_kind,
            "clearance_group": self.group, "outside_mm": str(self.outside_mm),
            "width_mm": str(self.width_mm), "seat_width_mm": str(self.seat_width_mm),
            "size_source": "table", "kinds": list(self.kinds),
        }  # fmt: skip


SORTS = (
    Sort("6212 C3", 60, 110, 22, "k5", BALL, "3", seat_width_mm=24),
    Sort("6309 C3", 45, 100, 25, "k5", BALL, "3", ("sealed",), seat_width_mm=27),
    Sort("6310 C3", 50, 110, 27, "k5", BALL, "3"),
    Sort("6316 C3", 80, 170, 39, "k5", BALL, "3"),
    Sort("22215", 75, 130, 31, "m5", SPHERICAL, "N"),
    Sort("22218 C3", 90, 160, 40, "m6", SPHERICAL, "3"),
    Sort("22320 C3", 100, 215, 73, "n6", SPHERICAL, "3"),
    Sort("NU 318", 90, 190, 43, "m5", CYLINDRICAL, "N", ("separable_inner_ring",)),
    Sort("NU 1034 C3", 170, 260, 42, "m6", CYLINDRICAL, "3"),
)
"""Each with a fit that leaves clearance: a sound order. Sizes by ISO 15, as in the program's tables."""


@dataclass(frozen=True)
class Fitter:
    """How one of the five works: seconds a reading, and what makes his readings come fast."""

    name: str
    reading_s: tuple[float, float]
    """Mean and standard deviation of the seconds a reading takes."""
    noted_first: bool = False
    data_output: bool = False
    presses: tuple[float, float] = (1.1, 1.8)
    """How much longer than asked he presses, least and most."""
    logs: bool = False
    """He hands in the heater's log."""


FITTERS = (
    Fitter("slow and careful", (34, 8), presses=(1.3, 2.5)),
    Fitter("steady", (24, 5), logs=True),
    Fitter("quick", (18, 3), presses=(1.02, 1.4)),
    Fitter("notes first, types after", (3, 0.5), noted_first=True),
    Fitter("gauge that types", (6, 1), data_output=True, logs=True),
)

DUE = {"due": "2099-01-31"}


def gauge(inch: bool, zone_nm: int, data_output: bool) -> dict[str, Any]:
    """Micrometer or bore gauge, fine enough for the zone: a sound workshop takes none that is not. An inch
    gauge reads to a ten-thousandth, to half of it where the zone is narrow."""
    fine = zone_nm < 16_000
    resolution = (1270 if fine else 2540) if inch else 1000
    expanded = (1800 if fine else 3000) if inch else 1500
    return {**DUE, "resolution": resolution, "expanded_u": expanded, "repeatability": 400,
            "resolution_in_u": True, "data_output": data_output}  # fmt: skip
