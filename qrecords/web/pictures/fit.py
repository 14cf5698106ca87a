"""The fit picture: the zones of shaft and bore over one nominal line, with the interference.

Zones as ISO 286-1 draws them: a box from lower to upper deviation, the zero line is nominal size.
"""

from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.web.pictures.coordinates import (
    Dimension,
    Label,
    Scale,
    box,
    head,
    line,
    px,
    step_of,
    steps_between,
)
from qrecords.wording.figures import Figures

WIDTH, HEIGHT, TOP, FOOT = 354.0, 440.0, 26.0, 414.0


@dataclass(frozen=True)
class Part:
    """Shaft or bore: limits, what was read (nm from nominal), and its class as written."""

    label: str
    lower_nm: int
    upper_nm: int
    read_nm: tuple[int, ...] = ()


@dataclass(frozen=True)
class FitPicture:
    """Everything `parts/fit.html` places."""

    id: str
    width: str
    height: str
    title: str
    desc: str
    steps: str
    step_labels: tuple[Label, ...]
    zero: str
    zones: str
    zone_labels: tuple[Label, Label]
    dots: tuple[tuple[str, str], ...]
    extensions: str
    interference: Dimension | None


def fit_picture(
    shaft: Part, bore: Part, *, figures: Figures, prefix: str, unit: str = "µm", places: int = 0
) -> FitPicture:
    """One fit. The dimension goes from the mean of the bore readings to the mean of the journal's. It is
    worked out, so it stands in ( ); without readings on both there is none. In another `unit` all values are
    its thousandths."""
    ends = [shaft.lower_nm, shaft.upper_nm, bore.lower_nm, bore.upper_nm, *shaft.read_nm, *bore.read_nm, 0]
    step = max(1, round(step_of(max(ends) - min(ends), 8)))
    low, high = min(ends) // step * step, -(-max(ends) // step) * step
    y = Scale.between(low, FOOT, high, TOP)
    lines = steps_between(low, high, step)
    shaft_x, bore_x = (64.0, 164.0), (192.0, 292.0)
    dots = _dots(shaft, shaft_x, y) + _dots(bore, bore_x, y)
    dimension, extensions = None, ""
    if shaft.read_nm and bore.read_nm:
        on_shaft, on_bore = _mean(shaft), _mean(bore)
        extensions = line(shaft_x[1] - 10, y.at(on_shaft), 322, y.at(on_shaft))
        extensions += line(sum(bore_x) / 2, y.at(on_bore), 322, y.at(on_bore))
        words = f"({figures.um(round(on_shaft - on_bore), places)})"
        upper, lower = sorted((y.at(on_shaft), y.at(on_bore)))
        heads = head(314, upper, -90) + head(314, lower, 90)
        label = Label.upright(338, (upper + lower) / 2, words, bold=True)
        dimension = Dimension(line(314, upper, 314, lower), heads, label)
    return FitPicture(
        id=prefix,
        width=px(WIDTH),
        height=px(HEIGHT),
        title=gettext("Fit of shaft and bore"),
        desc=_in_words(shaft, bore, dimension, figures, unit),
        steps="".join(line(38, y.at(v), WIDTH, y.at(v)) for v in lines if v),
        step_labels=tuple(Label.of(32, y.at(v) + 5, figures.deviation_um(v), "end") for v in lines),
        zero=line(38, y.at(0), WIDTH, y.at(0)),
        zones=box(shaft_x[0], y.at(shaft.lower_nm), shaft_x[1], y.at(shaft.upper_nm))
        + box(bore_x[0], y.at(bore.lower_nm), bore_x[1], y.at(bore.upper_nm)),
        zone_labels=(
            Label.of(sum(shaft_x) / 2, _above(shaft, y), shaft.label, "middle", bold=True),
            Label.of(sum(bore_x) / 2, _below(bore, y), bore.label, "middle", bold=True),
        ),
        dots=dots,
        extensions=extensions,
        interference=dimension,
    )


def _above(part: Part, y: Scale) -> float:
    """Where the name stands over its zone, clear of readings that lie over it."""
    return min(y.at(part.upper_nm) - 8, *(y.at(v) - 11 for v in part.read_nm), HEIGHT)


def _below(part: Part, y: Scale) -> float:
    return max(y.at(part.lower_nm) + 20, *(y.at(v) + 23 for v in part.read_nm), 0.0)


def _mean(part: Part) -> float:
    return sum(part.read_nm) / len(part.read_nm)


def _dots(part: Part, x: tuple[float, float], y: Scale) -> tuple[tuple[str, str], ...]:
    apart = (x[1] - x[0]) / (len(part.read_nm) + 1)
    return tuple((px(x[0] + (n + 1) * apart), px(y.at(v))) for n, v in enumerate(part.read_nm))


def _in_words(shaft: Part, bore: Part, dimension: Dimension | None, figures: Figures, unit: str) -> str:
    said = [f"{p.label}: {figures.signed_span_um(p.lower_nm, p.upper_nm)} {unit}." for p in (shaft, bore)]
    if dimension:
        words = gettext("Interference %(value)s %(unit)s, worked out.")
        said.append(words % {"value": dimension.label.text, "unit": unit})
    return " ".join(said)
