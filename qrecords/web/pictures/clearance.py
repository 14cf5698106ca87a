"""The clearance picture: before the fit (group a box, G0 a dot) and what is left after it."""

from dataclasses import dataclass
from typing import Literal

from django.utils.translation import gettext

from qrecords.web.pictures.coordinates import Label, Scale, box, head, line, px, step_of, steps_between
from qrecords.wording.figures import Figures

WIDTH, ROW, LEFT, RIGHT = 470.0, 94.0, 122.0, 456.0

LEAST_SPAN_NM = 1000
"""So much is drawn at least, where everything lies on one point."""


@dataclass(frozen=True)
class Bearing:
    """One bearing's clearance, nm: its group's limits, G0 as measured (None: the group alone), what is left
    when cold on the shaft (worked out) and how that stands."""

    name: str
    note: str
    group_nm: tuple[int, int]
    left_nm: int
    measured_nm: int | None = None
    standing: Literal["in", "close", "out"] = "in"


@dataclass(frozen=True)
class Row:
    """One bearing as drawn: where the cross or ring of what is left stands, and its number."""

    name: Label
    note: Label
    group: str
    dot: tuple[str, str] | None
    arrow: str
    arrow_head: str
    standing: str
    x: str
    y: str
    figure: Label


@dataclass(frozen=True)
class ClearancePicture:
    """Everything `parts/clearance.html` places."""

    id: str
    width: str
    height: str
    title: str
    desc: str
    outside: str
    wall: str
    axis: str
    axis_labels: tuple[Label, ...]
    rows: tuple[Row, ...]


def clearance_picture(
    bearings: tuple[Bearing, ...],
    *,
    figures: Figures,
    prefix: str,
    least_nm: int = 0,
    unit: str = "µm",
    places: int = 0,
) -> ClearancePicture:
    """Before and after for one or more bearings; what lies below `least_nm` is hatched. In another `unit` all
    values are its thousandths."""
    values = [v for b in bearings for v in (*b.group_nm, b.left_nm, b.measured_nm or b.left_nm)]
    span = max(max(values) - min([*values, least_nm]), LEAST_SPAN_NM)
    step = max(1, round(step_of(span, 7)))
    low = min([*values, least_nm]) // step * step - step
    high = -(-max(values) // step) * step
    x = Scale.between(low, LEFT, high, RIGHT)
    foot = ROW * len(bearings) + 12
    ticks = steps_between(low, high, step)
    edge = x.at(least_nm)
    return ClearancePicture(
        id=prefix,
        width=px(WIDTH),
        height=px(foot + 26),
        title=gettext("Clearance before and after the fit"),
        desc=" ".join(_in_words(b, figures, unit, places) for b in bearings),
        outside=box(LEFT, 4, edge, foot),
        wall=line(edge, 0, edge, foot),
        axis=line(LEFT, foot, RIGHT, foot) + "".join(line(x.at(v), foot, x.at(v), foot + 5) for v in ticks),
        axis_labels=tuple(Label.of(x.at(v), foot + 20, figures.deviation_um(v), "middle") for v in ticks),
        rows=tuple(_row(b, 18 + number * ROW, x, figures, places) for number, b in enumerate(bearings)),
    )


def _row(b: Bearing, top: float, x: Scale, figures: Figures, places: int) -> Row:
    before = b.measured_nm if b.measured_nm is not None else sum(b.group_nm) / 2
    start, end, y = x.at(before), x.at(b.left_nm), top + 40
    tip = end + (10 if start > end else -10)
    return Row(
        name=Label.of(0, top + 18, b.name, bold=True),
        note=Label.of(0, top + 38, b.note),
        group=box(x.at(b.group_nm[0]), top, x.at(b.group_nm[1]), top + 18),
        dot=None if b.measured_nm is None else (px(start), px(top + 9)),
        arrow=line(start, top + 18, start, y + 6) + line(start, y, tip, y),
        arrow_head=head(tip, y, 180 if start > end else 0),
        standing=b.standing,
        x=px(end),
        y=px(y),
        figure=Label.of(end, y + 27, f"({figures.deviation_um(b.left_nm, places)})", "middle", bold=True),
    )


def _in_words(b: Bearing, figures: Figures, unit: str, places: int) -> str:
    words = gettext("%(name)s: group %(group)s %(unit)s, left when cold (%(left)s) %(unit)s.")
    return words % {
        "name": b.name,
        "group": figures.span_um(*b.group_nm),
        "left": figures.deviation_um(b.left_nm, places),
        "unit": unit,
    }
