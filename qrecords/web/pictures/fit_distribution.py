"""The fit distribution: how probable each interference is, between what is allowed.

One curve is the density of this fit, drawn to ±3.6 σ; a second, dashed, is what the classes alone would tell.
Both have the same area, so they share one height scale; where the second would be too flat to be read it is
left out. Limits, hatching and worked-out figures as everywhere (line kinds after ISO 128-2).
"""

import math
from dataclasses import dataclass

from django.utils.translation import gettext

from qrecords.web.pictures.coordinates import (
    Dimension,
    Label,
    Scale,
    box,
    head,
    line,
    path,
    px,
    step_of,
    steps_between,
    text_width,
)
from qrecords.wording.figures import ELLIPSIS, Figures

WIDTH, HEIGHT, LEFT, RIGHT, TOP, AXIS = 354.0, 226.0, 4.0, 350.0, 30.0, 138.0
FIGURES_Y, DIMENSION_Y, SHARES_Y = AXIS + 19, 188.0, 218.0
DRAWN_SIGMAS, PROBABLE_SIGMAS, STEPS = 3.6, 3.0, 48
FLATTEST = 5.0
"""A curve this many times lower than the other cannot be read beside it."""
LEAST_SPAN_NM = 1000.0
LETTERS_PX = 14.0


@dataclass(frozen=True)
class Bell:
    """A normal distribution of the interference, nm; σ is 0 where nobody knows it."""

    mean_nm: int
    sigma_nm: float


@dataclass(frozen=True)
class Shares:
    """What lies below and above the limits, as it is read (`0.4 %`)."""

    below: str
    above: str


@dataclass(frozen=True)
class FitDistribution:
    """Everything `parts/fit_distribution.html` places."""

    id: str
    width: str
    height: str
    title: str
    desc: str
    key: str
    """What the lines mean, as it stands below the picture."""
    outside: str
    limits: str
    limit_figures: tuple[Label, ...]
    axis: str
    axis_labels: tuple[Label, ...]
    zero: str
    behind: str
    bell: str
    mean: str
    mean_label: Label
    extensions: str
    probable: Dimension | None
    shares: tuple[Label, ...]


def fit_distribution(
    bell: Bell,
    *,
    figures: Figures,
    prefix: str,
    limits_nm: tuple[int, int] | None = None,
    shares: Shares | None = None,
    behind: Bell | None = None,
    unit: str = "µm",
    places: int = 0,
) -> FitDistribution:
    """How probable each interference is. In another `unit` all values are its thousandths. `shares` belong to
    `limits_nm`; `behind` is the fit as the classes alone tell it."""
    flat = not bell.sigma_nm or (behind is not None and behind.sigma_nm > FLATTEST * bell.sigma_nm)
    behind = None if flat else behind
    x, low, high, step = _scale(bell, behind, limits_nm)
    tallest = min(each.sigma_nm for each in (bell, behind) if each) if bell.sigma_nm else 1.0
    edges = [x.at(limit) for limit in limits_nm or ()]
    mean_x = x.at(bell.mean_nm)
    span, extensions = _probable(bell, x, figures, places)
    taken = [(edge, _half(figures.um(limit))) for edge, limit in zip(edges, limits_nm or (), strict=True)]
    ticks = [
        v for v in steps_between(low, high, step)
        if all(abs(x.at(v) - at) > half + _half(figures.um(v)) + 6 for at, half in taken)
    ]  # fmt: skip
    return FitDistribution(
        id=prefix,
        width=px(WIDTH),
        height=px(HEIGHT),
        title=gettext("How probable each interference is"),
        desc=_in_words(bell, limits_nm, shares, behind, figures, unit, places),
        key=_key(bell, behind, unit),
        outside=box(LEFT, TOP - 8, edges[0], AXIS) + box(edges[1], TOP - 8, RIGHT, AXIS) if edges else "",
        limits="".join(line(edge, TOP - 14, edge, AXIS + 6) for edge in edges),
        limit_figures=tuple(
            Label.of(at, FIGURES_Y, figures.um(limit), "middle", bold=True)
            for (at, _), limit in zip(taken, limits_nm or (), strict=True)
        ),
        axis=line(LEFT, AXIS, RIGHT, AXIS) + "".join(line(x.at(v), AXIS, x.at(v), AXIS + 5) for v in ticks),
        axis_labels=tuple(Label.of(x.at(v), FIGURES_Y, figures.um(v), "middle") for v in ticks),
        zero=line(x.at(0), TOP - 8, x.at(0), AXIS) if low < 0 < high else "",
        behind=_curve(behind, x, tallest) if behind else "",
        bell=_curve(bell, x, tallest) if bell.sigma_nm else line(mean_x, TOP, mean_x, AXIS),
        mean=line(mean_x, TOP - 6, mean_x, AXIS),
        mean_label=Label.of(
            _between(mean_x), TOP - 12, f"({figures.um(bell.mean_nm, places)})", "middle", bold=True
        ),
        extensions=extensions,
        probable=span,
        shares=_share_labels(limits_nm, shares, figures),
    )


def _scale(bell: Bell, behind: Bell | None, limits: tuple[int, int] | None) -> tuple[Scale, int, int, int]:
    """The scale, its first and last whole step inside, and the step."""
    ends = [*(limits or ()), bell.mean_nm]
    for each in (bell, behind):
        if each:
            reach = DRAWN_SIGMAS * each.sigma_nm
            ends += [round(each.mean_nm - reach), round(each.mean_nm + reach)]
    span = max(max(ends) - min(ends), LEAST_SPAN_NM)
    low, high = min(ends) - 0.12 * span, max(ends) + 0.12 * span
    x = Scale.between(low, LEFT, high, RIGHT)
    return x, math.ceil(low), math.floor(high), max(1, round(step_of(high - low, 8)))


def _curve(bell: Bell, x: Scale, tallest_nm: float) -> str:
    """The density from −3.6 σ to +3.6 σ; the narrowest curve reaches the top."""
    peak = (AXIS - TOP) * tallest_nm / bell.sigma_nm
    sigmas = [DRAWN_SIGMAS * (2 * n / STEPS - 1) for n in range(STEPS + 1)]
    return path(
        [(x.at(bell.mean_nm + s * bell.sigma_nm), AXIS - peak * math.exp(-s * s / 2)) for s in sigmas]
    )


def _probable(bell: Bell, x: Scale, figures: Figures, places: int) -> tuple[Dimension | None, str]:
    """The band of 99.73 % as a dimension under the axis, and its extension lines."""
    if not bell.sigma_nm:
        return None, ""
    left, right = _probable_ends(bell)
    words = f"({figures.um(left, places)}){ELLIPSIS}({figures.um(right, places)})"
    (start, end), letters_px = (x.at(left), x.at(right)), text_width(words, 15)
    span = Dimension.across(start, end, DIMENSION_Y, words, letters_px)
    aside = end - start <= letters_px + 40 and start < letters_px + 44
    if aside:  # no room for the words between the arrows nor on the left: above the line, as ISO 129-1 has it
        label = Label.of((start + end) / 2, DIMENSION_Y - 5, words, "middle")
        lines = line(start, DIMENSION_Y, end, DIMENSION_Y)
        heads = head(start, DIMENSION_Y, 180) + head(end, DIMENSION_Y, 0)
        narrow = end - start < 24  # arrows from outside
        span = Dimension(span.lines if narrow else lines, span.heads if narrow else heads, label)
    return span, "".join(line(at, FIGURES_Y + 4, at, DIMENSION_Y + 5) for at in (start, end))


def _probable_ends(bell: Bell) -> tuple[int, int]:
    reach = PROBABLE_SIGMAS * bell.sigma_nm
    return round(bell.mean_nm - reach), round(bell.mean_nm + reach)


def _half(text: str) -> float:
    return text_width(text, LETTERS_PX) / 2


def _between(x: float) -> float:
    """A label at a point, moved in from the edge of the paper."""
    return min(max(x, LEFT + 22), RIGHT - 22)


def _share_labels(
    limits: tuple[int, int] | None, shares: Shares | None, figures: Figures
) -> tuple[Label, ...]:
    if limits is None or shares is None:
        return ()
    low, high = (figures.um(limit) for limit in limits)
    below = gettext("below {limit}: ({share})").format(limit=low, share=shares.below)
    above = gettext("above {limit}: ({share})").format(limit=high, share=shares.above)
    return Label.of(LEFT, SHARES_Y, below), Label.of(RIGHT, SHARES_Y, above, "end")


def _key(bell: Bell, behind: Bell | None, unit: str) -> str:
    if not bell.sigma_nm:
        return gettext("Interference in {unit}; how far it spreads is not known.").format(unit=unit)
    said = gettext("Interference in {unit}; the band holds 99.73 %. Taken as normal: false for sorted parts.")
    dashed = gettext("Dashed: by the classes alone.") if behind else ""
    return f"{said.format(unit=unit)} {dashed}".strip()


def _in_words(
    bell: Bell,
    limits: tuple[int, int] | None,
    shares: Shares | None,
    behind: Bell | None,
    figures: Figures,
    unit: str,
    places: int,
) -> str:
    """The same in sentences: the mean, the band of 99.73 %, the limits and what lies outside of them."""

    def band(each: Bell) -> dict[str, str]:
        low, high = _probable_ends(each)
        return {
            "low": figures.um(low, places),
            "high": figures.um(high, places),
            "mean": figures.um(each.mean_nm, places),
            "unit": unit,
        }

    if not bell.sigma_nm:
        said = [
            gettext("Interference ({mean}) {unit}; how far it spreads is not known.").format(**band(bell))
        ]
    else:
        words = gettext("Interference ({mean}) {unit} on the mean, 99.73 % from ({low}) to ({high}).")
        said = [words.format(**band(bell))]
    if limits:
        words = gettext("Allowed {span} {unit}.")
        said.append(words.format(span=figures.span_um(*limits), unit=unit))
    if shares:
        said.append(gettext("({below}) lies below, ({above}) above.").format(**vars(shares)))
    if behind:
        words = gettext("By the classes alone ({mean}) {unit}, 99.73 % from ({low}) to ({high}); dashed.")
        said.append(words.format(**band(behind)))
    if bell.sigma_nm:
        said.append(gettext("Taken as normally distributed."))
    return " ".join(said)
