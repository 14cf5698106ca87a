"""Paper in a browser: the sheet fits its A4 pages, its code is read off the printed page, a finger draws on a
photo, and a shift start saves the first mounting of the day its choices."""

import io
import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, expect
from pytest_django.live_server_helper import LiveServer

from qrecords.mountings.queries import case_of
from tests.browser.hand import Hand, come_in
from tests.browser.standard_job import check_cold, close, heat, measure, receive
from tests.browser.test_inspector_desk import runs_over
from tests.cast import GEAR, Job, Workshop, add_gear, make_workshop, start
from tests.qr_reading import Matrix, read
from tests.web.desk import make_pictures

pytestmark = pytest.mark.browser
MOST_TAPS = 125
SHORT_PASSWORD = "blue lathe"
"""Ten characters, as short as is allowed: each is a touch."""


@pytest.fixture
def shop(server: LiveServer) -> Workshop:
    """Two of every kind: nothing is the only piece there is."""
    shop = make_workshop(datetime.now(UTC) - timedelta(hours=1))
    for key, (kind, document) in GEAR.items():
        add_gear(shop, f"{key}_2", kind, document)
    return shop


@pytest.fixture
def page(chromium: Browser, server: LiveServer, shop: Workshop) -> Iterator[Page]:
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    yield come_in(context, server.url, shop.people["fitter"])
    context.close()


def at(server: LiveServer, job: Job, rest: str) -> str:
    return f"{server.url}/mountings/{job.mounting.id}/{rest}"


@pytest.mark.layout
@pytest.mark.parametrize("filled", ["", "?filled=1"])
def test_the_paper_sheet_is_whole_on_its_pages(
    page: Page, server: LiveServer, shop: Workshop, filled: str
) -> None:
    job = start(shop)
    job.receive()
    job.measure()
    job.bore()
    job.release()
    page.goto(at(server, job, f"paper/{filled}"))
    assert runs_over(page) == []
    sheets = page.locator(".a4").count()
    assert sheets <= 5
    pdf = page.pdf(prefer_css_page_size=True)
    assert len(re.findall(rb"/Type\s*/Page\b", pdf)) == sheets
    high = page.locator(".box-8mm").evaluate_all("all => all.map(e => e.getBoundingClientRect().height)")
    assert min(high) >= 8 * 96 / 25.4 - 0.5, "boxes are 8 mm high"


@pytest.mark.layout
def test_the_blank_sheet_before_a_mounting_and_the_label_fit_their_pages(
    page: Page, server: LiveServer, shop: Workshop
) -> None:
    page.goto(f"{server.url}/paper-sheet/")
    assert runs_over(page) == []
    job = start(shop)
    page.goto(at(server, job, "label/"))
    assert len(re.findall(rb"/Type\s*/Page\b", page.pdf(prefer_css_page_size=True))) == 1


def modules_of(picture: bytes, size: int) -> Matrix:
    """A photographed code: cut out by its three corners, then the middle of each module, dark or light."""
    whole = Image.open(io.BytesIO(picture)).convert("L")
    seen = whole.crop(whole.point(lambda light: 255 * (light < 128)).getbbox())
    wide, high = seen.width / size, seen.height / size
    assert abs(seen.width - seen.height) < wide / 2, "a code is square"
    return [
        [seen.getpixel((int((c + 0.5) * wide), int((r + 0.5) * high))) < 128 for c in range(size)]  # type: ignore[operator]
        for r in range(size)
    ]


def test_the_code_is_read_off_the_printed_picture(
    chromium: Browser, server: LiveServer, shop: Workshop
) -> None:
    """At the 600 points an inch of a common printer."""
    job = start(shop)
    context = chromium.new_context(viewport={"width": 1280, "height": 900}, device_scale_factor=600 / 96)
    page = come_in(context, server.url, shop.people["fitter"])
    page.goto(at(server, job, "paper/"))
    page.emulate_media(media="print")
    code = page.locator(".qr svg").first
    size = int((code.get_attribute("viewBox") or "").split()[2])
    assert read(modules_of(code.screenshot(), size)) == at(server, job, "from-paper/")
    context.close()


def test_a_finger_draws_an_arrow(page: Page, server: LiveServer, shop: Workshop) -> None:
    job = start(shop)
    job.photograph("seat")
    make_pictures()
    page.goto(at(server, job, "sheet/"))
    page.get_by_role("link", name="draw", exact=True).first.click()
    picture = page.locator("input[type=image]")
    picture.tap(position={"x": 36, "y": 30})
    expect(page.get_by_role("status")).to_contain_text("Now touch where it goes to")
    picture.tap(position={"x": 180, "y": 90})
    expect(page.locator(".to-draw-on svg.marks path").first).to_be_attached()
    (drawing,) = case_of(job.mounting).marks
    arrow = drawing.marks[0].document()
    assert arrow["kind"] == "arrow"
    assert abs(arrow["from"][0] - 100) <= 4
    assert abs(arrow["to"][0] - 500) <= 4


def standard(page: Page, server: LiveServer, job: Job) -> Hand:
    """The first standard mounting of the day."""
    hand = Hand(page, str(job.mounting.id))
    page.goto(at(server, job, ""))
    receive(hand)
    measure(hand)
    job.shop.clock = datetime.now(UTC)
    job.release("fit")
    hand.shown("Released by Inspector Person")
    hand.next()
    heat(hand)
    check_cold(hand)
    job.shop.clock = datetime.now(UTC)
    job.release("cold")
    hand.shown("Released by Inspector Person")
    hand.next()
    close(hand, SHORT_PASSWORD)
    return hand


def test_after_a_shift_start_the_first_mounting_of_the_day_chooses_no_gear(
    chromium: Browser, page: Page, server: LiveServer, shop: Workshop
) -> None:
    """Two of every kind lie there. Everything is put forward by the shift: the same hand that works after an
    earlier mounting of the day works here."""
    page.goto(f"{server.url}/shift-start/")
    starting = Hand(page, "")
    for key in GEAR:
        starting.tap(f'input[name="gear"][value="{shop.gear[key].id}"]')
    starting.write("air", "20")
    starting.next()
    shop.people["fitter"].set_password(SHORT_PASSWORD)
    shop.people["fitter"].save()
    context = chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    page = come_in(context, server.url, shop.people["fitter"])
    job = start(shop)
    hand = standard(page, server, job)
    context.close()
    case = case_of(job.mounting)
    named = [case.gear(step, key) for step, key in (("measurement", "gauge"), ("heating", "heater"),
             ("shoulder_gap", "feeler"), ("demagnetisation", "meter"))]  # fmt: skip
    assert [gear.id if gear else "" for gear in named] == [
        str(shop.gear[key].id) for key in ("micrometer", "heater", "feeler", "meter")
    ]
    assert starting.taps <= 11
    assert hand.taps <= MOST_TAPS
