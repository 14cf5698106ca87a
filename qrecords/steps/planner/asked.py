"""What the planner is asked, understood: sizes, limits, readings and temperatures, all of them checked."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from qrecords.engineering.bearings import InternalClearance
from qrecords.engineering.ceilings import Ceiling
from qrecords.engineering.designation import Designation
from qrecords.engineering.limits import Limits
from qrecords.engineering.tables import BUILT_IN, Tables

MASSES: Mapping[str, str] = {"mm": "kg", "in": "lb"}
"""Choice of the lengths → unit of a mass."""
SPEEDS: Mapping[str, str] = {"mm": "m/s", "in": "ft/min"}
"""Choice of the lengths → unit of a speed."""
LENGTHS: Mapping[str, tuple[str, str]] = {"mm": ("mm", "um"), "in": ("in", "thou")}
"""Choice of the lengths → unit of a size, unit of a deviation."""
TEMPERATURES: Mapping[str, tuple[str, str]] = {"C": ("°C", "K"), "F": ("°F", "°F")}
"""Choice of the temperatures → unit of a temperature, unit of a difference."""
NUMBERS = (
    "nominal", "outside", "width", "shaft_bore", "journal_low", "journal_high", "bore", "g0", "other_g0",
    "gauge_u", "least", "shaft_temp", "air_temp", "ceiling", "evenly", "habit", "mass", "raceway",
    "air_speed",
)  # fmt: skip
UNITS = ("lengths", "temperatures")
CHOICES = (
    *UNITS,
    "clearance_kind",
    "group",
    "other_group",
    "bore_class",
    "seat",
    "kind",
    "mass_from",
    "raceway_from",
)
TEXTS = ("bearing", "shaft_class", "ceiling_source")
INPUTS = (*CHOICES, *TEXTS, *NUMBERS)
"""Every input by its name in the address."""


@dataclass(frozen=True)
class Sizes:
    """Bore, outside diameter and width in mm, with where they were taken from."""

    bore_mm: Decimal
    outside_mm: Decimal
    width_mm: Decimal
    source: str
    unconfirmed: tuple[str, ...] = ()


@dataclass(frozen=True)
class Candidate:
    """One bearing whose clearance is looked at: its group's limits, and G0 in nm where it was measured."""

    name: str
    group: str
    limits: InternalClearance | None
    g0_nm: int | None


@dataclass(frozen=True)
class Asked:
    """The question. Deviations in nm from nominal; `journal_nm` is the lowest and the highest reading;
    `u_um` is the gauge's standard uncertainty (U/2), None where no U was given."""

    designation: Designation | None
    sizes: Sizes
    journal: Limits | None
    journal_nm: tuple[int, int] | None
    bore: Limits
    bore_nm: int | None
    bearing: Candidate
    other: Candidate | None
    clearance_kind: str
    shaft_bore_mm: Decimal
    seat: str
    kinds: tuple[str, ...]
    own: Ceiling | None
    u_um: float | None
    least_um: float
    shaft_c: float | None
    air_c: float | None
    evenly_k: float | None
    habit_c: float
    tables: Tables = BUILT_IN
    mass_kg: Decimal | None = None
    mass_from: str = ""
    raceway_mm: Decimal | None = None
    raceway_from: str = ""
    """Diameter on which the rolling elements run on the inner ring, and where it was taken from."""
    air_m_s: float = 0.0

    @property
    def nominal_nm(self) -> int:
        return int(self.sizes.bore_mm * 1_000_000)

    @property
    def candidates(self) -> tuple[Candidate, ...]:
        return (self.bearing,) if self.other is None else (self.bearing, self.other)
