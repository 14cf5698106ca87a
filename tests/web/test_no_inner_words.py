"""No page shows how the program names things to itself: keys, fields, ids of rules and messages, Python's own
way of writing a value, or a place in a sentence that nobody filled."""

import html
import re
from collections.abc import Callable, Iterator

import pytest
from django.test import Client

from qrecords.steps.standard import RULES, STEPS
from tests.cast import Job, make_workshop, start
from tests.kept import once
from tests.web.fitter_hand import signed_in
from tests.web.test_every_address import PAGES, ROLES, filled, lets_in

pytestmark = pytest.mark.django_db
WORDS_OF_THE_WORKSHOP = frozenset({"set-up"})
"""Ids of rules that people say too."""
SLUGS = sorted({id for id in RULES if "-" in id} - WORDS_OF_THE_WORKSHOP)
INNER = {
    "a key": r"\b[a-z]{3,}(?:_[a-z0-9]+)+\b",
    "a field": rf"\b(?:{'|'.join(STEPS)})\.[a-z]",
    "a rule without its version": rf"(?<![\w-])(?:{'|'.join(SLUGS)})(?![\w/-])",
    "Python": r"\b(?:Decimal|UUID|Verdict|State|Absent|Value)[.(]|object at 0x|\{'|\['|\bNone\)|datetime\.",
    "a gap in a sentence": r"%\(\w+\)[sd]|\{\w+(?::\w+)?\}",
}
"""A symbol of a formula (`u_gauge`) is a letter or two with its index, and no key."""


def shown(page: str) -> str:
    """What can be read on a page, by eye or by ear; raw entries and commands stand in their own letters."""
    page = re.sub(r"<(script|style|pre|code)\b.*?</\1>", " ", page, flags=re.DOTALL)
    spoken = re.findall(r'(?:aria-label|alt|title|placeholder)="([^"]*)"', page)
    words = html.unescape(" ".join([re.sub(r"<[^>]*>", " ", page), *spoken]))
    return re.sub("second_fitter", "", words, flags=re.IGNORECASE)  # one of the cast signs in so


def inner_words(page: str) -> list[tuple[str, str]]:
    words = shown(page)
    return [
        (sort, words[max(0, found.start() - 30) : found.end() + 20])
        for sort, inner in INNER.items()
        for found in re.finditer(inner, words)
    ]


def opened() -> Job:
    return start(make_workshop())


def wholly_wrong() -> Job:
    """As much flagged, lacking and decided as one record holds."""
    job = start(make_workshop())
    job.say("identification", marking="6212", package="opened", lot="L-78")
    job.say(
        "preparation", edge_burrs="left", shoulder_burrs="left", fillet="too large", wiped="no",
        gear_ready="no", zone="no",
    )  # fmt: skip
    job.measure(readings={"A": ("9", "18", "40"), "B": ("17", "17", "18"), "C": ("9", "9", "9")})
    job.bore("5")
    job.say("heating", own_ceiling=("110", "°C"), own_ceiling_source="maker's sheet 4")
    job.heat(peak_c="140", press_s=12)
    for event in ("stuck", "dropped"):
        job.tap(event)
    job.say("seating", film="dry", went_home="stuck", dropped="yes", hammered="yes", held_by="hand")
    job.say("shoulder_gap", gap__0=("0", "mm"), gap__90=("0.05", "mm"), gap__180=("0.08", "mm"))
    job.say("running", turns="rough")
    job.photograph("seat")
    job.own_reading()
    job.decide("measure again", "turns-freely", who="inspector", reason="turn it again")
    return job


def signed() -> Job:
    job = start(make_workshop())
    job.whole()
    return job


def pages(job: Job, who: str) -> Iterator[tuple[str, str]]:
    """Every page that this one of the cast may look at."""
    client: Client = signed_in(job.shop, who)
    for address in PAGES:
        if lets_in(address.action, [ROLES[who]]):
            answer = client.get(filled(address, job))
            if answer.status_code == 200 and answer["Content-Type"].startswith("text/html"):
                yield address.name, answer.content.decode()


@pytest.mark.parametrize("who", list(ROLES))
@pytest.mark.parametrize("record", [opened, wholly_wrong, signed])
def test_no_page_shows_inner_words(record: Callable[[], Job], who: str) -> None:
    read = dict(pages(once(record), who))
    assert len(read) > 5
    found = {name: inner for name, page in read.items() if (inner := inner_words(page))}
    assert found == {}


@pytest.mark.parametrize(
    "page",
    [
        "<p>gauge: shoulder_gap</p>",
        '<a aria-label="seating.film">',
        "<p>journal-size: out</p>",
        "<p>Decimal('9')</p>",
        "<p>{mean_nm:um} µm left</p>",
    ],
)
def test_an_inner_word_is_seen(page: str) -> None:
    assert inner_words(page) != []


@pytest.mark.parametrize(
    "page", ["<p>u_gauge² + T_air</p>", "<p>journal-size/3</p>", "<code>verify_ledger</code>"]
)
def test_a_symbol_a_rule_with_its_version_and_a_command_are_none(page: str) -> None:
    assert inner_words(page) == []
