"""Amending at a desk: opened with reason and password, shown with what changed, every certificate kept."""

import pytest
from django.urls import reverse

from qrecords.mountings.queries import case_of
from qrecords.steps.transitions import State, state_of
from tests.cast import PASSWORD, Job, make_workshop, start
from tests.kept import once
from tests.web.desk import Desk, beside, sit

pytestmark = pytest.mark.django_db


def _signed() -> Job:
    job = start(make_workshop())
    job.whole()
    return job


@pytest.fixture
def desk() -> Desk:
    job = once(_signed)
    return sit(job.shop, "inspector", job)


def amended(desk: Desk, *, signed: bool = True) -> None:
    desk.do("amend", reason="the field was read on the yoke", password=PASSWORD)
    desk.job.say("demagnetisation", reason="read again on the ring edge", field=("1.4", "A/cm"))
    if signed:
        desk.job.release("cold")
        desk.job.ready()
        desk.job.sign()


def test_a_signed_record_offers_to_be_amended_to_who_may() -> None:
    job = once(_signed)
    for who, may in (("inspector", True), ("engineer", True), ("fitter", False), ("auditor", False)):
        assert ("amend this record" in sit(job.shop, who, job).read()) is may


def test_it_is_asked_back_without_a_reason_and_without_the_right_password(desk: Desk) -> None:
    page = desk.do("amend", reason=" ", password=PASSWORD).content.decode()
    assert beside(page, "reason") == "Say what has to change, and why."
    page = desk.do("amend", reason="the yoke", password="not that").content.decode()
    assert "The password is not right." in beside(page, "password")
    assert 'value="the yoke"' in page
    assert state_of(case_of(desk.job.mounting)) == State.SIGNED_OFF


def test_what_changed_stands_beside_what_was_signed(desk: Desk) -> None:
    amended(desk, signed=False)
    page = " ".join(desk.read().split())
    for words in ("Amendment 1", "being made: not signed yet", "the field was read on the yoke", "0.9 A/cm",
                  "1.4 A/cm", "read again on the ring edge"):  # fmt: skip
        assert words in page


def test_the_fitter_is_told_what_to_amend_on_his_list_and_on_its_pages(desk: Desk) -> None:
    amended(desk, signed=False)
    fitter = sit(desk.job.shop, "fitter", desk.job).client
    for page in (reverse("my-mountings"), reverse("fit-close", args=[desk.job.mounting.id])):
        text = " ".join(fitter.get(page).content.decode().split())
        assert "amendment 1 of the signed record:</b> the field was read on the yoke" in text


def test_nothing_of_a_signed_record_is_kept_back_again_while_it_is_amended(desk: Desk) -> None:
    from tests.web.desk import make_pictures

    make_pictures()
    amended(desk, signed=False)
    page = desk.read()
    assert "What does the display say" not in page and "Hidden" not in page


def test_each_version_keeps_its_certificate(desk: Desk) -> None:
    amended(desk)
    address = {"mounting": desk.job.mounting.id}
    first = desk.client.get(reverse("certificate-version", kwargs=address | {"version": 0})).content.decode()
    newest = desk.read("certificate")
    assert "Amendment 1" in newest and "Amendment 1" not in first
    assert "<dt>amendment</dt><dd>1</dd>" in newest and "<dt>amendment</dt><dd>0</dd>" in first
    assert "1.4 A/cm" in newest and "1.4 A/cm" not in first
    assert "As it was signed before amendment 1" in first and "before amendment" not in newest
    assert desk.client.get(reverse("certificate-version", kwargs=address | {"version": 2})).status_code == 404


def test_while_it_is_made_the_certificate_is_the_one_that_was_signed(desk: Desk) -> None:
    amended(desk, signed=False)
    page = desk.read("certificate")
    assert "1.4 A/cm" not in page and "signed off" in page
    assert "Amendment 1 is being made" in page


def test_the_auditor_reads_what_was_amended_and_why(desk: Desk) -> None:
    amended(desk)
    job = desk.job
    address = reverse("mounting-trace", kwargs={"id": job.mounting.id})
    page = " ".join(sit(job.shop, "auditor", job).client.get(address).content.decode().split())
    assert "opened for amendment 1" in page
    assert "follows from it" not in page
    assert "read again on the ring edge" in page
