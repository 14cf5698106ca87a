"""A fitter's hand: every touch of the glass is counted, on the page, on the pad and in the camera."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.conf import settings
from django.test import Client
from playwright.sync_api import BrowserContext, Page

from tests.drawing import small_jpeg

if TYPE_CHECKING:  # the pictures of README are made without a database of our own
    from qrecords.people.models import Person

PHOTO_TAPS = 3
"""Opening the camera from the page, releasing the shutter, keeping the picture."""


@dataclass
class Hand:
    page: Page
    site: str
    taps: int = 0
    photos: int = 0

    def tap(self, selector: str, **options: Any) -> None:
        self.page.locator(selector).first.click(**options)
        self.taps += 1

    def choose(self, **answers: str) -> None:
        """One tap a question; `__` stands for the dot."""
        for name, value in answers.items():
            self.page.locator(f'input[name="{name.replace("__", ".")}"][value="{value}"]').first.check()
            self.taps += 1

    def write(self, name: str, text: str) -> None:
        """A tap into the input and one for every character."""
        self.page.locator(f'input[name="{name}"]').first.click()
        self.page.keyboard.type(text)
        self.taps += 1 + len(text)

    def press(self, keys: Iterable[str]) -> None:
        """Keys of the page's own keypad."""
        for key in keys:
            self.page.locator(f'[data-key="{key}"]').click()
            self.taps += 1

    def send(self) -> None:
        """The last key of the pad sends the form."""
        with self.page.expect_navigation():
            self.page.locator('[data-key="next"]').click()
        self.taps += 1

    def shown(self, words: str) -> None:
        """The page shows something by itself: no tap."""
        self.page.locator(f"text={words}").first.wait_for()

    def photograph(self, shot: str) -> None:
        picture = {
            "name": f"{shot}.jpg",
            "mimeType": "image/jpeg",
            "buffer": small_jpeg(f"{self.site}{shot}"),
        }
        with self.page.expect_response(lambda answer: answer.url.endswith("/photos/")):
            self.page.locator(f'input[name="shot.{shot}"]').set_input_files(picture)  # type: ignore[arg-type]  # a payload
        self.taps += PHOTO_TAPS
        self.photos += 1

    def next(self) -> None:
        with self.page.expect_navigation():
            self.page.locator(".tap-next").first.click()
        self.taps += 1


def come_in(context: BrowserContext, url: str, person: "Person") -> Page:
    """A page of somebody who signed in earlier: what signing in does is tried where it is the matter."""
    earlier = Client()
    earlier.force_login(person, backend="django.contrib.auth.backends.ModelBackend")
    name = settings.SESSION_COOKIE_NAME
    context.add_cookies([{"name": name, "value": earlier.cookies[name].value, "url": url}])
    return context.new_page()


def sign_in(page: Page, url: str, who: Mapping[str, str]) -> None:
    page.goto(f"{url}/sign-in/")
    page.fill("#sign_in", who["name"])
    page.fill("#password", who["password"])
    page.click("button.tap.next, button[type=submit]")
    page.wait_for_url(lambda address: "sign-in" not in address)
