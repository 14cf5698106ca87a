"""A form that is too long is refused by what it says of itself, unread, in words."""

import io
from typing import Any

import pytest
from django.core.files.uploadhandler import TemporaryFileUploadHandler
from django.test import Client
from pytest_django import Settings

from tests.cast import PASSWORD, Workshop, start
from tests.drawing import small_jpeg
from tests.web.desk import sit

pytestmark = pytest.mark.django_db
MB = 1_000_000


@pytest.fixture
def spooled(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The names of the files that were begun to be kept."""
    begun: list[str] = []
    new_file = TemporaryFileUploadHandler.new_file

    def noting(handler: Any, *args: Any, **named: Any) -> None:
        begun.append(str(args[0]))
        new_file(handler, *args, **named)

    monkeypatch.setattr(TemporaryFileUploadHandler, "new_file", noting)
    return begun


def long_file(name: str = "shot.package", size: int = 3 * MB) -> dict[str, io.BytesIO]:
    file = io.BytesIO(b"x" * size)
    file.name = "long.jpg"
    return {name: file}


@pytest.mark.parametrize("address", ["/sign-in/", "/healthz", "/nowhere/"])
def test_a_stranger_is_refused_before_anything_is_kept(address: str, spooled: list[str]) -> None:
    answer = Client().post(address, long_file())
    assert (answer.status_code, spooled) == (413, [])
    assert "4 MB were sent; at most 2 MB" in answer.content.decode()


def test_a_photo_form_of_who_is_signed_in_may_be_longer(shop: Workshop, spooled: list[str]) -> None:
    job = start(shop)
    photo = io.BytesIO(small_jpeg("package") + b"\0" * 3 * MB)
    photo.name = "package.jpg"
    answer = sit(shop, "fitter", job).client.post(
        f"/mountings/{job.mounting.id}/photos/", {"shot.package": photo}
    )
    assert answer.status_code != 413 and spooled == ["shot.package"]


def test_a_photo_form_has_its_bound_too(shop: Workshop, settings: Settings, spooled: list[str]) -> None:
    settings.LONGEST_PHOTO_FORM = 2_500_000
    job = start(shop)
    answer = sit(shop, "fitter", job).client.post(f"/mountings/{job.mounting.id}/photos/", long_file())
    assert (answer.status_code, spooled) == (413, [])
    assert "fewer photos at a time" in answer.content.decode()


def test_a_long_form_without_photos_is_refused_to_everybody(shop: Workshop) -> None:
    client = sit(shop, "fitter", start(shop)).client
    answer = client.post("/own-password/", "password=" + "x" * 3 * MB, "application/x-www-form-urlencoded")
    assert answer.status_code == 413


def test_a_length_that_is_none_is_no_length() -> None:
    fields = {"sign_in": "fitter", "password": PASSWORD}
    assert Client().post("/sign-in/", fields, CONTENT_LENGTH="many").status_code != 413
