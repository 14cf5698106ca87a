"""The inks: the same on both ways to night paper, and legible by the WCAG 2.2 contrast formula."""

import re
from pathlib import Path

import pytest

STATIC = Path(__file__).resolve().parents[2] / "qrecords" / "static" / "qrecords"
LOOK = (STATIC / "look.css").read_text()


def inks(selector: str) -> dict[str, str]:
    """The colour tokens of one block of look.css."""
    block = LOOK.split(selector + " {", 1)[1].split("}", 1)[0]
    return dict(re.findall(r"--([a-z0-9-]+): (#[0-9A-F]{6});", block))


DAY = inks("\n:root")
NIGHT = inks('\n:root[data-theme="dark"]')


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2, definition of terms (sRGB)."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2."""
    bright, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (bright + 0.05) / (dark + 0.05)


def test_black_on_white_is_twenty_one_to_one() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)


def test_night_paper_is_the_same_whether_the_device_or_the_person_chose_it() -> None:
    assert inks('  :root:not([data-theme="light"])') == NIGHT


@pytest.mark.parametrize("paper", [DAY, NIGHT], ids=["day", "night"])
@pytest.mark.parametrize(
    ("text", "ground", "least"),
    [
        ("ink", "paper", 7),
        ("ink", "bench", 7),
        ("ink-2", "paper", 7),
        ("ink-2", "bench", 7),
        ("blue", "paper", 7),
        ("blue", "bench", 7),
        ("red", "paper", 7),
        ("ochre", "paper", 7),
        ("ochre", "ochre-wash", 7),
        ("red", "blue-wash", 6.6),
        ("blue", "blue-wash", 6.6),
        ("on-blue", "blue-fill", 6.6),
        ("on-out", "out-fill", 6.6),
        ("pencil", "paper", 3),
        ("pencil", "bench", 3),
    ],
)
def test_text_and_meaningful_lines_stand_out_from_their_ground(
    paper: dict[str, str], text: str, ground: str, least: float
) -> None:
    assert round(contrast(paper[text], paper[ground]), 1) >= least


def test_no_sheet_of_style_or_script_calls_the_internet() -> None:
    for path in STATIC.glob("*.*"):
        assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)", path.read_text()), path.name
