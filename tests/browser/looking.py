"""A hand that looks at each page before it leaves it: what is filled, read, tapped, and where Tab goes."""

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.browser.hand import Hand

EYE = Path(__file__).with_name("looking.js").read_text().strip()
DRAWN_ANEW = "new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)))"
MOST_STOPS, AT_ONCE = 120, 6
"""On no page has Tab more places to go."""
Ratios = list[tuple[str, float]]


@dataclass(frozen=True)
class Scene:
    """A page as it was found: the taps filled with blue, the contrast of what is written and of each tap by
    scheme of colour, words that lie over other words, the words in view and all words, and what Tab found."""

    filled: list[str]
    ratios: dict[str, Ratios]
    edges: dict[str, Ratios]
    overlaid: list[str]
    text: str
    whole: str
    tab: dict[str, Any]


@dataclass
class LookingHand(Hand):
    scenes: dict[str, Scene] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.page.add_init_script(f"window.eye = {EYE}")

    def next(self) -> None:
        self.look()
        super().next()

    def send(self) -> None:
        self.look()
        super().send()

    def tap(self, selector: str, **options: Any) -> None:
        if selector.startswith(("[data-hot-tap]", ".blades")):
            self.look()
        super().tap(selector, **options)

    def look(self, name: str = "") -> None:
        """Keep what is found here, by the name given or the page's own."""
        seen = {}
        for scheme in ("dark", "light"):
            self.page.emulate_media(color_scheme=scheme, reduced_motion="reduce")  # type: ignore[arg-type]  # a scheme
            self.page.evaluate(DRAWN_ANEW)
            seen[scheme] = self.page.evaluate("eye.seen()")
        title = name or self._title()
        while title in self.scenes:
            title += ", again"
        self.scenes[title] = Scene(
            filled=seen["light"]["filled"],
            ratios={scheme: found["ratios"] for scheme, found in seen.items()},
            edges={scheme: found["edges"] for scheme, found in seen.items()},
            overlaid=seen["light"]["overlaid"],
            text=" ".join(seen["light"]["text"].split()),
            whole=" ".join(seen["light"]["whole"].split()),
            tab=self._tab(),
        )

    def _title(self) -> str:
        heading = self.page.locator("h1, .hot-button .word").last.text_content() or ""
        angle = self.page.locator("[data-asked-angle]").all_text_contents()
        return " ".join([*heading.split(), *angle]).rstrip(":")

    def _tab(self) -> dict[str, Any]:
        """Tab from the top of the page until it comes round."""
        self.page.evaluate("eye.follow()")
        for _some in range(MOST_STOPS // AT_ONCE):
            for _stop in range(AT_ONCE):
                self.page.keyboard.press("Tab")
            if self.page.evaluate("round"):
                break
        found: dict[str, Any] = self.page.evaluate("eye.stopped()")
        self.page.evaluate("scrollTo(0, 0)")
        return found
