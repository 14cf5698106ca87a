"""The API over the cast of the tests: their clock, their people, their tokens."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from unittest.mock import patch

import pytest

from tests.api.caller import Caller
from tests.cast import Workshop, make_workshop


@pytest.fixture(autouse=True)
def _of_its_own(evidence_dir: Path) -> None:
    """Nothing is received into the folder of another test."""


@pytest.fixture
def shop(db: None) -> Iterator[Workshop]:
    """A workshop whose clock the API reads, so that a test of today holds in ten years. The cast acts without
    the API and tells its own time: what it did before it would do again."""
    made = make_workshop()

    def now() -> datetime:
        made.clock += timedelta(seconds=1)
        return made.clock

    with patch("qrecords.api.door.now", now), patch("qrecords.api.authentication.now", now):
        yield made
    assert made.clock.tzinfo is UTC


@pytest.fixture
def fitter(shop: Workshop) -> Caller:
    return Caller.by_token(shop, "fitter")


@pytest.fixture
def inspector(shop: Workshop) -> Caller:
    return Caller.by_session(shop, "inspector")
