"""The whole job by three people, each in a browser of their own. Nobody types an address: everybody goes on
from the page that signing in leads to.

The ring gets 6 K too hot. That is recorded as it was and flagged; the inspector, who may accept so much
within the procedure, decides with a reason, the certificate says it, and the auditor finds it again.
"""

import re
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, ViewportSize, expect

from tests.browser.hand import Hand, sign_in
from tests.browser.standard_job import READINGS, check_cold, close, heat, measure, receive
from tests.cast import PASSWORD, Job
from tests.papers import pdf

PHONE, DESK = ViewportSize(width=390, height=844), ViewportSize(width=1280, height=800)
TOO_HOT_C = "126"
OVER = "6 K over 120 °C"
REASON = "126 °C for seconds only; brass cage, no temper colour, clearance as forecast."
PICTURES_WITHIN_S = 40
"""A worker may still be starting."""
WIDTHS_ONCE_LOADED = """() => Promise.all([...document.querySelectorAll("#photos img")].map(async picture => {
    picture.loading = "eager";
    await picture.decode();
    return picture.naturalWidth;
}))"""


@dataclass
class ThreePeople:
    fitter: Page
    inspector: Page
    auditor: Page


@contextmanager
def three_people(chromium: Browser, url: str, size: ViewportSize) -> Iterator[ThreePeople]:
    """Three people at devices of one size, signed in; what their consoles complain of fails the test."""
    complaints: list[str] = []
    devices: list[BrowserContext] = []
    for who in ("fitter", "inspector", "auditor"):
        device = chromium.new_context(
            viewport=size, has_touch=size is PHONE, locale="en-GB", ignore_https_errors=True
        )
        devices.append(device)
        page = device.new_page()
        page.on("console", lambda said: complaints.extend(_complaint(said)))
        page.on("pageerror", lambda error: complaints.append(str(error)))
        sign_in(page, url, {"name": who, "password": PASSWORD})
    yield ThreePeople(*(device.pages[0] for device in devices))
    for device in devices:
        device.close()
    assert complaints == []


def _complaint(said: ConsoleMessage) -> list[str]:
    """What a console complains of, but for a small picture that is still being made."""
    address = said.location["url"]
    return [f"{said.text} {address}"] if said.type == "error" and "/photos/" not in address else []


def whole_job(people: ThreePeople, job: Job) -> None:
    """Recorded, released before heat, flagged, decided, signed, found again."""
    number = job.mounting.number
    hand = Hand(people.fitter, str(job.mounting.id))
    hand.page.click(f"a:has-text('{number}')")
    receive(hand)
    measure(hand)
    open_from_waiting(people.inspector, number)
    read_the_marking(people.inspector)
    read_the_display(people.inspector)
    release(people.inspector, "fit")
    hand.shown("Released by Inspector Person")
    hand.next()
    heat(hand, peak_c=TOO_HOT_C)
    expect(hand.page.locator("main")).to_contain_text(OVER)
    check_cold(hand)
    open_from_waiting(people.inspector, number)
    release(people.inspector, "cold")
    hand.shown("Released by Inspector Person")
    hand.next()
    close(hand, PASSWORD)
    expect(hand.page.locator(f"a:has-text('{number}') .verdict")).to_have_text("out")
    decide(people.inspector, number)
    sign(people.inspector)
    leaf = read_certificate(people.inspector)
    find_again(people.auditor, number, leaf)


def open_from_waiting(page: Page, number: str) -> None:
    page.click("nav >> text=Waiting for you")
    page.click(f"a:text-is('{number}')")
    the_pictures_are_made(page)


def the_pictures_are_made(page: Page) -> None:
    """Looking again shows them, whole, whether a thread here makes them or a worker far away."""
    ends = time.monotonic() + PICTURES_WITHIN_S
    while page.locator("#photos .stand-in").count() and time.monotonic() < ends:
        page.wait_for_timeout(200)
        page.reload()
    expect(page.locator("#photos .stand-in")).to_have_count(0)
    edges_px = page.evaluate(WIDTHS_ONCE_LOADED)
    assert edges_px == [64] * len(edges_px) != []  # as wide as they were taken


def read_the_marking(page: Page) -> None:
    """Off the ring itself: until then nothing can be released."""
    expect(page.locator("#hold-fit button")).to_have_count(0)
    page.fill("#marking", "6212 C3")
    page.click("text=record my reading")


def read_the_display(page: Page) -> None:
    page.fill("#display-said", f"60.0{READINGS[0]}")
    page.click("text=compare")
    expect(page.locator("#display")).to_contain_text("You read what was typed at A 0°.")


def release(page: Page, hold: str) -> None:
    """On the inspector's own device."""
    page.click(f"#hold-{hold} button")
    expect(page.locator(".notices")).to_contain_text("Released")


def decide(page: Page, number: str) -> None:
    """The flag stands first with its photo beside it, and nothing can be signed before it is answered."""
    open_from_waiting(page, number)
    flag = page.locator("section.item")
    expect(flag).to_have_count(1)
    expect(flag.locator("h2")).to_contain_text("nonconforming Peak, inner ring")
    expect(flag).to_contain_text(OVER)
    expect(flag.locator("img")).to_be_visible()
    expect(page.locator("#sign-form")).to_have_count(0)
    expect(flag).to_contain_text("the curve of the heat: lacks")
    page.get_by_role("link", name="papers: letter, report, curve").click()
    page.select_option("#paper", "heating-curve")
    curve = {"name": "curve.pdf", "mimeType": "application/pdf", "buffer": pdf("curve of the heat")}
    page.set_input_files("#file", curve)
    page.get_by_role("button", name="hand in", exact=True).click()
    expect(page.locator("main")).to_contain_text("curve of the heat")
    page.get_by_role("link", name="back", exact=True).click()
    expect(flag).to_contain_text("the curve of the heat: here")
    flag.get_by_role("link", name="decide…").click()
    page.check("input[name=kind][value=accept]")
    page.fill("#reason", REASON)
    page.get_by_role("button", name="decide", exact=True).click()
    expect(page.locator("#decided")).to_contain_text("Peak, inner ring")


def sign(page: Page) -> None:
    page.fill("#sign-password", PASSWORD)
    page.click("text=sign: inspected")
    expect(page.locator("main")).to_contain_text("Signed off. The record is frozen.")


def read_certificate(page: Page) -> str:
    """What was out, decided where and why; gives the leaf of the sign-off as printed at its foot."""
    page.get_by_role("link", name="certificate", exact=True).first.click()
    sheet = page.locator(".a4").first
    expect(sheet).to_contain_text("Findings: 1 nonconforming, decided in")
    expect(sheet).to_contain_text(REASON)
    return re.sub(r"[^0-9a-f]", "", sheet.locator(".sheet-block .fixed").inner_text())


def find_again(page: Page, number: str, leaf: str) -> None:
    """From the lot on a box to the bearing's life, its record, a gauge's uses, certificate and proof."""
    page.fill("#q", "L-77")
    page.keyboard.press("Enter")
    page.click(f".index a.item:has-text('{number}')")
    page.click("text=every entry of this record")
    page.click("text=life of the bearing")
    expect(page.locator("h1")).to_have_text("Life of bearing 6212 C3")
    expect(page.locator("main")).to_contain_text(REASON)
    page.click("a:text-is('MICROMETER-1')")
    expect(page.locator("main")).to_contain_text(number)
    page.go_back()
    assert read_certificate(page) == leaf
    page.go_back()
    page.click("text=verify here")
    expect(page.locator(".holds")).to_contain_text("nothing was changed")
    expect(page.locator("main")).to_contain_text("all are here unchanged")
    page.go_back()
    page.click("text=every entry of this record")
    page.click("tr:has-text('signed: inspected over') .place a")
    expect(page.locator(".holds")).to_contain_text("Verified just now")
    expect(page.locator("main")).to_contain_text(leaf)
