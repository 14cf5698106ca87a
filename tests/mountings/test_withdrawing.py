"""A mounting opened by mistake is withdrawn before heat, with its reason; what was recorded stays."""

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.finishing import withdraw
from qrecords.mountings.actions.opening import open_mounting
from qrecords.mountings.errors import RefusedError, WhyWithdrawnError
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of, elsewhere_for, withdrawn_before
from qrecords.people.actions import grant_role
from qrecords.people.errors import NotAllowedError
from qrecords.people.permissions import Role
from qrecords.steps.findings import Finding
from qrecords.steps.transitions import HELD_BY_THE_ENGINEER, State, state_of
from tests.cast import REQUIREMENT, Job, make_workshop, start
from tests.cast import again as other_end

pytestmark = pytest.mark.django_db
WHY = "opened on the wrong work order"


@pytest.fixture
def job() -> Job:
    made = start(make_workshop())
    made.receive()
    return made


def take_back(job: Job, who: str = "fitter", reason: str = WHY) -> None:
    withdraw(acting=job.shop.acting(who), mounting=job.mounting, entry_id=new_id(), reason=reason)


def state(job: Job) -> State:
    return state_of(case_of(job.mounting))


@pytest.mark.parametrize("who", ["fitter", "engineer"])
def test_who_opened_it_or_the_engineer_withdraws_it_and_what_was_said_stays(job: Job, who: str) -> None:
    take_back(job, who)
    assert state(job) == State.WITHDRAWN
    assert Mounting.objects.get(id=job.mounting.id).state == "closed as withdrawn"
    case = case_of(job.mounting)
    assert case.withdrawn == WHY and case.said("identification", "marking") is not None
    with pytest.raises(RefusedError):
        job.tap("heater on")


@pytest.mark.parametrize("who", ["second_fitter", "inspector", "auditor"])
def test_nobody_else_withdraws_it(job: Job, who: str) -> None:
    with pytest.raises(NotAllowedError):
        take_back(job, who)
    assert state(job) == State.OPEN


def test_a_reason_is_wanted(job: Job) -> None:
    with pytest.raises(WhyWithdrawnError):
        take_back(job, reason="  ")


def test_once_heated_it_is_not_withdrawn_any_more(job: Job) -> None:
    job.tap("heater on")
    with pytest.raises(RefusedError, match="heated"):
        take_back(job)


def test_a_withdrawn_mounting_is_nobodys_other_end(job: Job) -> None:
    job.measure()
    take_back(job)
    other = other_end(job.shop, job.machine, job.rebuild, "NDE", REQUIREMENT)
    assert elsewhere_for(other.mounting).other_end is None


def test_the_page_offers_it_to_who_may_and_shows_why_it_was_done(job: Job) -> None:
    address = f"/mountings/{job.mounting.id}/"
    pages = {}
    for who in ("fitter", "second_fitter", "engineer"):
        pages[who] = Client()
        pages[who].force_login(job.shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    offered = {who: "withdraw this mounting" in page.get(f"{address}sheet/").content.decode()
               for who, page in pages.items()}  # fmt: skip
    assert offered == {"fitter": True, "second_fitter": False, "engineer": True}
    shown = pages["fitter"].post(f"{address}withdraw/", {"reason": WHY}, follow=True).content.decode()
    assert "closed as withdrawn" in shown and WHY in shown and "withdraw this mounting" not in shown
    assert job.mounting.number not in pages["fitter"].get("/mountings/").content.decode()


TOO_SMALL = {"A": ("3", "3", "3"), "B": ("3", "3", "3"), "C": ("3", "3", "3")}


@pytest.fixture
def small(job: Job) -> Job:
    """The journal was measured, and does not conform."""
    job.measure(readings=TOO_SMALL)
    return job


def test_who_found_a_journal_not_to_conform_does_not_withdraw_what_he_found(small: Job) -> None:
    with pytest.raises(RefusedError, match="journal size") as caught:
        take_back(small)
    assert caught.value.code == "engineer-withdraws"
    assert state(small) == State.OPEN
    take_back(small, "engineer", "shaft goes for metal spraying, WO-1002")
    assert state(small) == State.WITHDRAWN


def test_what_is_not_proven_is_the_engineers_too(job: Job) -> None:
    job.measure(shaft_c="20")
    job.say("measurement", reason="read again", bearing=("27", "°C"))
    assert job.finding("one temperature").verdict == "not proven"
    with pytest.raises(RefusedError, match="one temperature"):
        take_back(job)


def test_an_engineer_who_worked_on_it_does_not_withdraw_it_either(small: Job) -> None:
    grant_role(
        acting=small.shop.proved("administrator"), site=small.shop.site, grant_id=new_id(),
        person=small.shop.people["engineer"], role=Role.FITTER,
    )  # fmt: skip
    small.tap("alarm", who="engineer")
    with pytest.raises(RefusedError, match="engineer-withdraws"):
        take_back(small, "engineer")


def test_once_it_is_decided_who_opened_it_withdraws_it(job: Job) -> None:
    job.measure(readings=dict.fromkeys("ABC", ("12", "12", "12")))
    job.bore()
    with pytest.raises(RefusedError, match="engineer-withdraws"):
        take_back(job)
    held = [f.characteristic for f in refused_for(job)]
    job.decide("concession", *held, reason="stress checked")
    take_back(job)
    assert state(job) == State.WITHDRAWN


def refused_for(job: Job) -> list[Finding]:
    judged = judged_now(job.mounting)
    return [f for f in judged.of_hold("fit") if f.verdict in HELD_BY_THE_ENGINEER]


def test_the_page_of_who_found_it_offers_no_withdrawal_and_says_why_it_is_refused(small: Job) -> None:
    address = f"/mountings/{small.mounting.id}/"
    page = Client()
    page.force_login(small.shop.people["fitter"], backend="django.contrib.auth.backends.ModelBackend")
    assert "withdraw this mounting" not in page.get(f"{address}sheet/").content.decode()
    told = page.post(f"{address}withdraw/", {"reason": WHY}, follow=True).content.decode()
    assert "does not withdraw it while this is undecided: Journal, worst reading" in told
    assert state(small) == State.OPEN


def test_the_next_mounting_on_this_journal_shows_what_the_withdrawn_one_found(small: Job) -> None:
    take_back(small, "engineer")
    second = open_mounting(
        acting=small.shop.acting("fitter"), mounting_id=new_id(), journal=small.journal,
        bearing=small.bearing, rebuild=small.rebuild,
    )  # fmt: skip
    for who, address in (
        ("fitter", f"/mountings/{second.id}/sheet/"),
        ("inspector", f"/mountings/{second.id}/inspect/"),
    ):
        page = Client()
        page.force_login(small.shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
        text = page.get(address).content.decode()
        shown = text.partition("Withdrawn before on this seat:")[2].partition("</section>")[0]
        assert small.mounting.number in shown and "Journal, worst reading" in shown, who


def test_what_was_withdrawn_before_the_last_signed_mounting_is_past(small: Job) -> None:
    take_back(small, "engineer")

    def on_it() -> Mounting:
        return open_mounting(
            acting=small.shop.acting("fitter"), mounting_id=new_id(), journal=small.journal,
            bearing=small.bearing, rebuild=small.rebuild,
        )  # fmt: skip

    signed = on_it()
    assert [each.id for each in withdrawn_before(signed)] == [small.mounting.id]
    Mounting.objects.filter(id=signed.id).update(state=State.SIGNED_OFF.value)
    assert list(withdrawn_before(on_it())) == []


@pytest.mark.parametrize(("who", "page"), [("fitter", "sheet"), ("inspector", "inspect")])
def test_many_withdrawn_attempts_cost_the_page_no_more_queries_than_one(
    small: Job, who: str, page: str
) -> None:
    client = Client()
    client.force_login(small.shop.people[who], backend="django.contrib.auth.backends.ModelBackend")

    def on_it() -> Mounting:
        return open_mounting(
            acting=small.shop.acting("fitter"), mounting_id=new_id(), journal=small.journal,
            bearing=small.bearing, rebuild=small.rebuild,
        )  # fmt: skip

    def queries(mounting: Mounting, withdrawn: int) -> int:
        address = f"/mountings/{mounting.id}/{page}/"
        client.get(address)
        with CaptureQueriesContext(connection) as taken:
            text = client.get(address).content.decode()
        assert text.count("Withdrawn before on this seat:") == withdrawn
        return len(taken)

    take_back(small, "engineer")
    mounting = on_it()
    few = queries(mounting, 1)
    for already in range(2, 5):
        withdraw(acting=small.shop.acting("fitter"), mounting=mounting, entry_id=new_id(), reason=WHY)
        mounting = on_it()
        assert queries(mounting, already) == few
