"""What a page sends is recorded or refused aloud, never dropped: also late, too long or from a lost clock."""

import pytest
from django.contrib.auth.models import AnonymousUser
from django.http import HttpRequest, HttpResponse
from django.test import Client, RequestFactory
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.people.permissions import Action
from qrecords.proof.canonical import canonical_bytes
from qrecords.web.door import door
from tests.cast import Job, Workshop, start

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(shop: Workshop) -> Job:
    return start(shop)


@pytest.fixture
def fitter(shop: Workshop) -> Client:
    client = Client()
    client.force_login(shop.people["fitter"], backend="django.contrib.auth.backends.ModelBackend")
    return client


def tapped(client: Client, job: Job, what: str = "dropped", **fields: str) -> int:
    address = reverse("hot", args=[job.mounting.id])
    return client.post(address, {"entry_id": str(new_id()), "tap": what, **fields}).status_code


def captured(client: Client, job: Job, **fields: str) -> int:
    address = reverse("fit-receive", args=[job.mounting.id]) + "?part=ring"
    typed = {"identification.serial": "S-1"} | fields
    return client.post(address, {"entry_id": str(new_id()), **typed}).status_code


def entries(kind: str) -> int:
    return Entry.objects.filter(kind=kind).count()


@pytest.mark.parametrize(
    "told",
    ["2026-02-30T10:00:00Z", "0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-12:00", "yesterday"],
)
def test_a_device_clock_that_cannot_be_is_not_told_and_the_tap_is_kept(
    fitter: Client, job: Job, told: str
) -> None:
    assert tapped(fitter, job, at_device=told) == 302
    assert entries("tap") == 1


def test_a_release_too_long_for_an_entry_is_refused_as_too_large(fitter: Client, job: Job) -> None:
    assert tapped(fitter, job, "heater on", release="x" * 70_000) == 413
    assert entries("tap") == 0


def test_a_confirmed_number_no_instrument_shows_is_refused(fitter: Client, job: Job) -> None:
    address = reverse("fit-heat", args=[job.mounting.id]) + "?part=after"
    typed = {"heating.peak": "9" * 18, "sure:heating.peak": "9" * 18}
    assert fitter.post(address, {"entry_id": str(new_id()), **typed}).status_code == 422
    assert entries("capture") == 0


def test_what_has_no_canonical_form_is_shown_as_refused() -> None:
    def view(request: HttpRequest) -> HttpResponse:
        return HttpResponse(canonical_bytes({"peak": 2**53 + 1}))

    request = RequestFactory().post("/")
    request.user = AnonymousUser()
    answer = door(Action.PUBLIC)(view)(request)
    assert (answer.status_code, b"<h1>Not done</h1>" in answer.content) == (422, True)


def test_a_photo_address_of_dashes_is_not_found(fitter: Client) -> None:
    assert fitter.get(f"/mountings/{'-' * 36}/photos/{'0' * 64}/320/").status_code == 404


def test_a_tap_and_a_capture_after_ready_are_recorded(fitter: Client, job: Job) -> None:
    job.receive()
    job.ready()
    before = entries("capture")
    assert tapped(fitter, job) == 302
    assert captured(fitter, job) == 302
    assert (entries("tap"), entries("capture")) == (1, before + 1)


def test_a_tap_and_a_capture_after_the_signature_are_refused_aloud(fitter: Client, job: Job) -> None:
    job.whole()
    before = Entry.objects.count()
    assert tapped(fitter, job) == 409
    assert captured(fitter, job) == 409
    assert Entry.objects.count() == before
