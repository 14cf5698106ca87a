"""The taps of one heating under the time axis of its curve, to the same scale."""

from dataclasses import dataclass

from qrecords.web.pictures.coordinates import Label, Scale, line, text_width

LETTERS_PX, LANE_PX, CLEAR_PX = 14.0, 16.0, 10.0


@dataclass(frozen=True)
class Tap:
    """A tap under the time axis: the second it was made, and its words."""

    at_s: float
    text: str


@dataclass(frozen=True)
class TapAxis:
    """Where the axis lies, the lines from it down to the words, and the words."""

    y: float
    ticks: str
    labels: tuple[Label, ...]


def tap_axis(taps: tuple[Tap, ...], x: Scale, foot_px: float) -> TapAxis:
    """As many lanes of words over `foot_px` as the taps need, and the axis on top of them."""
    words = tap_words([(x.at(tap.at_s), text_width(tap.text, LETTERS_PX)) for tap in taps])
    y = foot_px - LANE_PX * (1 + max(lane for _, lane in words))
    ticks, labels = [], []
    for tap, (leftward, lane) in zip(taps, words, strict=True):
        at, down = x.at(tap.at_s), y + LANE_PX * lane
        ticks.append(line(at, y - 5, at, down + 8))
        anchor = "end" if leftward else "start"
        labels.append(Label.of(at + (-5 if leftward else 5), down + 14, tap.text, anchor))
    return TapAxis(y, "".join(ticks), tuple(labels))


def tap_words(places: list[tuple[float, float]]) -> list[tuple[bool, int]]:
    """Whether the words of each tap run to the left of it, and how far under the axis they stand, from
    (place, width) in px: none cover others, and no line down to words crosses any."""
    spans: list[tuple[float, float]] = []
    clear = float("inf")  # the first runs to the right
    for n, (at, wide) in enumerate(places):
        leftward = n > 0 and at >= clear
        spans.append((at - wide - CLEAR_PX, at) if leftward else (at, at + wide + CLEAR_PX))
        clear = clear if leftward else max(spans[-1][1], clear if n else 0)
    left = [span[1] == at for span, (at, _) in zip(spans, places, strict=True)]
    order = [n for n in reversed(range(len(places))) if not left[n]] + [n for n, it in enumerate(left) if it]
    lanes: dict[int, int] = {}
    for n in order:
        low, high = spans[n]
        met = [lane for other, lane in lanes.items() if spans[other][0] < high and low < spans[other][1]]
        lanes[n] = 1 + max(met, default=-1)
    return [(left[n], lanes[n]) for n in range(len(places))]
