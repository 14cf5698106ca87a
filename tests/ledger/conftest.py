"""Statements to file."""

from collections.abc import Callable
from typing import Any
from uuid import UUID

import pytest

from qrecords.ledger.envelope import Envelope, Pseudonym, Versions
from qrecords.ledger.identifiers import new_id

FITTER = Pseudonym(UUID("018f0000-0000-7000-8000-000000000001"), "ab" * 32)
SITE = UUID("018f0000-0000-7000-8000-0000000000aa")

Stating = Callable[..., Envelope]


@pytest.fixture
def statement() -> Stating:
    """Makes an envelope of a capture; every field may be given."""

    def make(**given: Any) -> Envelope:
        fields: dict[str, Any] = {
            "kind": "capture.journal",
            "id": new_id(),
            "site": SITE,
            "mounting": new_id(),
            "author": FITTER,
            "sender": FITTER,
            "versions": Versions(app="0.1.0"),
            "said": {"reading": {"typed": "80,009", "unit": "mm", "value": "80009000"}},
        }
        return Envelope(**{**fields, **given})

    return make
