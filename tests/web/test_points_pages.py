"""The page of the points of a contract at a mounting, and what record and certificate say of them."""

import html
import re
from datetime import timedelta

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.queries import case_of
from tests.cast import Job, make_workshop, start
from tests.web.desk import main
from tests.workshop.drafts import pointed

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    return pointed()


def client_of(job: Job, who: str) -> Client:
    client = Client()
    client.force_login(job.shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return client


def words(answer: HttpResponse) -> str:
    text = html.unescape(main(answer.content.decode()))
    return " ".join(re.sub(r"<[^>]+>", " ", text).split())


def read(job: Job, page: str = "points", who: str = "fitter") -> str:
    answer = client_of(job, who).get(reverse(page, args=[job.mounting.id]))
    assert answer.status_code == 200
    return words(answer)  # type: ignore[arg-type]


def send(job: Job, page: str = "point-say", by: str = "fitter", **typed: str) -> HttpResponse:
    given = {"entry_id": str(new_id()), "point": "visit", **typed}
    return client_of(job, by).post(reverse(page, args=[job.mounting.id]), given)  # type: ignore[return-value]


def test_each_point_shows_its_wording_whom_it_concerns_and_how_it_stands(job: Job) -> None:
    page = read(job)
    assert "Fit seen witness · class surveyor Surveyor to be given one hour's notice of fit-up." in page
    assert "notice time 1 h" in page
    assert "class surveyor is told 1 h before." in page
    assert "Identity hold · inspector" in page and "waits for its release measurement of the journal" in page
    assert "waived by" not in page
    assert "waived by" in read(job, who="inspector")


def test_who_was_told_is_said_in_one_form_and_shown_to_fitter_and_inspector(job: Job) -> None:
    assert send(job, what="notified", who="E. Marlow", how="telephone").status_code == 302
    for reader in ("fitter", "inspector"):
        page = read(job, who=reader)
        assert "told E. Marlow, telephone, " in page and "Fitter Person" in page
        assert "E. Marlow was told. Work may begin when 1 h have gone by" in page


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"what": "notified", "who": "", "how": "telephone"}, "1 to 80 characters in one line"),
        ({"what": "notified", "who": "E. Marlow", "how": ""}, "1 to 200 characters in one line"),
        ({"what": "came", "who": "E. Marlow", "at": "soon"}, "a moment as YYYY-MM-DDThh:mm; empty: now"),
        ({"what": "waived", "who": "E. Marlow"}, "“waived” is not possible. Allowed: told, came"),
    ],
)
def test_what_is_missing_is_asked_beside_its_field_and_what_was_typed_stays(
    job: Job, typed: dict[str, str], said: str
) -> None:
    before = Entry.objects.count()
    answer = send(job, **typed)
    page = html.unescape(answer.content.decode())
    assert (answer.status_code, Entry.objects.count()) == (422, before)
    assert said in page
    assert all(
        f'value="{value}"' in page for name, value in typed.items() if name in ("who", "how") and value
    )


def test_the_moment_is_by_the_clock_of_the_site(job: Job) -> None:
    send(job, what="notified", who="E. Marlow", how="telephone", at="2026-03-02T07:30")
    (act,) = case_of(job.mounting).points
    assert act.told and act.told.isoformat() == "2026-03-02T07:30:00+00:00"


def test_what_was_said_by_mistake_is_struck_out(job: Job) -> None:
    send(job, what="came", who="E. Marlow")
    (act,) = case_of(job.mounting).points
    bare = send(job, what="taken back", instead_of=act.entry)
    assert bare.status_code == 422
    send(job, what="taken back", instead_of=act.entry, reason="it was another shaft")
    assert "taken back: it was another shaft" in read(job)


def test_a_mounting_without_points_has_no_such_page_and_no_link_to_it() -> None:
    plain = start(make_workshop())
    address = reverse("points", args=[plain.mounting.id])
    client = client_of(plain, "inspector")
    assert client.get(address).status_code == 404
    assert address not in client.get(reverse("inspect", args=[plain.mounting.id])).content.decode()


def test_the_record_leads_to_the_points_and_releases_a_hold_of_the_procedures_own(job: Job) -> None:
    job.receive()
    job.own_reading()
    inspector = client_of(job, "inspector")
    record = inspector.get(reverse("inspect", args=[job.mounting.id]))
    assert reverse("points", args=[job.mounting.id]) in record.content.decode()
    assert "Hold point Identity" in words(record)  # type: ignore[arg-type]
    shown = {"entry_id": str(new_id()), "hold": "identity", "shown": str(job.shown())}
    assert inspector.post(reverse("release", args=[job.mounting.id]), shown).status_code == 302
    assert job.finding("Identity").verdict == "conforming"
    strange = inspector.post(
        reverse("release", args=[job.mounting.id]), {**shown, "entry_id": str(new_id()), "hold": "lift"}
    )
    assert strange.status_code == 404


def test_the_certificate_says_what_happened_at_each_point(job: Job) -> None:
    send(job, what="notified", who="E. Marlow", how="telephone")
    job.shop.clock += timedelta(hours=2)
    send(job, "point-waive", "inspector", who="E. Marlow", reason="seen on the last shaft")
    page = read(job, "certificate", "auditor")
    assert "Fit seen (witness, class surveyor): told E. Marlow, telephone, " in page
    assert "waived by E. Marlow, " in page and "seen on the last shaft" in page
    assert "Papers (review, customer): nothing said." in page
