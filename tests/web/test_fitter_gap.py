"""The gap at the shoulder as it is tapped: blades, quarters, what cannot be reached."""

import pytest
from django.test import Client

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.judging import judged_now
from tests.cast import Job, Workshop, start
from tests.web.fitter_hand import form_of

pytestmark = pytest.mark.django_db


def gap_page(client: Client, job: Job, **tapped: str) -> str:
    here = f"/mountings/{job.mounting.id}/cold/?part=gap"
    return client.post(here, form_of(client.get(here)) | tapped, follow=True).content.decode()


def test_more_asks_for_blades_together_at_the_quarter_chosen(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    text = gap_page(fitter, job, at="90", blade="more")
    assert "thickest blade or blades together" in text
    here = f"/mountings/{job.mounting.id}/cold/?part=gap"
    fitter.post(here, {"at": "180", "more": "0,15", "entry_id": str(new_id())})
    case = judged_now(job.mounting).case
    felt = case.value_of("shoulder_gap", "gap.180")
    assert felt is not None and felt.base == 150_000, "the quarter tapped last counts"
    assert case.said("shoulder_gap", "gap.90") is None


def test_a_blade_without_a_quarter_is_asked_back_and_kept(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    text = gap_page(fitter, job, at="", blade="0.05")
    assert "at which angle?" in text and '<input type="hidden" name="blade" value="0.05">' in text
    assert judged_now(job.mounting).case.answers == {}


def test_an_angle_that_cannot_be_reached_is_not_drawn_as_untried(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    text = gap_page(fitter, job, at="0", blade="cannot-reach")
    assert "0°: cannot reach" in text and ">0°: not yet tried" not in text
