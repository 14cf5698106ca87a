"""The X̄-R picture: means above, ranges below, subgroup under subgroup, each between its own limits.

Thick lines are the limits, the long-dash-dot line is the centre, what lies outside is hatched (line kinds
after ISO 128-2). Limits and centre are worked out, so their figures stand in ( ).
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from django.utils.translation import gettext

from qrecords.engineering.charts import XbarR
from qrecords.engineering.result import Result
from qrecords.web.pictures.coordinates import (
    Label,
    Scale,
    box,
    line,
    path,
    px,
    step_of,
    steps_between,
    text_width,
)
from qrecords.wording.figures import Figures

WIDTH, LEFT, RIGHT, PAD = 460.0, 30.0, 390.0, 20.0
MEANS_PX, RANGES_PX, HEIGHT = (22.0, 152.0), (184.0, 284.0), 316.0
MOST_NUMBERS, LETTERS_PX = 10, 14.0
Lettering = Callable[[int], str]  # nm to the figure as it is read


@dataclass(frozen=True)
class Point:
    """The mean or the range of one subgroup."""

    value_nm: int
    standing: Literal["in", "out"] = "in"


@dataclass(frozen=True)
class Course:
    """The points of one chart with its centre and limits; `lower_nm` None where there is no lower limit."""

    points: tuple[Point, ...]
    centre_nm: int
    lower_nm: int | None
    upper_nm: int


@dataclass(frozen=True)
class Mark:
    """A point as drawn; a label only where it lies beyond the paper."""

    x: str
    y: str
    standing: str
    label: Label | None


@dataclass(frozen=True)
class Panel:
    """One of the two charts as drawn."""

    caption: Label
    outside: str
    limits: str
    centre: str
    figures: tuple[Label, ...]
    trend: str
    marks: tuple[Mark, ...]


@dataclass(frozen=True)
class XbarRPicture:
    """Everything `parts/xbar_r.html` places."""

    id: str
    width: str
    height: str
    title: str
    desc: str
    panels: tuple[Panel, Panel]
    axis: str
    axis_labels: tuple[Label, ...]


def courses(chart: XbarR) -> tuple[Course, Course]:
    """Means and ranges of a chart computed in µm, with the verdicts it gives itself."""
    floor = chart.range_lower if chart.range_lower.value else None
    return (
        _course(chart.means, chart.means_out, chart.mean, chart.mean_lower, chart.mean_upper),
        _course(chart.ranges, chart.ranges_out, chart.mean_range, floor, chart.range_upper),
    )


def xbar_r_picture(
    means: Course,
    ranges: Course,
    *,
    size: int,
    figures: Figures,
    prefix: str,
    places: int = 1,
    provisional: bool = False,
    unit: str = "µm",
) -> XbarRPicture:
    """Both charts of subgroups of `size` readings, figures to `places` of a µm, or of the `unit` whose
    thousandths the courses count in. A point further out than the
    limits are apart is drawn at the edge with its number; the words name every point that is out."""
    count = len(means.points)
    x = Scale.between(0.5, LEFT, count + 0.5, RIGHT)
    foot = RANGES_PX[1]
    step = max(1, round(step_of(count, MOST_NUMBERS)))
    numbers = steps_between(1, count, step)

    def of_means(value_nm: int) -> str:
        return figures.deviation_um(value_nm, places)

    def of_ranges(value_nm: int) -> str:
        return figures.um(value_nm, places)

    return XbarRPicture(
        id=prefix,
        width=px(WIDTH),
        height=px(HEIGHT),
        title=gettext("Means and ranges of subgroups"),
        desc=" ".join(
            (
                _counted(count, size, provisional),
                gettext("Means: %(course)s") % {"course": _in_words(means, of_means, unit)},
                gettext("Ranges: %(course)s") % {"course": _in_words(ranges, of_ranges, unit)},
            )
        ),
        panels=(
            _panel(means, gettext("means, %(unit)s") % {"unit": unit}, MEANS_PX, x, of_means),
            _panel(ranges, gettext("ranges, %(unit)s") % {"unit": unit}, RANGES_PX, x, of_ranges),
        ),
        axis=line(LEFT, foot, RIGHT, foot) + "".join(line(x.at(n), foot, x.at(n), foot + 5) for n in numbers),
        axis_labels=tuple(Label.of(x.at(n), foot + 20, str(n), "middle") for n in numbers),
    )


def _course(
    values: tuple[float, ...], out: tuple[int, ...], centre: Result, lower: Result | None, upper: Result
) -> Course:
    points = tuple(Point(round(v * 1000), "out" if n in out else "in") for n, v in enumerate(values))
    floor = None if lower is None else round(lower.value * 1000)
    return Course(points, round(centre.value * 1000), floor, round(upper.value * 1000))


def _panel(course: Course, words: str, room: tuple[float, float], x: Scale, lettered: Lettering) -> Panel:
    """One chart between two heights on the paper; without a lower limit its foot is nought."""
    top, foot = room
    floor = course.lower_nm if course.lower_nm is not None else 0
    reach = course.upper_nm - floor
    drawn = [min(max(p.value_nm, floor - reach), course.upper_nm + reach) for p in course.points]
    low, high = min([floor, *drawn]), max([course.upper_nm, *drawn])
    y = Scale.between(low, foot - PAD if course.lower_nm is not None else foot, high, top + PAD)
    upper, lower, centre = y.at(course.upper_nm), y.at(floor), y.at(course.centre_nm)
    points = [(x.at(number), y.at(value)) for number, value in enumerate(drawn, start=1)]
    limited = [upper] if course.lower_nm is None else [upper, lower]
    limit_figures = [course.upper_nm, *([] if course.lower_nm is None else [course.lower_nm])]
    lines = [*zip(limited, limit_figures, strict=True), (centre, course.centre_nm)]
    return Panel(
        caption=Label.of(LEFT, top - 6, words),
        outside=box(LEFT, top, RIGHT, upper)
        + ("" if course.lower_nm is None else box(LEFT, lower, RIGHT, foot)),
        limits="".join(line(LEFT - 8, at, RIGHT + 6, at) for at in limited),
        centre=line(LEFT - 8, centre, RIGHT + 6, centre),
        figures=tuple(
            Label.of(RIGHT + 11, at + 5, f"({lettered(value)})", bold=at != centre) for at, value in lines
        ),
        trend=path(points) if len(points) > 1 else "",
        marks=_marks(course, drawn, points, lettered),
    )


def _marks(
    course: Course, drawn: list[int], points: list[tuple[float, float]], lettered: Lettering
) -> tuple[Mark, ...]:
    """A point beyond the paper says its number above or below itself, where the one before left room."""
    marks, taken = [], 0.0
    for point, value, (x, y) in zip(course.points, drawn, points, strict=True):
        words, label = lettered(point.value_nm), None
        half = text_width(words, LETTERS_PX) / 2
        if value != point.value_nm and x - half >= taken:
            label = Label.of(x, y - 9 if value < point.value_nm else y + 17, words, "middle", bold=True)
            taken = x + half
        marks.append(Mark(px(x), px(y), point.standing, label))
    return tuple(marks)


def _counted(count: int, size: int, provisional: bool) -> str:
    said = gettext("%(count)s subgroups of %(size)s readings.") % {"count": count, "size": size}
    return said + (" " + gettext("Provisional: too few subgroups.") if provisional else "")


def _in_words(course: Course, lettered: Lettering, unit: str) -> str:
    """Centre, limits, and every point that is out, with the number of its subgroup."""
    limits = {"centre": lettered(course.centre_nm), "upper": lettered(course.upper_nm), "unit": unit}
    if course.lower_nm is None:
        said = [gettext("centre (%(centre)s) %(unit)s, upper limit (%(upper)s) %(unit)s.") % limits]
    else:
        words = gettext("centre (%(centre)s) %(unit)s, limits (%(lower)s) and (%(upper)s) %(unit)s.")
        said = [words % {**limits, "lower": lettered(course.lower_nm)}]
    out = [(number, p) for number, p in enumerate(course.points, start=1) if p.standing == "out"]
    if out:
        told = ", ".join(f"{number}: {lettered(p.value_nm)}" for number, p in out)
        said.append(gettext("Outside, by subgroup: %(told)s.") % {"told": told})
    else:
        said.append(gettext("None is outside."))
    return " ".join(said)
