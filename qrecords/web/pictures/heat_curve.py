"""The heating curve: temperature against time between *never above* and *must still be*."""

from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.engineering.curve_events import Event, Point
from qrecords.web.pictures.coordinates import Dimension, Label, Scale, box, line, path, px, text_width
from qrecords.web.pictures.heat_events import EventMarks, event_marks, event_words, lettered, moments
from qrecords.web.pictures.heat_taps import LETTERS_PX, Tap, tap_axis
from qrecords.wording.figures import Figures

ALONE_PX = 1.5


@dataclass(frozen=True)
class Curve:
    """One course of temperature. `dashed` for the outer ring or anything worked out beside the main line,
    `faint` for what a probe read after it came off."""

    points: tuple[Point, ...]
    dashed: bool = False
    faint: bool = False


@dataclass(frozen=True)
class Note:
    """Words beside a point of a curve; `below` puts them under it."""

    at: Point
    text: str
    anchor: str = "start"
    bold: bool = False
    below: bool = False
    dot: bool = False


@dataclass(frozen=True)
class HeatCurve:
    """Everything `parts/heat_curve.html` places."""

    id: str
    width: str
    height: str
    title: str
    desc: str
    outside: str
    limits: str
    limit_figures: tuple[Label, ...]
    limit_words: tuple[Label, ...]
    solid: str
    dashed: str
    faint: str
    marks: EventMarks | None
    dots: tuple[tuple[str, str], ...]
    notes: tuple[Label, ...]
    extensions: str
    span: Dimension | None
    axis: str
    tap_labels: tuple[Label, ...]


def heat_curve(
    curves: tuple[Curve, ...],
    *,
    ceiling_mdegc: int,
    figures: Figures,
    prefix: str,
    must_be_mdegc: int | None = None,
    notes: tuple[Note, ...] = (),
    span: tuple[float, float, str] | None = None,
    taps: tuple[Tap, ...] = (),
    events: tuple[Event, ...] = (),
    width: float = 460,
    height: float = 250,
    unit: str = "°C",
) -> HeatCurve:
    """Curves of one heating, in thousandths of `unit`. `span` dimensions a time between two moments in
    seconds, with its words; `taps` stand under a time axis, to the same scale; `events` of a log are marked
    and told."""
    points = [p for c in curves for p in c.points]
    temperatures = [t for _, t in points] + [ceiling_mdegc]
    left, right, top = 40.0, width - 62, 4.0
    low, high = min(temperatures), max(temperatures)
    rise = (high - low) * 0.16
    seconds = [s for s, _ in points] + [tap.at_s for tap in taps] + moments(events)
    x = Scale.between(min(seconds), left, max(seconds), right)
    under = tap_axis(taps, x, height - 12) if taps else None
    foot = under.y if under else height - 34
    y = Scale.between(low - rise * 0.3, foot, high + rise, top)
    limits = [(ceiling_mdegc, gettext("never above"))]
    outside = box(left, top, right, y.at(ceiling_mdegc))
    if must_be_mdegc is not None:
        limits.append((must_be_mdegc, gettext("must still be")))
        outside += box(left, y.at(must_be_mdegc), right, foot)
    notes += tuple(Note(at, words, anchor) for at, words, anchor in lettered(events, figures))
    return HeatCurve(
        id=prefix,
        width=px(width),
        height=px(height),
        title=gettext("Temperature against time"),
        desc=" ".join([_in_words(curves, limits, taps, figures, unit), *event_words(events, figures)]),
        outside=outside,
        limits="".join(line(left - 8, y.at(t), right + 6, y.at(t)) for t, _ in limits),
        limit_figures=tuple(
            Label.of(left - 14, y.at(t) + 6, figures.celsius(t), "end", bold=True) for t, _ in limits
        ),
        limit_words=tuple(Label.of(right + 10, y.at(t) + 5, words) for t, words in limits),
        solid=_courses([c for c in curves if not c.dashed and not c.faint], x, y),
        dashed=_courses([c for c in curves if c.dashed], x, y),
        faint=_courses([c for c in curves if c.faint], x, y),
        marks=event_marks(events, x, y, top, foot) if events else None,
        dots=tuple((px(x.at(n.at[0])), px(y.at(n.at[1]))) for n in notes if n.dot),
        notes=_notes(notes, x, y, [y.at(t) for t, _ in limits]),
        extensions=_extensions(span, curves, x, y, height) if span else "",
        span=Dimension.across(x.at(span[0]), x.at(span[1]), height - 14, span[2], text_width(span[2], 15))
        if span
        else None,
        axis=line(left, foot, right, foot) + under.ticks if under else "",
        tap_labels=under.labels if under else (),
    )


def _courses(curves: list[Curve], x: Scale, y: Scale) -> str:
    """A path for each; a sample alone between gaps is a short line, or it would not be seen."""
    drawn = []
    for curve in curves:
        points = [(x.at(s), y.at(t)) for s, t in curve.points]
        alone = [(points[0][0] - ALONE_PX, points[0][1]), (points[0][0] + ALONE_PX, points[0][1])]
        drawn.append(path(points if len(points) > 1 else alone))
    return "".join(drawn)


def _notes(notes: tuple[Note, ...], x: Scale, y: Scale, limits_px: list[float]) -> tuple[Label, ...]:
    """Words beside their points, clear of the limits' lines and each under the one before it."""
    placed: list[Label] = []
    for note in notes:
        aside = {"start": 10.0, "end": -8.0, "middle": 0.0}[note.anchor]
        at, base = x.at(note.at[0]) + aside, y.at(note.at[1]) + (18 if note.below else -6)
        while any(base - 12 < limit < base + 3 for limit in limits_px) or any(
            abs(float(other.x) - at) < text_width(other.text, LETTERS_PX)
            and abs(float(other.y) - base) < LETTERS_PX
            for other in placed
        ):
            base += 4
        placed.append(Label.of(at, base, note.text, note.anchor, note.bold))
    return tuple(placed)


def _extensions(
    span: tuple[float, float, str], curves: tuple[Curve, ...], x: Scale, y: Scale, height: float
) -> str:
    """Thin lines down from the curve to the dimension (ISO 129-1)."""
    drops = []
    for moment in span[:2]:
        drops.append(line(x.at(moment), y.at(_temperature(curves[0], moment)), x.at(moment), height - 8))
    return "".join(drops)


def _temperature(curve: Curve, moment: float) -> float:
    """The curve's temperature at a moment, straight between its points."""
    for (s1, t1), (s2, t2) in zip(curve.points, curve.points[1:], strict=False):
        if s1 <= moment <= s2 and s2 > s1:
            return t1 + (t2 - t1) * (moment - s1) / (s2 - s1)
    return curve.points[-1][1]


def _in_words(
    curves: tuple[Curve, ...],
    limits: list[tuple[int, str]],
    taps: tuple[Tap, ...],
    figures: Figures,
    unit: str,
) -> str:
    said = [f"{words[:1].upper()}{words[1:]} {figures.celsius(t)} {unit}." for t, words in limits]
    for points, dashed in _told(curves):
        hottest = figures.celsius(max(t for _, t in points), 0)
        last = figures.celsius(points[-1][1], 0)
        words = (
            gettext("Dashed: hottest %(hot)s %(unit)s, last %(last)s %(unit)s.")
            if dashed
            else gettext("Hottest %(hot)s %(unit)s, last %(last)s %(unit)s.")
        )
        said.append(words % {"hot": hottest, "last": last, "unit": unit})
    if taps:
        said.append(gettext("Marked: %(taps)s.") % {"taps": ", ".join(tap.text for tap in taps)})
    return " ".join(said)


def _told(curves: tuple[Curve, ...]) -> list[tuple[list[Point], bool]]:
    """The points of all runs of one log as one course, and whether it is the dashed one; what was read after
    a lost probe tells nothing."""
    telling = [curve for curve in curves if not curve.faint]
    courses = [
        ([p for c in telling if c.dashed is dashed for p in c.points], dashed) for dashed in (False, True)
    ]
    return [(points, dashed) for points, dashed in courses if points]
