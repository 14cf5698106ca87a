"""Makes the pictures of README anew: `.venv/bin/python -m tests.browser.screenshots`.

Loads the demonstration into a folder that is thrown away afterwards, serves it, and lets people of the hall
go on with their open work. Captions want the narrow face of Debian's fonts-liberation. Look at every picture
before it is committed.
"""

import io
import os
import re
import subprocess
import sys
import tempfile
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, Locator, Page, ViewportSize, expect

from tests.browser import chromium
from tests.browser.hand import Hand, sign_in
from tests.services.parts import Processes, free_port, until

ROOT = Path(__file__).resolve().parents[2]
DOCS = ROOT / "docs"
PHONE, DESK = ViewportSize(width=412, height=915), ViewportSize(width=1280, height=800)
PAPER = ViewportSize(width=900, height=1300)
COLOURS = 192
MOST_BYTES = 200_000


@contextmanager
def demonstration() -> Iterator[tuple[str, str]]:
    """The address of a demonstration of our own, and the password it prints for everybody."""
    with tempfile.TemporaryDirectory(prefix="qrecords-pictures-") as folder:
        home, port = Path(folder) / "home", free_port()
        (home / "static").mkdir(parents=True)
        environment = {name: value for name, value in os.environ.items() if not name.startswith("QRECORDS_")}
        environment["QRECORDS_HOME"] = str(home)
        manage = [sys.executable, str(ROOT / "manage.py")]
        for command in ("migrate", "install", "load_demo"):
            done = subprocess.run([*manage, command], env=environment, check=True, stdout=subprocess.PIPE)  # noqa: S603 - our own program
        password = re.findall(r"password (\S+)", done.stdout.decode())[0]
        programs = Processes(Path(folder))
        programs.start("serve", [*manage, "serve", "--port", str(port)], environment, ROOT)
        url = f"http://localhost:{port}"
        try:
            until(lambda: answers(url), "the demonstration answers", 120)
            yield url, password
        finally:
            programs.end()


def answers(url: str) -> bool:
    try:
        urllib.request.urlopen(f"{url}/healthz", timeout=2).close()  # noqa: S310 - our own address
    except OSError:
        return False
    return True


@dataclass
class Studio:
    """Where people sit down at a device, to be pictured."""

    browser: Browser
    url: str
    password: str

    def seat(self, who: str, size: ViewportSize) -> Page:
        device = self.browser.new_context(viewport=size, locale="en-GB", timezone_id="Europe/London")
        page = device.new_page()
        sign_in(page, self.url, {"name": who, "password": self.password})
        return page


def keep(name: str, seen: Page | Locator) -> None:
    """A picture in so few colours that it is small, and in so many that nothing looks wrong."""
    page = seen if isinstance(seen, Page) else seen.page
    page.evaluate("scrollTo(0, 0)")
    drawn = Image.open(io.BytesIO(seen.screenshot())).convert("RGB")
    file = DOCS / f"{name}.png"
    drawn.quantize(COLOURS, dither=Image.Dither.NONE).save(file, optimize=True)
    size = file.stat().st_size
    sys.stdout.write(f"{file.relative_to(ROOT)}  {drawn.width} × {drawn.height}  {size / 1000:.0f} kB\n")
    if size > MOST_BYTES:
        raise SystemExit(f"{file.name} is larger than {MOST_BYTES / 1000:.0f} kB")


def measuring(studio: Studio) -> Page:
    """The wind pump's seat, 40 k5: its sixth reading lies 1 µm inside the upper limit."""
    page = studio.seat("brandreth", PHONE)
    page.click("a:has-text('Wind pump gearbox')")
    Hand(page, "").press([*"40", "mark", *"012", "next"])
    expect(page.locator("#said-place .verdict")).to_have_text("too close to call")
    return page


def hot(studio: Studio) -> Page:
    """The pump shaft's ring is off the heater and on its way."""
    page = studio.seat("brandreth", PHONE)
    page.click("a:has-text('Pump motor 2')")
    page.locator("select").first.select_option(index=1)
    hand = Hand(page, "")
    hand.choose(heating__setup="on the core leg", heating__probe="inner ring")
    hand.next()
    for word in ("lifted off", "home"):
        page.click("[data-hot-tap]")
        expect(page.locator("[data-hot-tap] .word")).to_have_text(word)
    return page


def cold(studio: Studio) -> Page:
    """The winder's ring stands off the shoulder below the key: three places felt, the fourth to come."""
    page = studio.seat("pell", PHONE)
    page.click("a:has-text('Winder, idler shaft')")
    hand = Hand(page, "")
    hand.choose(
        seating__film="thin oil",
        seating__went_home="in one move",
        seating__dropped="no",
        seating__hammered="no",
        seating__held_by="nut",
    )
    hand.next()
    hand.press([*"19", "next", *"18"])
    hand.send()
    for blade in ("0.03 does not go in", "0.04", "0.06"):
        with page.expect_navigation():
            page.click(f".blades button:text-is('{blade}')")
    return page


def inspecting(studio: Studio) -> Page:
    """The sieve drum's journal is over its limit; the inspector has read ring and display himself."""
    page = studio.seat("delacour", DESK)
    page.click("tr:has-text('Sieve drum') a")
    page.fill("#marking", "6211 C3")
    page.click("text=record my reading")
    page.fill("#display-said", "55.018")
    page.click("text=compare")
    return page


def finding_again(studio: Studio) -> Page:
    """From a serial number to the life of its bearing."""
    page = studio.seat("lindqvaern", DESK)
    page.fill("#q", "TA-88213")
    page.keyboard.press("Enter")
    page.wait_for_selector(".index .here")
    return page


def certificate(studio: Studio) -> Locator:
    """The first sheet of the same bearing's certificate."""
    page = studio.seat("lindqvaern", PAPER)
    page.fill("#q", "TA-88213")
    page.keyboard.press("Enter")
    page.click("a:text-is('certificate')")
    return page.locator(".a4").first


def planning(studio: Studio) -> Page:
    """The planner's own example: no clearance left in one group, enough in the next, and how to heat that."""
    page = studio.seat("hollin", ViewportSize(width=1280, height=1000))
    page.goto(f"{studio.url}/planner/")
    page.click("text=see an example")
    return page


PICTURES: dict[str, Callable[[Studio], Page | Locator]] = {
    "measure": measuring,
    "hot": hot,
    "cold": cold,
    "inspect": inspecting,
    "life": finding_again,
    "plan": planning,
    "certificate": certificate,
}


def main() -> None:
    executable = chromium.path()
    if executable is None:
        raise SystemExit("No Chromium here (QRECORDS_TEST_CHROMIUM names one).")
    with demonstration() as (url, password), chromium.running(executable) as browser:
        studio = Studio(browser, url, password)
        for name, picture in PICTURES.items():
            keep(name, picture(studio))


if __name__ == "__main__":
    main()
