"""The parts as pages show them: every page of the look-book, read as a strict policy reads them."""

import re
from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest
from django.template.loader import render_to_string

from qrecords.web.lookbook import pages
from qrecords.web.parts import VERDICTS, Safety, Verdict

PAGES = {name: render_to_string(template, context) for name, (template, context) in pages().items()}
VOID = {"meta", "link", "input", "br", "img", "col"}


class Reader(HTMLParser):
    """Collects tags with their attributes and checks that what opens is closed."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag, f"</{tag}> closes something else"


@pytest.mark.parametrize("name", PAGES)
def test_every_page_closes_what_it_opens_and_uses_each_id_once(name: str) -> None:
    reader = Reader(PAGES[name])
    ids = [attrs["id"] for _, attrs in reader.tags if "id" in attrs]
    assert reader.open == []
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("name", PAGES)
def test_no_page_needs_more_than_its_own_scripts_and_styles(name: str) -> None:
    for tag, attrs in Reader(PAGES[name]).tags:
        assert "style" not in attrs
        assert not [key for key in attrs if key.startswith("on")]
        assert tag != "style"
        assert tag != "script" or (attrs.get("src") or "").startswith("/static/")


@pytest.mark.parametrize("name", PAGES)
def test_every_drawing_says_in_words_what_it_shows_or_is_only_ornament(name: str) -> None:
    drawings = re.findall(r"<svg.*?</svg>", PAGES[name], re.S)
    for text in drawings:
        root = ElementTree.fromstring(text)  # noqa: S314 - our own page
        if root.get("aria-hidden") == "true" or root.get("aria-label"):
            continue
        named = (root.get("aria-labelledby") or "").split()
        words = {child.get("id"): child.text for child in root if child.tag in ("title", "desc")}
        assert root.get("role") == "img"
        assert [bool(words[each]) for each in named] == [True, True]


@pytest.mark.parametrize("name", PAGES)
def test_every_drawing_carries_its_inks_for_readers_without_the_pages_styles(name: str) -> None:
    for text in re.findall(r"<svg[^>]*role=\"img\".*?</svg>", PAGES[name], re.S):
        for element in ElementTree.fromstring(text).iter():  # noqa: S314 - our own page
            if "d-ink" in (element.get("class") or "").split():
                assert element.get("stroke") is not None


@pytest.mark.parametrize("name", PAGES)
def test_every_input_has_a_name_a_reader_can_hear(name: str) -> None:
    reader = Reader(PAGES[name])
    labelled = {attrs.get("for") for tag, attrs in reader.tags if tag == "label"}
    for tag, attrs in reader.tags:
        if tag == "input" and attrs.get("type") not in ("hidden", "radio"):
            assert attrs.get("aria-label") or attrs.get("id") in labelled, attrs


@pytest.mark.parametrize("name", ["measure", "heat", "cold"])
def test_a_screen_has_one_filled_tap(name: str) -> None:
    shown = re.sub(r'<div class="no-script-only.*?</div>', "", PAGES[name], flags=re.S)
    filled = re.findall(r'class="(?:tap tap-next[^"]*|next|hot-button)"', shown)
    assert len(filled) == 1


@pytest.mark.parametrize("kind", VERDICTS)
def test_every_verdict_has_a_word_for_the_fitter_and_one_for_the_certificate(kind: str) -> None:
    assert Verdict(kind).word
    assert Verdict(kind, iso=True).word == kind.replace("-", " ")


def test_a_verdict_without_a_frame_is_refused() -> None:
    with pytest.raises(ValueError, match="no frame"):
        Verdict("fine")


def test_the_whole_safety_wording_stands_on_pages_that_guide_work() -> None:
    page = render_to_string("parts/safety.html", {"safety": Safety()})
    assert (
        "Guidance only. The law and codes where you work, your employer's risk assessment and permit, "
        "the makers' instructions and the drawing come first. Electrical isolation, lifting, welding and "
        "spraying, pressure equipment and grinding are for people qualified or licensed for them there. "
        "If in doubt, stop."
    ) in page


def test_a_machine_with_a_scheme_says_that_the_sign_off_is_not_its_release() -> None:
    page = render_to_string("parts/safety.html", {"safety": Safety(scheme="Scheme: lifting.")})
    assert "Scheme: lifting. This sign-off is not that release." in page


def test_a_long_hold_asks_for_a_nut_or_clamp() -> None:
    page = render_to_string("parts/safety.html", {"safety": Safety(long_hold=True)})
    assert "Use a nut or clamp, do not stand holding it." in page
