"""Envelope version 1 is complete: later programs can add nothing to what is recorded today."""

from datetime import UTC, datetime, timedelta, timezone
from uuid import UUID

import pytest

from qrecords.ledger.envelope import (
    Envelope,
    File,
    Known,
    Pseudonym,
    RegisterObject,
    Versions,
    instant,
    same_statement,
)
from qrecords.ledger.errors import EnvelopeError
from tests.ledger.conftest import Stating

PERSON = UUID("018f0000-0000-7000-8000-000000000001")
OTHER = UUID("018f0000-0000-7000-8000-000000000002")


def full() -> Envelope:
    return Envelope(
        kind="capture.journal",
        id=UUID("018f0000-0000-7000-8000-000000000003"),
        site=UUID("018f0000-0000-7000-8000-000000000004"),
        mounting=UUID("018f0000-0000-7000-8000-000000000005"),
        object=RegisterObject("gauge", UUID("018f0000-0000-7000-8000-000000000006")),
        author=Pseudonym(PERSON, "aa"),
        sender=Pseudonym(OTHER, "bb"),
        device="tablet 4",
        counter=12,
        identity="pin",
        at_device=datetime(2026, 3, 4, 6, 5, 7, 123_456, timezone(timedelta(hours=1))),
        at_server=datetime(2026, 3, 4, 5, 5, 9, tzinfo=UTC),
        zone="Europe/Vienna",
        versions=Versions("0.1.0", "journal/1", "proc", "tables"),
        said={"reading": {"typed": "80,009", "unit": "mm", "value": "80009000"}},
        seen={"gauge": {"due": "2026-12-31"}},
        files=(File("cc", 2_800_000, "image/jpeg", "display"),),
        prev=UUID("018f0000-0000-7000-8000-000000000007"),
        reason="misread",
        known=Known(41, "dd"),
    )


def test_every_field_stands_where_readers_look_for_it() -> None:
    assert full().content() == {
        "v": 1,
        "kind": "capture.journal",
        "id": "018f0000-0000-7000-8000-000000000003",
        "site": "018f0000-0000-7000-8000-000000000004",
        "mounting": "018f0000-0000-7000-8000-000000000005",
        "object": {"type": "gauge", "id": "018f0000-0000-7000-8000-000000000006"},
        "author": {"person": str(PERSON), "hash": "aa"},
        "sender": {"person": str(OTHER), "hash": "bb"},
        "device": "tablet 4",
        "counter": 12,
        "identity": "pin",
        "at_device": "2026-03-04T05:05:07.123Z",
        "at_server": "2026-03-04T05:05:09.000Z",
        "zone": "Europe/Vienna",
        "versions": {"app": "0.1.0", "schema": "journal/1", "procedure": "proc", "tables": "tables"},
        "body": {
            "said": {"reading": {"typed": "80,009", "unit": "mm", "value": "80009000"}},
            "seen": {"gauge": {"due": "2026-12-31"}},
        },
        "files": [{"sha256": "cc", "size": 2_800_000, "media": "image/jpeg", "shot": "display"}],
        "prev": "018f0000-0000-7000-8000-000000000007",
        "reason": "misread",
        "known": {"index": 41, "hash": "dd"},
    }


CLIENT = {
    "kind": "other",
    "site": str(OTHER),
    "mounting": str(OTHER),
    "object": None,
    "author": {"person": str(OTHER), "hash": "aa"},
    "files": [],
    "prev": None,
    "reason": None,
    "body": {"said": {}, "seen": {"gauge": {"due": "2026-12-31"}}},
}
CIRCUMSTANCE = {
    "author": {"person": str(PERSON), "hash": "renewed"},
    "sender": None,
    "device": None,
    "counter": 99,
    "identity": "proved",
    "at_device": None,
    "at_server": "2027-01-01T00:00:00.000Z",
    "zone": "UTC",
    "versions": {},
    "known": None,
    "body": {"said": full().content()["body"]["said"], "seen": {}},
}


@pytest.mark.parametrize("field", sorted(CLIENT))
def test_another_word_from_the_person_is_another_statement(field: str) -> None:
    content = full().content()
    assert not same_statement(content, {**content, field: CLIENT[field]})


@pytest.mark.parametrize("field", sorted(CIRCUMSTANCE))
def test_other_circumstances_are_the_same_statement(field: str) -> None:
    content = full().content()
    assert same_statement(content, {**content, field: CIRCUMSTANCE[field]})


def test_a_mounting_comes_before_the_register_object(statement: Stating) -> None:
    assert full().subject() == full().mounting
    gauge = RegisterObject("gauge", OTHER)
    assert statement(mounting=None, object=gauge).subject() == OTHER


def test_a_time_without_a_zone_is_refused() -> None:
    with pytest.raises(EnvelopeError):
        instant(datetime(2026, 3, 4))  # noqa: DTZ001 - that is the point
