"""A procedure leaves decisions to fewer roles than the rights give, at the action and on the pages."""

import pytest
from django.test import Client
from django.urls import reverse

from qrecords.signoff.errors import LeftToOthersError
from tests.cast import Job, make_workshop, start
from tests.rights.scenes import BAD_JOURNAL
from tests.workshop.drafts import in_force

pytestmark = pytest.mark.django_db


def narrowed(**may_decide: list[str]) -> Job:
    shop = make_workshop()
    in_force(shop, may_decide={kind.replace("_", " "): roles for kind, roles in may_decide.items()})
    job = start(shop)
    job.receive()
    job.measure(readings=BAD_JOURNAL)
    job.bore()
    return job


def test_what_is_left_to_the_engineer_the_inspector_does_not_decide() -> None:
    job = narrowed(measure_again=["engineer"])
    with pytest.raises(LeftToOthersError) as refused:
        job.decide("measure again", "journal size", who="inspector")
    assert refused.value.roles == ("engineer",)
    job.decide("measure again", "journal size", who="engineer")


def test_a_mounting_under_another_procedure_is_not_narrowed() -> None:
    job = narrowed()
    job.decide("measure again", "journal size", who="inspector")


def test_the_record_offers_only_what_the_procedure_leaves_to_its_reader() -> None:
    job = narrowed(measure_again=["engineer"])
    job.own_reading()
    pages = {}
    for who in ("inspector", "engineer"):
        client = Client()
        client.force_login(job.shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
        about = {"about": job.finding("journal size").digest}
        pages[who] = client.get(reverse("decide", args=[job.mounting.id]), about).content.decode()
    assert 'value="measure again"' in pages["engineer"]
    assert 'value="measure again"' not in pages["inspector"]
