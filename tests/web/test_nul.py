"""A NUL character is refused at the door, in words, whichever way it comes."""

import json
import uuid

import pytest
from django.test import Client

pytestmark = pytest.mark.django_db


def test_a_query_string_with_nul_is_refused_in_one_line() -> None:
    answer = Client().get("/sign-in/?next=a%00b")
    assert answer.status_code == 400
    assert answer.content.decode().startswith("A NUL character cannot be recorded")


@pytest.mark.parametrize("fields", [{"username": "a\0b"}, {"user\0name": "a"}], ids=["value", "name"])
@pytest.mark.parametrize("form", ["urlencoded", "multipart"])
def test_a_form_with_nul_is_refused(fields: dict[str, str], form: str) -> None:
    if form == "multipart":
        answer = Client().post("/sign-in/", fields)
    else:
        body = "&".join(f"{name}={value}" for name, value in fields.items()).replace("\0", "%00")
        answer = Client().post("/sign-in/", body, "application/x-www-form-urlencoded")
    assert answer.status_code == 400


def test_an_address_or_a_cookie_with_nul_is_refused() -> None:
    client = Client()
    assert client.get("/sign-in/%00/").status_code == 400
    assert client.get("/sign-in/", headers={"Cookie": 'zone="a\\000b"'}).status_code == 400


def test_a_form_without_nul_passes() -> None:
    assert Client().post("/sign-in/", {"username": "a", "password": "b"}).status_code != 400


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16-le"])
def test_a_json_escape_of_nul_is_a_problem_document(encoding: str) -> None:
    body = json.dumps({"name": "a\0b"}).encode(encoding)
    answer = Client().post("/api/v1/tokens/", body, f"application/json; charset={encoding}")
    assert answer.status_code == 400
    assert answer.headers["Content-Type"] == "application/problem+json"
    assert answer.json()["code"] == "malformed"
    assert "NUL" in answer.json()["detail"]


def test_text_that_only_looks_like_the_escape_passes() -> None:
    body = json.dumps({"name": r"a\u0000b", "label": str(uuid.uuid4())})
    answer = Client().post("/api/v1/tokens/", body, "application/json")
    assert "NUL" not in answer.content.decode()
