"""How the fitter's pages stand on every size of glass. Each page is opened once a glass and looked over."""

from collections.abc import Iterator, Mapping
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, Page
from pytest_django.live_server_helper import LiveServer
from pytest_django.plugin import DjangoDbBlocker

from tests.browser.hand import Hand, come_in
from tests.cast import Job, make_workshop, start
from tests.conftest import copy_of_the_database, served

pytestmark = [pytest.mark.browser, pytest.mark.layout]
PHONES = {"phone": (390, 844), "short phone": (390, 640), "small phone": (320, 640)}
"""Opened on each: a page puts the hand where it fits."""
OTHERS = {"tablet": (820, 1180), "desk": (1280, 800)}
"""The glass is turned or widened to these."""
PAGES = (
    "receive/", "measure/?part=gauge", "measure/?part=readings", "measure/?part=bore", "measure/?part=fit",
    "heat/?part=set-up", "hot/", "heat/?part=after", "cold/?part=seat", "cold/?part=temperatures",
    "cold/?part=gap", "cold/?part=rest", "cold/?part=hold", "close/", "sheet/", "../", "../new/",
)  # fmt: skip
FILLED = ("measure/?part=fit", "hot/", "cold/?part=gap", "cold/?part=hold")
WHOLE_SIZES = {
    f"journal__{plane}__{at}": (f"60.01{nth}5", "mm") for nth, plane in enumerate("ABC", 6) for at in (0, 60)
}
EYE = """(() => {
    const foot = () => {
        const found = document.querySelector('.at-foot');
        return found && getComputedStyle(found).position === 'sticky' ? found : null;
    };
    const hidden = (each) => {
        const own = each.getBoundingClientRect(), over = foot()?.getBoundingClientRect();
        if (!over || foot().contains(each)) return false;
        return (own.bottom > over.top + 1 && own.top < over.bottom - 1) || own.top < -1;
    };
    const typed = 'main :is(input:not([type=hidden], [type=file]), select)';
    const tapped = 'main :is(button, .tap, select, summary, a)';
    const all = (which) => [...document.querySelectorAll(which)].filter((each) => each.checkVisibility());
    return {
        inHand: () => {
            const own = document.activeElement;
            return own.matches('main input') && hidden(own) ? [own.name] : [];
        },
        sideways: () => (document.documentElement.scrollWidth > innerWidth ? ['the page'] : []),
        runTogether: () => all('.look-side .reading-grid input')
            .filter((each) => each.scrollWidth > each.clientWidth).map((each) => each.name),
        underTheFoot: () => all(typed).filter((each) => (each.focus(), hidden(each)))
            .map((each) => each.name),
        small: () => all(tapped).filter((each) => !each.closest('p') && !each.closest('.sr'))
            .filter((each) => (each.closest('.box') ?? each).getBoundingClientRect().height < 47.5)
            .map((each) => each.textContent.trim().slice(0, 30)),
        lowest: () => Math.max(...all('main :is(.tap, .hot-button)')
            .map((each) => each.getBoundingClientRect().bottom + scrollY)),
        settled: () => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 20))),
    };
})()"""
FAULTS = {
    "sideways": "has to be pushed sideways",
    "runTogether": "figures run over the edge of their cell",
    "inHand": "the cell the page puts the hand on lies under the foot",
    "underTheFoot": "a cell taken in hand lies under the foot",
    "small": "what is tapped is lower than 48 px",
}
Faults = Mapping[str, list[tuple[str, str, str]]]
"""By kind of fault: on which glass, which page, what."""


@pytest.fixture(scope="module")
def job(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[Job]:
    """A job before heat. Its pages are only looked at."""
    with copy_of_the_database(django_db_blocker), django_db_blocker.unblock():
        made = start(make_workshop(datetime.now(UTC) - timedelta(hours=1)))
        made.receive()
        made.measure()
        made.bore()
        made.say("measurement", reason="whole sizes", **WHOLE_SIZES)
        made.release("fit")
        yield made


@pytest.fixture(scope="module")
def server(job: Job) -> Iterator[LiveServer]:
    with served() as running:
        yield running


def at(server: LiveServer, job: Job, rest: str) -> str:
    return f"{server.url}/mountings/{job.mounting.id}/{rest}"


def open_at(page: Page, address: str, *, script: bool = True) -> None:
    """With script a page moves once more after it is loaded."""
    page.goto(address)
    page.evaluate(f"window.eye ??= {EYE}; null")
    if script:
        page.evaluate("eye.settled()")


def look(
    page: Page, kinds: tuple[str, ...], found: dict[str, list[tuple[str, str, str]]], *where: str
) -> None:
    for kind in kinds:
        found[kind] += [(where[0], where[1], what) for what in page.evaluate(f"eye.{kind}()")]


@pytest.fixture(scope="module", params=[True, False], ids=["with script", "without script"])
def faults(
    chromium: Browser, server: LiveServer, job: Job, request: pytest.FixtureRequest
) -> Iterator[Faults]:
    context = chromium.new_context(java_script_enabled=request.param, has_touch=True)
    page = come_in(context, server.url, job.shop.people["fitter"])
    found: dict[str, list[tuple[str, str, str]]] = {kind: [] for kind in FAULTS}
    for glass, (width, height) in PHONES.items():
        page.set_viewport_size({"width": width, "height": height})
        for rest in PAGES:
            open_at(page, at(server, job, rest), script=request.param)
            look(page, ("inHand", "sideways", "runTogether", "underTheFoot", "small"), found, glass, rest)
            for other, (wide, high) in OTHERS.items() if glass == "phone" else ():
                page.set_viewport_size({"width": wide, "height": high})
                look(page, ("sideways",), found, other, rest)
            page.set_viewport_size({"width": width, "height": height})
    yield found
    context.close()


@pytest.mark.parametrize("kind", FAULTS, ids=list(FAULTS.values()))
def test_nowhere(faults: Faults, kind: str) -> None:
    assert not faults[kind], "\n".join(map(str, faults[kind]))


def test_an_upright_tablet_is_filled_down_to_the_next_tap(
    chromium: Browser, server: LiveServer, job: Job
) -> None:
    context = chromium.new_context(viewport={"width": 820, "height": 1180}, has_touch=True)
    page = come_in(context, server.url, job.shop.people["fitter"])
    lowest = {}
    for rest in FILLED:
        open_at(page, at(server, job, rest))
        lowest[rest] = page.evaluate("eye.lowest()")
    context.close()
    assert {rest: foot for rest, foot in lowest.items() if foot < 1180 * 0.75} == {}


@pytest.mark.parametrize(("width", "height"), PHONES.values(), ids=list(PHONES))
def test_the_cell_in_hand_stays_in_sight_while_the_page_asks_back_and_the_verdict_grows(
    chromium: Browser, server: LiveServer, job: Job, width: int, height: int
) -> None:
    context = chromium.new_context(viewport={"width": width, "height": height}, has_touch=True)
    context.add_init_script(f"window.eye = {EYE}")
    page, hand = come_in(context, server.url, job.shop.people["fitter"]), []

    def look_at_hand(state: str) -> None:
        page.evaluate("eye.settled()")
        hand.extend((state, name) for name in page.evaluate("eye.inHand()"))

    fresh = start(job.shop, position="NDE")
    open_at(page, at(server, fresh, "measure/?part=gauge"))
    for name in ("shaft", "bearing", "gauge_temp", "air"):
        page.fill(f'[name="measurement.{name}"]', "200")
    with page.expect_navigation():
        page.evaluate("document.querySelector('form.two-hands-form').submit()")
    look_at_hand("four slips asked back")
    open_at(page, at(server, fresh, "measure/?part=readings"))
    for each in page.locator("[data-reading-grid] input").all():
        page.evaluate("scrollTo(0, 0)")
        each.focus()
        Hand(page, "").press([*"40", "next"])
        look_at_hand("readings, the verdict growing")
    context.close()
    assert hand == []
