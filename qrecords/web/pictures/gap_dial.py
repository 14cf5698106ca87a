"""The gap dial: the ring seen from its end, keyway up, each gap drawn outside the ring on a scale of its own.

Four positions, six or eight over 150 mm. The dashed outline is the tilt worked out from the gaps: a plane
through them, so that a tilted ring and a ring with dirt under it look different.
"""

import math
from dataclasses import dataclass
from typing import Literal

from django.utils.translation import gettext

from qrecords.web.pictures.coordinates import Label, head, line, path, px, ring_point, sector, step_of
from qrecords.wording.figures import Figures, with_unit

# The ring always lies in the same place, because fitter.css lays the radio inputs over its sectors.
WIDTH, HEIGHT, RING, BORE, REACH = 366.0, 298.0, 100.0, 44.0, 38.0
CX, CY = WIDTH / 2, 20.0 + REACH + RING


@dataclass(frozen=True)
class Gap:
    """The thickest blade that goes in at an angle (0° is the keyway, clockwise); nm; 0 where the blade of the
    limit does not, None where there is no value: not yet tried, or `absent`, which says why."""

    angle_deg: int
    gap_nm: int | None = None
    standing: Literal["in", "out"] = "in"
    absent: str = ""


@dataclass(frozen=True)
class Tilt:
    """The plane through the gaps: mean + at_0·cos θ + at_90·sin θ, nm."""

    mean_nm: float
    at_0_nm: float
    at_90_nm: float

    def at(self, angle_deg: float) -> float:
        """The gap of the plane at an angle, nm."""
        turn = math.radians(angle_deg)
        return self.mean_nm + self.at_0_nm * math.cos(turn) + self.at_90_nm * math.sin(turn)

    @property
    def widest_deg(self) -> int:
        """Where the plane gapes most, whole degrees from the keyway."""
        return round(math.degrees(math.atan2(self.at_90_nm, self.at_0_nm))) % 360


@dataclass(frozen=True)
class Sector:
    """One position as drawn; `wedge` is '' where nothing goes in."""

    angle: str
    outline: str
    chosen: bool
    wedge: str
    standing: str
    label: Label
    lettering: str
    angle_label: Label
    spoken: str


@dataclass(frozen=True)
class GapDial:
    """Everything `parts/gap_dial.html` places."""

    id: str
    width: str
    height: str
    title: str
    desc: str
    cx: str
    cy: str
    ring: str
    bore: str
    cross: str
    spokes: str
    sectors: tuple[Sector, ...]
    tilt: str
    tilt_key: str
    tilt_label: Label
    widest: str
    widest_label: Label
    bar: str
    bar_label: Label
    px_per_mm: str
    name: str


def gap_dial(
    gaps: tuple[Gap, ...],
    *,
    figures: Figures,
    prefix: str,
    chosen_deg: int | None = None,
    tilt: Tilt | None = None,
    field_name: str = "at",
) -> GapDial:
    """The dial of one shoulder. `field_name` is the name of the radio inputs laid over the sectors."""
    widest = max([100_000, *(g.gap_nm or 0 for g in gaps)])
    px_per_nm = REACH / widest
    bar_nm = step_of(widest, 1) if step_of(widest, 1) <= widest else step_of(widest / 2, 1)
    bar_px = bar_nm * px_per_nm
    key_y = HEIGHT - 4
    return GapDial(
        id=prefix,
        width=px(WIDTH),
        height=px(HEIGHT),
        title=gettext("Gap between ring and shoulder"),
        desc=_in_words(gaps, tilt, figures),
        cx=px(CX),
        cy=px(CY),
        ring=px(RING),
        bore=_bore(),
        cross=line(CX - 34, CY, CX + 34, CY) + line(CX, CY - 20, CX, CY + 34),
        spokes=_spokes(len(gaps)),
        sectors=tuple(
            _sector(g, len(gaps), g.angle_deg == chosen_deg, px_per_nm, figures, tilt) for g in gaps
        ),
        tilt=_outline(tilt, px_per_nm) if tilt else "",
        tilt_key=line(2, key_y - 4, 34, key_y - 4),
        tilt_label=Label.of(42, key_y, gettext("tilt")),
        widest=_widest(tilt, px_per_nm) if tilt else "",
        widest_label=Label.of(2, key_y - 21, _widest_words(tilt) if tilt else ""),
        bar=f"M{px(WIDTH - 2 - bar_px)} {px(key_y - 10)}v12m0 -6h{px(bar_px)}m0 -6v12",
        bar_label=Label.of(
            WIDTH - 1,
            key_y - 17,
            gettext("gap %(mm)s") % {"mm": with_unit(figures.mm(round(bar_nm)), "mm")},
            "end",
        ),
        px_per_mm=px(px_per_nm * 1e6),
        name=field_name,
    )


def _bore() -> str:
    """The shaft's outline with its keyway up."""
    half = 9.0
    edge = CY - math.sqrt(BORE**2 - half**2)
    return (
        f"M{px(CX + half)} {px(edge)}A{px(BORE)} {px(BORE)} 0 1 1 {px(CX - half)} {px(edge)}"
        f"V{px(edge + 14)}H{px(CX + half)}Z"
    )


def _spokes(count: int) -> str:
    angles = [(number + 0.5) * 360 / count for number in range(count)]
    return "".join(line(*ring_point(CX, CY, BORE, a), *ring_point(CX, CY, RING, a)) for a in angles)


def _sector(
    gap: Gap, count: int, chosen: bool, px_per_nm: float, figures: Figures, tilt: Tilt | None
) -> Sector:
    half = 180 / count
    angle = gap.angle_deg
    wedge = ""
    if gap.gap_nm:
        wide = 16 if count <= 4 else 60 / count
        outer = RING + 2 + gap.gap_nm * px_per_nm
        wedge = sector(CX, CY, RING + 2, outer, angle - wide, angle + wide)
    text_x, text_y = ring_point(CX, CY, (RING + BORE) / 2, angle)
    shown = "–" if gap.absent else ""
    if gap.gap_nm is not None:
        shown = figures.mm(gap.gap_nm, 2) if gap.gap_nm else gettext("none")
    return Sector(
        angle=str(angle),
        outline=sector(CX, CY, BORE, RING, angle - half, angle + half),
        chosen=chosen,
        wedge=wedge,
        standing=gap.standing,
        label=Label.of(text_x, text_y + (7 if gap.gap_nm else 6), shown, "middle", bold=True),
        lettering=_lettering(gap, count),
        angle_label=_angle_label(angle, count, _reach(gap, tilt, px_per_nm)),
        spoken=f"{angle}°: {gap.absent or shown or gettext('not yet tried')}",
    )


def _lettering(gap: Gap, count: int) -> str:
    """The word *none* is wider than a figure, and stays between bore and rim in a wide face too."""
    figure, word = ("20", "16") if count <= 4 else ("15", "12")
    return figure if gap.gap_nm else word


def _reach(gap: Gap, tilt: Tilt | None, px_per_nm: float) -> float:
    return max(gap.gap_nm or 0, tilt.at(gap.angle_deg) if tilt else 0, 0) * px_per_nm


def _angle_label(angle: int, count: int, reach: float) -> Label:
    if angle == 0:
        return Label.of(CX, CY - RING - reach - 9, gettext("0° key"), "middle")
    if angle == 180 and count <= 4:
        return Label.of(CX - 74, HEIGHT - 4, "180°", "middle")
    x, y = ring_point(CX, CY, RING + reach + 10, angle)
    side = math.sin(math.radians(angle))
    anchor = "start" if side > 0.1 else "end" if side < -0.1 else "middle"
    return Label.of(x, y + (15 if anchor == "middle" else 6), f"{angle}°", anchor)


def _outline(tilt: Tilt, px_per_nm: float) -> str:
    round_about = [
        ring_point(CX, CY, RING + 2 + tilt.at(angle) * px_per_nm, angle) for angle in range(0, 360, 6)
    ]
    return path(round_about) + "Z"


def _widest(tilt: Tilt, px_per_nm: float) -> str:
    """An arrow head inside the rim where the plane gapes most, pointing outwards."""
    angle = tilt.widest_deg
    return head(*ring_point(CX, CY, RING - 3, angle), angle - 90)


def _widest_words(tilt: Tilt) -> str:
    return gettext("widest at (%(angle)s°)") % {"angle": tilt.widest_deg}


def _in_words(gaps: tuple[Gap, ...], tilt: Tilt | None, figures: Figures) -> str:
    said = []
    for g in gaps:
        if g.absent:
            said.append(gettext("At %(angle)s°: %(why)s.") % {"angle": g.angle_deg, "why": g.absent})
        if g.gap_nm is None:
            continue
        if g.gap_nm:
            said.append(
                gettext("At %(angle)s° a blade of %(mm)s mm goes in.")
                % {"angle": g.angle_deg, "mm": figures.mm(g.gap_nm, 2)}
            )
        else:
            said.append(
                gettext("At %(angle)s° the blade of the limit does not go in.") % {"angle": g.angle_deg}
            )
    if tilt:
        low, high = sorted(tilt.at(a) for a in range(360))[::359]
        spread = figures.mm(round(high - low), 2)
        words = gettext("Tilt worked out: (%(mm)s) mm across the ring, widest at (%(angle)s°).")
        said.append(words % {"mm": spread, "angle": tilt.widest_deg})
    return " ".join(said) or gettext("Nothing tried yet.")
