"""The heat window: between *never above* and *must still be*, with the temperature the ring has at least.

The two limits always lie at the same height, so that the eye finds them without reading; the scale between
them follows, and what is beyond a limit is hatched, as everywhere.
"""

from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.web.pictures.coordinates import Label, Scale, box, line, px
from qrecords.wording.figures import Figures, with_unit

# Three figures of a wide face stand left of the bar, a sentence of it right.
WIDTH, LEFT, RIGHT = 366.0, 62.0, 92.0


@dataclass(frozen=True)
class Paper:
    """How high the picture is and where the two limits lie in it, px."""

    height: float
    ceiling: float
    floor: float


@dataclass(frozen=True)
class Cooling:
    """From what a page with script goes on working out the temperature, T_air + (T0 − T_air)·e^(−t/τ) as in
    engineering.cooling.carry_drop: the moment it left the heater (ISO 8601), T0 and air °C, τ s."""

    since: str
    start_c: float
    air_c: float
    tau_s: float


@dataclass(frozen=True)
class Falling:
    """The same as text for the drawing, with the picture's scale: where 0 °C lies, px per K, and the edges
    between which the pointer stays, px; `drawn_at` is where the pointer was drawn."""

    since: str
    start_c: str
    air_c: str
    tau_s: str
    nought_at: str
    px_per_k: str
    top: str
    bottom: str
    drawn_at: str


EDGE = 6.0
TALL = Paper(218, 35, 176)
LOW = Paper(150, 28, 122)


@dataclass(frozen=True)
class HeatWindow:
    """Everything `parts/heat_window.html` places."""

    id: str
    width: str
    height: str
    title: str
    desc: str
    above: str
    below: str
    sides: str
    limits: str
    limit_labels: tuple[Label, Label]
    words: tuple[Label, Label]
    bar: str
    pointer: str
    pointer_label: Label | None
    pointer_words: Label | None
    falling: Falling | None


def heat_window(
    *,
    ceiling_mdegc: int,
    must_be_mdegc: int,
    at_least_mdegc: int | None,
    cooling: Cooling | None = None,
    figures: Figures,
    prefix: str,
    paper: Paper = TALL,
) -> HeatWindow:
    """The window for one ring. `at_least_mdegc` is worked out, so it stands in ( ); beyond the
    picture its pointer stays at the edge; with `cooling` it falls on. `ceiling_mdegc` must lie above
    `must_be_mdegc`."""
    if ceiling_mdegc <= must_be_mdegc:
        raise ValueError("the window is empty: the ceiling must lie above what must still be")
    y = Scale.between(must_be_mdegc, paper.floor, ceiling_mdegc, paper.ceiling)
    ceiling, must_be = figures.celsius(ceiling_mdegc), figures.celsius(must_be_mdegc)
    never = gettext("never above %(t)s") % {"t": with_unit(ceiling, "°C")}
    still = gettext("must still be %(t)s on the seat") % {"t": with_unit(must_be, "°C")}
    desc = [f"{never}, {still}."]
    label = words = None
    bar = pointer = ""
    falling = None
    if at_least_mdegc is not None:
        at = min(max(y.at(at_least_mdegc), EDGE), paper.height - EDGE)
        falling = _falling(cooling, y, paper, at) if cooling else None
        bar = line(LEFT, at, RIGHT, at)
        pointer = f"M{px(RIGHT + 3)} {px(at)}L{px(RIGHT + 15)} {px(at - 8)}V{px(at + 8)}Z"
        now = figures.worked_out_celsius(at_least_mdegc)
        label = Label.of(RIGHT + 20, at + 7, now, bold=True)
        words = Label.of(RIGHT + 18, at + 26, gettext("at least"))
        desc.append(gettext("Now at least %(t)s, worked out.") % {"t": with_unit(now, "°C")})
    return HeatWindow(
        id=prefix,
        width=px(WIDTH),
        height=px(paper.height),
        title=gettext("Temperature of the ring"),
        desc=" ".join(desc),
        above=box(LEFT, 0, RIGHT, paper.ceiling),
        below=box(LEFT, paper.floor, RIGHT, paper.height),
        sides=line(LEFT, 0, LEFT, paper.height) + line(RIGHT, 0, RIGHT, paper.height),
        limits=line(57, paper.ceiling, WIDTH, paper.ceiling) + line(57, paper.floor, WIDTH, paper.floor),
        limit_labels=(
            Label.of(54, paper.ceiling + 10, ceiling, "end", bold=True),
            Label.of(54, paper.floor + 10, must_be, "end", bold=True),
        ),
        words=(
            Label.of(WIDTH, paper.ceiling - 9, never, "end", bold=True),
            Label.of(WIDTH, paper.floor + 22, still, "end", bold=True),
        ),
        bar=bar,
        pointer=pointer,
        pointer_label=label,
        pointer_words=words,
        falling=falling,
    )


def _falling(cooling: Cooling, y: Scale, paper: Paper, drawn_at: float) -> Falling:
    numbers = (
        cooling.start_c, cooling.air_c, cooling.tau_s, y.at(0), -1000 * y.px_per_unit, EDGE,
        paper.height - EDGE, drawn_at,
    )  # fmt: skip
    return Falling(cooling.since, *(repr(float(number)) for number in numbers))
