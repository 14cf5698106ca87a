"""The sheet of one mounting of the demonstration: what its paper would say, in the order of the work."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from qrecords.demo.bearings import Inside
from qrecords.demo.darkroom import Drawing, drawing
from qrecords.demo.hall import ZONE

DIRECTIONS = ("0", "60", "120")
ANGLES = ("0", "90", "180", "270")
MINUTES = {
    "package": 6,
    "marking": 9,
    "seat": 24,
    "micrometer": 158,
    "probe": 201,
    "field": 215,
    "held": 207,
    "blade": 404,
    "covered": 436,
}
"""When each photo is taken, in minutes after the work was begun."""


def asks(designation: str, size: str, drawing_no: str, revision: str, **more: Any) -> dict[str, Any]:
    """What a drawing asks of a journal. `size` reads like `100 n6 D215 B73`; a deep groove ball bearing in
    the normal group unless `more` says otherwise."""
    nominal, shaft_class, outside, width = size.split()
    return {
        "nominal_mm": nominal,
        "shaft_class": shaft_class,
        "outside_mm": outside.removeprefix("D"),
        "width_mm": width.removeprefix("B"),
        "seat_width_mm": str(max(36, int(width.removeprefix("B")) + 6)),
        "size_source": "drawing",
        "designation": designation,
        "drawing": drawing_no,
        "revision": revision,
        **more,
    }


ALL_SHOTS = ("package", "marking", "seat", "micrometer", "probe", "held", "blade", "covered")
SPHERICAL = {"clearance_kind": "spherical_roller_cyl_bore"}
CYLINDRICAL = {"clearance_kind": "cylindrical_roller_cyl_bore"}


@dataclass(frozen=True)
class Machine:
    """What is overhauled, for whom, under which work order."""

    name: str
    owner: str
    order: str
    shaft: str = "1"
    position: str = "DE"
    scheme: str = "none"


@dataclass(frozen=True)
class Sheet:
    """Numbers as they are typed: temperatures in °C, readings in µm from nominal by plane, gaps in mm."""

    machine: Machine
    requirement: Mapping[str, Any]
    begun: str
    fitter: str
    lot: str
    journal: str
    bore: str
    shaft_c: str
    air_c: str
    gauge_c: str = ""
    """Of micrometer and master; empty: as the shaft."""
    serial: str = ""
    date_code: str = ""
    inside: Inside = "balls"
    shown: str = "A 0"
    """The place whose reading the photographed display shows."""
    g0: str = ""
    heater: str = "IH-1"
    setup: str = "on a crossbar through the bore"
    probe: str = "inner ring"
    set_to: str = ""
    peak: str = ""
    outer: str = ""
    cross_check: str = ""
    carried_s: float = 15
    pressed_s: float = 180
    held_by: str = "nut"
    gaps: tuple[str, str, str, str] = ("0", "0", "0", "0")
    field: str = "0.9"
    g1: str = ""
    micrometer: str = ""
    """Mark of the micrometer; empty: the one of the hall that takes the size."""

    @property
    def nominal_mm(self) -> Decimal:
        return Decimal(self.requirement["nominal_mm"])

    @property
    def designation(self) -> str:
        return str(self.requirement["designation"])

    def moment(self, minutes: float) -> datetime:
        """So long after the work was begun."""
        begun = datetime.fromisoformat(self.begun).replace(tzinfo=ZoneInfo(ZONE))
        return begun + timedelta(minutes=minutes)

    def readings(self) -> dict[str, str]:
        """The journal by place, as the display shows it in mm."""
        return {
            f"{plane}.{direction}": f"{self.nominal_mm + Decimal(text) / 1000:.3f}"
            for plane, texts in zip("ABC", self.journal.split("/"), strict=False)
            for direction, text in zip(DIRECTIONS, texts.split(), strict=False)
        }

    def bores(self) -> dict[str, str]:
        """The bore by place, in µm from nominal."""
        return {
            f"bore.{plane}.{direction}": text
            for plane, texts in zip("AB", self.bore.split("/"), strict=False)
            for direction, text in zip(DIRECTIONS, texts.split(), strict=False)
        }

    def picture(self, shot: str) -> Drawing:
        """The photograph of one shot, drawn from what this sheet says."""
        plane, direction = self.shown.split()
        at = self.moment(MINUTES[shot])
        gap, angle = max((Decimal(gap), angle) for gap, angle in zip(self.gaps, ANGLES, strict=True))
        match shot:
            case "package":
                return drawing(
                    "box_label", at, designation=self.designation, lot=self.lot, inside=self.inside
                )
            case "marking":
                return drawing("ring_marking", at, text=self.designation, inside=self.inside)
            case "seat":
                return drawing("seat", at, journal=f"{self.machine.order[-4:]} {self.machine.position}")
            case "micrometer":
                value = self.readings()[f"{plane}.{direction}"]
                return drawing("micrometer", at, value_mm=value, mark=f"{plane} {direction}°")
            case "probe":
                on_inner = self.probe == "inner ring"
                return drawing("probe", at, shown_c=self.peak, on_inner_ring=on_inner, inside=self.inside)
            case "field":
                return drawing("field_meter", at, shown=self.field, inside=self.inside)
            case "held":
                return drawing("held_by_nut", at)
            case "blade":
                blade = f"{gap or Decimal('0.03'):.2f}"
                return drawing(
                    "feeler", at, blade_mm=blade, angle_deg=int(angle if gap else 0), enters=gap > 0
                )
            case _:
                return drawing("wrapped_shaft", at, order=self.machine.order)
