"""The readings of one journal as points on its seat, from what the entries hold."""

from collections.abc import Iterable
from dataclasses import dataclass

from qrecords.steps.case import Answered, Case
from qrecords.steps.findings import Finding
from qrecords.steps.gauges import STEP_ID
from qrecords.web.parts import GridCell, GridPlane, GridRow, ReadingGrid
from qrecords.web.pictures.tolerance import (
    DESK,
    Plane,
    Reading,
    Seat,
    Standing,
    TolerancePicture,
    tolerance_picture,
)
from qrecords.wording.figures import Figures


@dataclass(frozen=True)
class SeatReadings:
    """The points of one seat, in nm from nominal at 20 °C by (plane, direction), and the zone they lie in.

    `lower_nm`, `upper_nm` and `guard_nm` come from the finding on the journal's size, and so does the
    correction to 20 °C: nothing is judged again.
    """

    points: dict[tuple[str, str], int]
    lower_nm: int
    upper_nm: int
    guard_nm: int
    u_nm: int | None
    width_mm: float
    plane_mm: dict[str, float]
    corrected: bool = False
    """Brought to 20 °C by a correction: worked out, no longer what was typed."""

    @property
    def planes(self) -> list[str]:
        return sorted({plane for plane, _ in self.points})

    @property
    def directions(self) -> list[str]:
        return sorted({direction for _, direction in self.points}, key=float)

    @property
    def lowest_nm(self) -> int:
        return min(self.points.values())

    @property
    def highest_nm(self) -> int:
        return max(self.points.values())

    def standing(self, value_nm: int) -> Standing:
        """In, close or out by integers (ISO 14253-1): the limit less the guard conforms."""
        if not self.lower_nm - self.guard_nm <= value_nm <= self.upper_nm + self.guard_nm:
            return "out"
        inside = self.lower_nm + self.guard_nm <= value_nm <= self.upper_nm - self.guard_nm
        return "in" if inside else "close"

    def picture(self, figures: Figures, prefix: str) -> TolerancePicture:
        """Readings on the seat, planes where they were measured, or evenly along it where nobody said."""
        planes = self.planes
        even = {name: self.width_mm * (2 * n + 1) / (2 * len(planes)) for n, name in enumerate(planes)}
        seat = Seat(
            lower_nm=self.lower_nm,
            upper_nm=self.upper_nm,
            width_mm=self.width_mm,
            planes=tuple(Plane(name, self.plane_mm.get(name, even[name])) for name in planes),
            guard_nm=self.guard_nm,
            shoulder=bool(self.plane_mm),
        )
        order = {direction: n for n, direction in enumerate(self.directions)}
        readings = tuple(
            Reading(planes.index(plane), order[direction], value, self.standing(value))
            for (plane, direction), value in sorted(self.points.items())
        )
        return tolerance_picture(seat, readings, figures=figures, prefix=prefix, paper=DESK)

    def grid(self, caption: str, figures: Figures, *, hidden: bool) -> ReadingGrid:
        """Planes across, directions down; `hidden` keeps the values back for the blind second reading."""
        return ReadingGrid(
            caption,
            tuple(GridPlane(name) for name in self.planes),
            tuple(
                GridRow(
                    f"{direction}°", tuple(self._cell(p, direction, figures, hidden) for p in self.planes)
                )
                for direction in self.directions
            ),
            small=True,
        )

    def _cell(self, plane: str, direction: str, figures: Figures, hidden: bool) -> GridCell:
        value = self.points.get((plane, direction))
        if hidden or value is None:
            return GridCell("", "", hidden=hidden)
        standing = self.standing(value)
        text = figures.deviation_um(value)
        return GridCell(
            "", f"({text})" if self.corrected else text, standing="" if standing == "in" else standing
        )


def seat_readings(case: Case, size: Finding | None) -> SeatReadings | None:
    """The points that a finding on the journal's size judged; None without readings or without zone."""
    answers = [a for a in case.many(STEP_ID, "journal") if case.value_of(STEP_ID, a.key)]
    if not answers or size is None or size.lower is None or size.upper is None:
        return None
    at_20 = case.requirement.nominal_nm - int(size.facts.get("correction_nm", 0))
    planes = [a for a in case.many(STEP_ID, "plane_at") if case.value_of(STEP_ID, a.key)]
    return SeatReadings(
        points={where: value - at_20 for where, value in averaged(answers).items()},
        lower_nm=size.lower,
        upper_nm=size.upper,
        guard_nm=int(size.facts.get("guard_nm", 0)),
        u_nm=size.u,
        width_mm=float(case.requirement.seat_width_mm),
        corrected=bool(size.facts.get("correction_nm", 0)),
        plane_mm={a.key.split(".", 1)[1]: a.base / 1_000_000 for a in planes},
    )


def averaged(answers: Iterable[Answered]) -> dict[tuple[str, str], int]:
    """Repeats of one point are averaged, different points never; nm by (plane, direction)."""
    places: dict[tuple[str, str], list[int]] = {}
    for answered in answers:
        _, plane, direction = answered.key.split(".")[:3]
        places.setdefault((plane, direction), []).append(answered.base)
    return {where: round(sum(bases) / len(bases)) for where, bases in places.items()}
