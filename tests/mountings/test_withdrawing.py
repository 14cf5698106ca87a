"""A mounting opened by mistake is withdrawn before heat, with its reason; what was recorded stays."""

import pytest
from django.test import Client

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.finishing import withdraw
from qrecords.mountings.errors import RefusedError, WhyWithdrawnError
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of, elsewhere_for
from qrecords.people.errors import NotAllowedError
from qrecords.steps.transitions import State, state_of
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
