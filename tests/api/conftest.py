"""The API over the cast of the tests: their clock, their people, their tokens."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from pytest_django import Settings

from tests.api.caller import Caller
from tests.cast import Workshop, make_workshop


@pytest.fixture(autouse=True)
def evidence_dir(tmp_path: Path, settings: Settings) -> None:
    settings.EVIDENCE_DIR = tmp_path / "evidence"


@pytest.fixture
def shop(db: None, monkeypatch: pytest.MonkeyPatch) -> Iterator[Workshop]:
    """A workshop whose clock the API reads, so that a test of today holds in ten years."""
    made = make_workshop()

    def now() -> datetime:
        made.clock += timedelta(seconds=1)
        return made.clock

    monkeypatch.setattr("qrecords.api.door.now", now)
    monkeypatch.setattr("qrecords.api.authentication.now", now)
    yield made
    assert made.clock.tzinfo is UTC


@pytest.fixture
def fitter(shop: Workshop) -> Caller:
    return Caller.by_token(shop, "fitter")


@pytest.fixture
def inspector(shop: Workshop) -> Caller:
    return Caller.by_session(shop, "inspector")
