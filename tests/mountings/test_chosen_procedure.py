"""A procedure is chosen by name when a mounting is opened; the workshop's own stands by default."""

import pytest
from django.test import Client
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.actions.opening import open_mounting
from qrecords.mountings.models import Mounting
from qrecords.proof.canonical import parse_canonical
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import ProcedureVersion
from qrecords.workshop.procedure_actions import withdraw_procedure
from tests.api.caller import Caller
from tests.cast import Job, Workshop, make_workshop, start
from tests.rights.web_doors import ORDER
from tests.workshop.drafts import in_force

pytestmark = pytest.mark.django_db
THEIRS = {"name": "Ostrey trams", "revision": "1", "contract": "Ostrey 2026-7"}


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


def opened(job: Job, name: str = "") -> Mounting:
    return open_mounting(
        acting=job.shop.acting("fitter"), mounting_id=new_id(), journal=job.journal, bearing=job.bearing,
        rebuild=job.rebuild, procedure_name=name,
    )  # fmt: skip


def name_of(mounting: Mounting) -> str:
    return ProcedureVersion.objects.get(digest=mounting.procedure_digest).name


def test_the_one_that_is_chosen_is_pinned_and_stands_in_the_entry(shop: Workshop) -> None:
    in_force(shop, **THEIRS)
    job = start(shop)
    assert name_of(job.mounting) == "HM-1"
    chosen = opened(job, "Ostrey trams")
    assert name_of(chosen) == "Ostrey trams"
    said = parse_canonical(bytes(Entry.objects.get(id=chosen.id).payload))["body"]["said"]
    assert said["procedure"] == "Ostrey trams"
    with pytest.raises(UnknownObjectError):
        opened(job, "nobody's")


def test_a_second_attempt_goes_on_under_the_contract_of_the_first_while_it_stands(shop: Workshop) -> None:
    version = in_force(shop, **THEIRS)
    job = start(shop)
    opened(job, "Ostrey trams")
    assert name_of(opened(job)) == "Ostrey trams"
    assert name_of(opened(job, "HM-1")) == "HM-1"
    opened(job, "Ostrey trams")
    assert version.draft is not None
    withdraw_procedure(
        acting=shop.proved("quality"), act_id=new_id(), draft=version.draft, reason="the contract ended"
    )
    assert name_of(opened(job)) == "HM-1"


def test_the_api_opens_under_the_name_it_is_told(shop: Workshop) -> None:
    in_force(shop, **THEIRS)
    job = start(shop)
    fitter = Caller.by_session(shop, "fitter")
    ids = {"journal": job.journal.id, "bearing": job.bearing.id, "rebuild": job.rebuild.id}
    id = new_id()
    fitter.act("mountings/", entry_id=id, procedure="Ostrey trams", **ids)
    assert name_of(Mounting.objects.get(id=id)) == "Ostrey trams"
    assert fitter.post("mountings/", entry_id=new_id(), procedure="x", **ids).status == 404


def test_the_order_form_asks_which_where_there_is_a_choice(shop: Workshop) -> None:
    client = Client()
    client.force_login(shop.people["fitter"], backend="django.contrib.auth.backends.ModelBackend")
    address = reverse("new-mounting")
    assert 'name="procedure"' not in client.get(address).content.decode()
    in_force(shop, **THEIRS)
    assert "Ostrey trams · Ostrey 2026-7" in client.get(address).content.decode()
    strange = client.post(address, {**ORDER, "entry_id": str(new_id()), "procedure": "x"})
    assert (strange.status_code, "a procedure in force at this site" in strange.content.decode()) == (
        422,
        True,
    )
    client.post(address, {**ORDER, "entry_id": str(new_id()), "procedure": "Ostrey trams"})
    assert name_of(Mounting.objects.get()) == "Ostrey trams"
