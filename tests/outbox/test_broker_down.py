"""With a broker set and not answering, recording goes on as if nothing were wrong."""

import socket
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from pytest_django import Settings

from qrecords.outbox.jobs import drain, enqueue
from tests.outbox.conftest import until

QUICK_S = 0.3


@pytest.fixture(params=["closed", "silent"])
def broker(request: pytest.FixtureRequest, settings: Settings, own_database: str) -> Iterator[None]:
    """A port where nobody listens, or where somebody takes the connection and never says a word."""
    listener = socket.socket()
    listener.bind(("127.0.0.1", 0))
    if request.param == "silent":
        listener.listen()
    settings.BROKER_URL = f"redis://127.0.0.1:{listener.getsockname()[1]}/0"
    yield
    listener.close()


@pytest.mark.usefixtures("broker")
def test_enqueueing_is_quick_and_the_sweep_does_the_job(
    notes: Path, caplog: pytest.LogCaptureFixture
) -> None:
    enqueue("note", path=str(notes), text="warm")  # the first one imports and starts the messenger
    began = time.monotonic()
    for _ in range(5):
        enqueue("note", path=str(notes), text="x")
    assert time.monotonic() - began < QUICK_S
    assert until(lambda: "did not take a wake-up" in caplog.text, 20)
    assert drain() == 6
    assert notes.read_text().count("\n") == 6
