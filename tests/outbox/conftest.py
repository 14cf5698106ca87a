"""Jobs whose doing can be seen, and processes that do them."""

import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from django.conf import settings as django_settings
from pytest_django import Settings

from tests.outbox import settings as of_processes

ROOT = Path(__file__).parent.parent.parent
Starting = Callable[..., "subprocess.Popen[str]"]


@pytest.fixture(autouse=True)
def _handlers(settings: Settings) -> None:
    settings.OUTBOX_HANDLERS = of_processes.OUTBOX_HANDLERS


@pytest.fixture
def notes(tmp_path: Path) -> Path:
    """The file in which handlers leave their lines."""
    return tmp_path / "notes"


@pytest.fixture
def start(database_url: str, tmp_path: Path) -> Iterator[Starting]:
    """Starts `python ARGUMENTS` over the database of this test; every process is ended after the test."""
    running: list[subprocess.Popen[str]] = []

    def begin(*arguments: str, **environment: str) -> "subprocess.Popen[str]":
        given = {
            **os.environ,
            "DJANGO_SETTINGS_MODULE": "tests.outbox.settings",
            "QRECORDS_DATABASE": database_url,
            "QRECORDS_HOME": str(tmp_path),
            "QRECORDS_KEYS": str(django_settings.KEYS_DIR),
            **environment,
        }
        output = (tmp_path / f"output-{len(running)}").open("w")
        process = subprocess.Popen(  # noqa: S603 - our own program
            [sys.executable, *arguments], cwd=ROOT, env=given, text=True, stdout=output, stderr=output
        )
        running.append(process)
        output.close()
        return process

    yield begin
    for process in running:
        process.terminate()
    for process in running:
        try:
            process.wait(10)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait(5)


def until(holds: Callable[[], bool], seconds: float = 15.0) -> bool:
    """Whether it came to hold within so many seconds."""
    end = time.monotonic() + seconds
    while not holds():
        if time.monotonic() > end:
            return False
        time.sleep(0.02)
    return True
