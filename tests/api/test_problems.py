"""Errors are problem documents with stable codes, and no input brings out more than that."""

import json
from typing import Any

import pytest
from django.db import OperationalError

from qrecords.api import problems
from qrecords.ledger.identifiers import new_id
from tests.api.caller import Caller
from tests.cast import Workshop, start

HOSTILE: dict[str, bytes] = {
    "no JSON": b"{",
    "NaN": b'{"entry_id": NaN}',
    "not UTF-8": b'{"name": "\xff"}',
    "half a surrogate pair": b'{"name": "\\ud800"}',
    "a null character": b'{"name": "a\\u0000b"}',
    "ten thousand brackets": b"[" * 10_000,
    "a number of ten thousand digits": b'{"entry_id": ' + b"9" * 10_000 + b"}",
    "a list": b"[1, 2]",
    "a text": b'"x"',
    "null": b"null",
    "nothing": b"",
}


@pytest.mark.parametrize("content", HOSTILE.values(), ids=HOSTILE)
@pytest.mark.parametrize("address", ["machines/", "bearings/", "tokens/"])
def test_a_body_that_is_none_is_malformed(fitter: Caller, address: str, content: bytes) -> None:
    refused = fitter.send("POST", address, content)
    assert (refused.status, refused.code) == (400, "malformed")
    assert refused.response["Content-Type"] == "application/problem+json"


def test_a_body_beyond_the_bound_is_too_large(fitter: Caller) -> None:
    content = json.dumps({"name": "x" * 3_000_000}).encode()
    refused = fitter.send("POST", "machines/", content)
    assert (refused.status, refused.code) == (413, "too-large")


@pytest.mark.parametrize("content_type", ["text/html", "multipart/form-data; boundary=x", "image/png"])
def test_a_body_of_another_kind_is_not_read(fitter: Caller, content_type: str) -> None:
    refused = fitter.send("POST", "machines/", b"--x", content_type)
    assert (refused.status, refused.code) == (415, "media-type")


@pytest.mark.parametrize("address", ["nothing/", "mountings/not-a-uuid/", "mountings", "openapi.yaml"])
def test_an_address_that_is_none_is_said_as_a_problem(fitter: Caller, address: str) -> None:
    refused = fitter.get(address)
    assert (refused.status, refused.code) == (404, "not-found")


def test_a_method_that_is_none_is_said_as_a_problem(fitter: Caller) -> None:
    refused = fitter.delete("machines/")
    assert (refused.status, refused.code) == (405, "method")


def test_a_key_that_is_not_known_is_refused_and_named(fitter: Caller) -> None:
    refused = fitter.post("machines/", entry_id=new_id(), name="Pump", owner="Quarry", author="me")
    assert refused.document["fields"] == [{"field": "author", "code": "malformed", "why": "not known here"}]


@pytest.mark.parametrize(
    "query",
    [{"state": "melted"}, {"after": "x"}, {"colour": "red"}, {"designation": "a\x00b"}, {"designation": ""}],
)
def test_a_query_that_is_none_is_malformed(fitter: Caller, query: dict[str, str]) -> None:
    assert (fitter.get("mountings/", **query).status, fitter.get("mountings/", **query).code) == (
        400,
        "malformed",
    )


@pytest.mark.parametrize(
    "moment", ["yesterday", "2026-03-04T05:06:07", "0001-01-01T00:00:00+14:00", "2026-13-01T00:00:00Z", 7]
)
def test_a_moment_without_its_zone_is_malformed(shop: Workshop, fitter: Caller, moment: Any) -> None:
    address = f"mountings/{start(shop).mounting.id}/taps/"
    refused = fitter.post(address, entry_id=new_id(), what="alarm", at_device=moment)
    assert (refused.status, refused.document["fields"][0]["field"]) == (400, "at_device")


def test_a_busy_database_is_said_and_may_be_asked_again() -> None:
    answered = problems.problem(OperationalError("database is locked"), {})
    assert (answered.status_code, answered.data["code"]) == (503, "busy")
    assert answered["Retry-After"] == "1"


def test_what_nobody_foresaw_is_logged_and_told_without_a_trace(caplog: pytest.LogCaptureFixture) -> None:
    answered = problems.problem(RuntimeError("secret of the house"), {})
    assert (answered.status_code, answered.data["code"]) == (500, "internal")
    assert "secret" not in json.dumps(answered.data)
    assert "secret of the house" in caplog.text
