"""What one leaves behind in the browser of a tablet that others use, and where a refusal leads back to."""

import pytest
from django.urls import reverse

from tests.cast import Job, make_workshop, start
from tests.web.desk import Desk, sit

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    return start(make_workshop())


@pytest.fixture
def fitter(job: Job) -> Desk:
    return sit(job.shop, "fitter", job)


def test_who_signs_out_leaves_no_page_and_no_photograph_in_the_cache_and_keeps_what_is_not_sent(
    fitter: Desk,
) -> None:
    answer = fitter.client.post(reverse("sign-out"))
    assert answer["Clear-Site-Data"] == '"cache"'  # of storage, where drafts lie, nothing
    assert fitter.client.get(reverse("my-mountings")).status_code == 302


def test_a_secret_that_is_shown_once_is_not_kept_by_the_browser(fitter: Desk) -> None:
    made = fitter.client.post(reverse("tokens"), {"label": "bench", "actions": "read"})
    assert "bench" in made.content.decode() and made["Cache-Control"] == "no-store"
    assert "no-store" not in fitter.client.get(reverse("tokens")).get("Cache-Control", "")


@pytest.mark.parametrize(
    ("came_from", "back"),
    [
        ("http://testserver/search/?q=6212", "http://testserver/search/?q=6212"),
        ("https://elsewhere.example/", "/"),
        ("//elsewhere.example/", "/"),
        ("", "/"),
    ],
)
def test_a_refusal_leads_back_to_a_page_of_ours_only(fitter: Desk, came_from: str, back: str) -> None:
    answer = fitter.client.get(reverse("people"), headers={"Referer": came_from})
    assert answer.status_code == 403
    assert f'<a class="tap" href="{back}">' in answer.content.decode()
