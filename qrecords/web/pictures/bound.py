"""The bound picture: for a lost value, the range it can lie in, inside the window it must lie in."""

from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.web.pictures.coordinates import Dimension, Label, Scale, box, line, px, text_width
from qrecords.wording.figures import Figures

WIDTH, HEIGHT, BAND = 430.0, 64.0, 32.0


@dataclass(frozen=True)
class BoundPicture:
    """Everything `parts/bound.html` places."""

    id: str
    width: str
    height: str
    title: str
    desc: str
    outside: str
    limits: str
    limit_labels: tuple[Label, Label]
    ends: str
    span: Dimension
    captions: tuple[Label, Label]


def bound_picture(
    *, window_nm: tuple[int, int], range_nm: tuple[int, int], what: str, figures: Figures, prefix: str
) -> BoundPicture:
    """`what` (*interference*) must lie in `window_nm` and can lie anywhere in `range_nm`, lowest first; one
    scale holds both."""
    low, high = min(window_nm[0], range_nm[0]), max(window_nm[1], range_nm[1])
    x = Scale.between(low, 96, high, WIDTH - 84)
    left, right = x.at(window_nm[0]), x.at(window_nm[1])
    start, end = x.at(range_nm[0]), x.at(range_nm[1])
    words = f"({figures.span_um(*range_nm)})"
    desc = gettext("%(what)s can lie anywhere in %(range)s µm and must lie in %(window)s µm.") % {
        "what": what,
        "range": figures.span_um(*range_nm),
        "window": figures.span_um(*window_nm),
    }
    return BoundPicture(
        id=prefix,
        width=px(WIDTH),
        height=px(HEIGHT),
        title=gettext("Where the lost value can lie"),
        desc=desc,
        outside=box(0, 6, left, 6 + BAND) + box(right, 6, WIDTH, 6 + BAND),
        limits=line(left, 1, left, 44) + line(right, 1, right, 44),
        limit_labels=(
            Label.of(left, 60, figures.um(window_nm[0]), "middle", bold=True),
            Label.of(right, 60, figures.um(window_nm[1]), "middle", bold=True),
        ),
        ends=line(start, 12, start, 33) + line(end, 12, end, 33),
        span=Dimension.across(start, end, 22, words, text_width(words, 16)),
        captions=(Label.of(0, 60, what), Label.of(WIDTH, 60, "µm", "end")),
    )
