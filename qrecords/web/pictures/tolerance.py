"""The tolerance picture: readings on the seat, under their planes, in the zone of the drawing.

A clean window is the zone, everything outside it is hatched. Thick lines are the limits, dashed lines the
guard band inside them, dotted lines the measuring planes at their true distance from the shoulder, the
long-dash-dot line is nominal size (line kinds after ISO 128-2, dimension after ISO 129-1).
"""

from dataclasses import dataclass
from typing import Literal

from django.utils.translation import gettext, ngettext

from qrecords.web.pictures.coordinates import (
    MM_PER_PX,
    Dimension,
    Label,
    Scale,
    box,
    line,
    path,
    px,
    step_of,
    steps_between,
)
from qrecords.wording.figures import Figures, with_unit

Standing = Literal["in", "close", "out"]
LEAST_PX_PER_UM = 5.0


@dataclass(frozen=True)
class Plane:
    """A measuring plane at its distance from the shoulder."""

    name: str
    distance_mm: float


@dataclass(frozen=True)
class Reading:
    """One reading on plane number `plane`; `place` is its direction's number, counted from nought."""

    plane: int
    place: int
    deviation_nm: int
    standing: Standing = "in"
    newest: bool = False


@dataclass(frozen=True)
class Seat:
    """What the drawing wants of the seat. `width_mm` is the seat's length; `shoulder` draws the wall."""

    lower_nm: int
    upper_nm: int
    width_mm: float
    planes: tuple[Plane, ...]
    guard_nm: int = 0
    shoulder: bool = True


@dataclass(frozen=True)
class Paper:
    """The room for the picture, px: the seat lies between `left` and `right`, the columns of the grid below
    between `columns_left` and `right`; `pad` is the hatching beyond the outermost thing drawn."""

    width: int
    height: int
    left: float
    right: float
    columns_left: float
    pad: float
    dot: float
    spread: float


PHONE = Paper(366, 184, 50, 322, 46, 22, 5, 17)
PHONE_LOW = Paper(366, 120, 50, 322, 46, 15, 4.5, 17)
DESK = Paper(310, 142, 40, 250, 40, 24, 4.2, 14)


@dataclass(frozen=True)
class Mark:
    """A reading as drawn."""

    x: str
    y: str
    standing: Standing
    newest: bool
    radius: str
    label: Label | None


@dataclass(frozen=True)
class TolerancePicture:
    """Everything `parts/tolerance.html` places."""

    id: str
    width: str
    height: str
    title: str
    desc: str
    above: str
    below: str
    limits: str
    limit_labels: tuple[Label, Label]
    guards: str
    steps: str
    planes: str
    leaders: str
    zero: str
    zero_label: Label | None
    wall: str
    zone: Dimension
    trend: str
    marks: tuple[Mark, ...]
    factor: Label | None


def tolerance_picture(
    seat: Seat, readings: tuple[Reading, ...], *, figures: Figures, prefix: str, paper: Paper = PHONE
) -> TolerancePicture:
    """The picture of one seat's readings. Readings more than one and a half zones out
    are drawn at the edge with their number beside them; below 5 px per µm the picture says
    how many times it enlarges."""
    zone_nm = seat.upper_nm - seat.lower_nm
    reach = 3 * zone_nm // 2
    values = [min(max(r.deviation_nm, seat.lower_nm - reach), seat.upper_nm + reach) for r in readings]
    low, high = min([seat.lower_nm, *values]), max([seat.upper_nm, *values])
    y = Scale.between(low, paper.height - paper.pad, high, paper.pad)
    x = Scale.between(0, paper.left, seat.width_mm, paper.right)
    px_per_um = -y.px_per_unit * 1000
    planes_px = [x.at(plane.distance_mm) for plane in seat.planes]
    columns_px = _columns(len(seat.planes), paper)
    leaders = _leaders(planes_px, columns_px, paper.height)
    middle = max((r.place for r in readings), default=0) / 2
    points = [
        (planes_px[r.plane] + (r.place - middle) * paper.spread, y.at(value))
        for r, value in zip(readings, values, strict=True)
    ]
    end, zero = paper.right + 6, y.at(0)
    upper, lower = y.at(seat.upper_nm), y.at(seat.lower_nm)
    start = paper.left - 31
    zero_shown = 4 < zero < paper.height - 4 and min(abs(zero - upper), abs(zero - lower)) > 3
    zero_lettered = zero_shown and min(abs(zero - upper), abs(zero - lower)) >= 13
    return TolerancePicture(
        id=prefix,
        width=px(paper.width),
        height=px(paper.height + (12 if leaders else 0)),
        title=gettext("Readings on the seat"),
        desc=_in_words(seat, readings, figures),
        above=box(paper.left, 0, paper.right, upper),
        below=box(paper.left, lower, paper.right, paper.height),
        limits=line(start, upper, end, upper) + line(start, lower, end, lower),
        limit_labels=(
            Label.of(end + 5, upper + 5, figures.deviation_um(seat.upper_nm), bold=True),
            Label.of(end + 5, lower + 5, figures.deviation_um(seat.lower_nm), bold=True),
        ),
        guards=_guards(seat, y, paper),
        steps=_steps(seat, y, paper),
        planes="".join(line(at, 0, at, paper.height) for at in planes_px),
        leaders=leaders,
        zero=line(paper.left - 10, zero, end, zero) if zero_shown else "",
        zero_label=Label.of(end + 5, zero + 5, "0") if zero_lettered else None,
        wall=box(paper.left - 4, 0, paper.left, paper.height + 12) if seat.shoulder else "",
        zone=Dimension.upright(paper.left - 23, upper, lower, with_unit(figures.um(zone_nm), "µm")),
        trend=_trend(readings, points),
        marks=tuple(
            _mark(r, value, at, figures, paper) for r, value, at in zip(readings, values, points, strict=True)
        ),
        factor=_factor(px_per_um, paper),
    )


def _factor(px_per_um: float, paper: Paper) -> Label | None:
    """How many times the picture enlarges, where a µm is too small on paper to be seen for itself."""
    if px_per_um >= LEAST_PX_PER_UM:
        return None
    words, base = f"{10 * round(px_per_um * 100 * MM_PER_PX)} : 1", paper.height - 2
    if paper.width - paper.right > paper.left:  # in the wider margin, clear of the hatching
        return Label.of(paper.width, base, words, "end")
    return Label.of(0, base, words)


def _columns(count: int, paper: Paper) -> list[float]:
    wide = (paper.right - paper.columns_left) / count
    return [paper.columns_left + (number + 0.5) * wide for number in range(count)]


def _leaders(planes_px: list[float], columns_px: list[float], height: float) -> str:
    """From each plane to its column in the grid below, where the two do not line up by themselves."""
    if all(abs(plane - column) < 5 for plane, column in zip(planes_px, columns_px, strict=True)):
        return ""
    return "".join(line(p, height, c, height + 10) for p, c in zip(planes_px, columns_px, strict=True))


def _guards(seat: Seat, y: Scale, paper: Paper) -> str:
    if not seat.guard_nm or 2 * seat.guard_nm >= seat.upper_nm - seat.lower_nm:
        return ""
    inner = (seat.upper_nm - seat.guard_nm, seat.lower_nm + seat.guard_nm)
    return "".join(line(paper.left, y.at(v), paper.right, y.at(v)) for v in inner)


def _steps(seat: Seat, y: Scale, paper: Paper) -> str:
    step = max(1, round(step_of(seat.upper_nm - seat.lower_nm, 4)))
    inside = steps_between(seat.lower_nm + 1, seat.upper_nm - 1, step)
    return "".join(line(paper.left, y.at(v), paper.right, y.at(v)) for v in inside)


def _trend(readings: tuple[Reading, ...], points: list[tuple[float, float]]) -> str:
    """The line through the middle of each plane's points: taper and barrel to the eye."""
    middles = []
    for plane in sorted({r.plane for r in readings}):
        own = [at for r, at in zip(readings, points, strict=True) if r.plane == plane]
        middles.append((sum(at[0] for at in own) / len(own), sum(at[1] for at in own) / len(own)))
    return path(middles) if len(middles) > 1 else ""


def _mark(r: Reading, drawn_nm: int, at: tuple[float, float], figures: Figures, paper: Paper) -> Mark:
    away = drawn_nm != r.deviation_nm
    label = Label.of(at[0] + 12, at[1] + 5, figures.deviation_um(r.deviation_nm), bold=True) if away else None
    return Mark(px(at[0]), px(at[1]), r.standing, r.newest, px(paper.dot), label)


def _in_words(seat: Seat, readings: tuple[Reading, ...], figures: Figures) -> str:
    said = [
        gettext("Limits %(limits)s µm.") % {"limits": figures.signed_span_um(seat.lower_nm, seat.upper_nm)}
    ]
    for number, plane in enumerate(seat.planes):
        own = [r for r in readings if r.plane == number]
        if own:
            numbers = ", ".join(figures.deviation_um(r.deviation_nm) for r in own)
            said.append(
                gettext("%(plane)s, %(mm)s mm from the shoulder: %(numbers)s.")
                % {"plane": plane.name, "mm": f"{plane.distance_mm:g}", "numbers": numbers}
            )
    out = sum(r.standing == "out" for r in readings)
    close = sum(r.standing == "close" for r in readings)
    if out:
        said.append(ngettext("%(n)s is out.", "%(n)s are out.", out) % {"n": out})
    if close:
        said.append(
            ngettext("%(n)s is too close to call.", "%(n)s are too close to call.", close) % {"n": close}
        )
    return " ".join(said)
