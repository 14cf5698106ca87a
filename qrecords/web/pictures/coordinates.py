"""From numbers to points on paper: linear scales, steps, arcs, arrow heads, a guess of text width."""

import math
from dataclasses import dataclass

MM_PER_PX = 25.4 / 96  # CSS reference pixel


def px(value: float) -> str:
    """A coordinate to a tenth of a pixel, always with a point, without idle noughts or a minus nought."""
    return f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")


@dataclass(frozen=True)
class Scale:
    """A linear scale: `start` lies at `start_px`, one unit is `px_per_unit` long (negative: upwards)."""

    start: float
    start_px: float
    px_per_unit: float

    @classmethod
    def between(cls, low: float, low_px: float, high: float, high_px: float) -> "Scale":
        """The scale on which `low` lies at `low_px` and `high` at `high_px`; low ≠ high."""
        return cls(low, low_px, (high_px - low_px) / (high - low))

    def at(self, value: float) -> float:
        """Where a value lies, px."""
        return self.start_px + (value - self.start) * self.px_per_unit


def step_of(span: float, most: int) -> float:
    """The finest step of the series 1-2-5 that divides `span` into at most `most` parts."""
    rough = span / most
    power = 10.0 ** math.floor(math.log10(rough))
    return next(power * factor for factor in (1, 2, 5, 10) if power * factor >= rough * (1 - 1e-9))


def steps_between(low: int, high: int, step: int) -> range:
    """The multiples of `step` from low to high, both included."""
    return range(-(-low // step) * step, high + 1, step)


def line(x1: float, y1: float, x2: float, y2: float) -> str:
    """A straight line as path data; lines of one kind are joined into one path."""
    return f"M{px(x1)} {px(y1)}L{px(x2)} {px(y2)}"


def box(x1: float, y1: float, x2: float, y2: float) -> str:
    """A rectangle between two corners as path data."""
    return f"M{px(x1)} {px(y1)}H{px(x2)}V{px(y2)}H{px(x1)}Z"


@dataclass(frozen=True)
class Label:
    """Words at a place; `anchor` is start, middle or end; `turned` is an SVG transform or ''."""

    x: str
    y: str
    text: str
    anchor: str = "start"
    bold: bool = False
    turned: str = ""

    @classmethod
    def of(cls, x: float, y: float, text: str, anchor: str = "start", bold: bool = False) -> "Label":
        """Words whose base line starts, centres or ends at a point in px."""
        return cls(px(x), px(y), text, anchor, bold)

    @classmethod
    def upright(cls, x: float, y: float, text: str, bold: bool = False) -> "Label":
        """Words read from the right, as ISO 129-1 letters a vertical dimension."""
        return cls(px(x), px(y), text, "middle", bold, f"rotate(-90 {px(x)} {px(y)})")


def head(x: float, y: float, toward_deg: float, length: float = 10.0) -> str:
    """A filled arrow head of about 30° with its tip at a point, pointing at an angle (0 right, 90 down)."""
    half = length * 0.27
    turn = math.radians(toward_deg)
    back_x, back_y = x - length * math.cos(turn), y - length * math.sin(turn)
    side_x, side_y = -half * math.sin(turn), half * math.cos(turn)
    return (
        f"M{px(x)} {px(y)}L{px(back_x + side_x)} {px(back_y + side_y)}"
        f"L{px(back_x - side_x)} {px(back_y - side_y)}Z"
    )


@dataclass(frozen=True)
class Dimension:
    """A dimension line with both arrow heads and its words (ISO 129-1)."""

    lines: str
    heads: str
    label: Label

    @classmethod
    def across(cls, x1: float, x2: float, y: float, text: str, text_px: float) -> "Dimension":
        """Horizontal; the line opens for its words, or the arrows come from outside where they do not fit."""
        middle, half = (x1 + x2) / 2, text_px / 2 + 8
        if x2 - x1 > 2 * half + 24:
            lines = line(x1, y, middle - half, y) + line(middle + half, y, x2, y)
            heads = head(x1, y, 180) + head(x2, y, 0)
            return cls(lines, heads, Label.of(middle, y + 5, text, "middle"))
        lines = line(x1 - 28, y, x1, y) + line(x2, y, x2 + 28, y)
        return cls(lines, head(x1, y, 0) + head(x2, y, 180), Label.of(x1 - 34, y + 5, text, "end"))

    @classmethod
    def upright(cls, x: float, y1: float, y2: float, text: str, bold: bool = False) -> "Dimension":
        """Vertical, words on the left of the line and read from the right; y1 above y2."""
        heads = head(x, y1, -90) + head(x, y2, 90)
        return cls(line(x, y1, x, y2), heads, Label.upright(x - 6, (y1 + y2) / 2, text, bold))


def text_width(text: str, size_px: float) -> float:
    """A guess of the width of words in px, on the safe side: 0.56 em a letter."""
    return 0.56 * size_px * len(text)


def ring_point(cx: float, cy: float, radius: float, angle_deg: float) -> tuple[float, float]:
    """A point of an end view: 0° up, clockwise."""
    turn = math.radians(angle_deg)
    return cx + radius * math.sin(turn), cy - radius * math.cos(turn)


def sector(cx: float, cy: float, inner: float, outer: float, from_deg: float, to_deg: float) -> str:
    """A piece of a ring, clockwise from one angle to another (less than 180° apart)."""
    (ax, ay), (bx, by) = ring_point(cx, cy, outer, from_deg), ring_point(cx, cy, outer, to_deg)
    (dx, dy), (ex, ey) = ring_point(cx, cy, inner, to_deg), ring_point(cx, cy, inner, from_deg)
    return (
        f"M{px(ax)} {px(ay)}A{px(outer)} {px(outer)} 0 0 1 {px(bx)} {px(by)}"
        f"L{px(dx)} {px(dy)}A{px(inner)} {px(inner)} 0 0 0 {px(ex)} {px(ey)}Z"
    )


def path(points: list[tuple[float, float]]) -> str:
    """A broken line through points in px."""
    return "M" + "L".join(f"{px(x)} {px(y)}" for x, y in points)
