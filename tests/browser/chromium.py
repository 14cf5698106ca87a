"""The headless browser of tests and pictures: the system's, or the one QRECORDS_TEST_CHROMIUM names.

The shell has the same engine without windows; it takes two thirds of the processor time.
"""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Browser, sync_playwright

NAMES = ("chromium-headless-shell", "chromium", "chromium-browser")


def path() -> str | None:
    """Where it lies; None where there is none."""
    given = os.environ.get("QRECORDS_TEST_CHROMIUM")
    return given or next(filter(None, map(shutil.which, NAMES)), None)


@contextmanager
def running(executable: str) -> Iterator[Browser]:
    """Hosts under .example, which nobody can own (RFC 2606), are this machine: a test's own nginx has such a
    name."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=executable, args=["--no-sandbox", "--host-resolver-rules=MAP *.example 127.0.0.1"]
        )
        yield browser
        browser.close()
