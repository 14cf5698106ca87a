"""A headless Chromium for pages that are driven as a person drives them; skipped where there is none."""

import os
import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, sync_playwright


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """One browser for all tests of this run."""
    path = (
        os.environ.get("QRECORDS_TEST_CHROMIUM")
        or shutil.which("chromium")
        or shutil.which("chromium-browser")
    )
    if path is None:
        pytest.skip("no Chromium here (QRECORDS_TEST_CHROMIUM names one)")
    # Playwright keeps an event loop in this thread; the database is asked here only between its calls.
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield browser
        browser.close()
    del os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"]
