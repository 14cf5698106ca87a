"""The pages of a work order: its machines, its places, both ends side by side, its release, and at how many
queries."""

import inspect
import re

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.errors import RefusedError
from qrecords.mountings.models import Mounting
from qrecords.signoff.models import RebuildRelease
from qrecords.signoff.rebuild_queries import shown_of_rebuild
from qrecords.steps import rebuild as steps_rebuild
from qrecords.steps.transitions import Refusal
from qrecords.web.refused import refused_words
from qrecords.workshop import actions as workshop
from qrecords.workshop.models import Bearing, Journal, Machine, Rebuild
from tests.cast import PASSWORD, Job, make_workshop, start
from tests.signoff.rebuilt import bare_place, other_end, release, signed_rebuild

pytestmark = pytest.mark.django_db


def desk(job: Job, who: str = "inspector") -> Client:
    client = Client()
    client.force_login(job.shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return client


def page(job: Job, who: str = "inspector", **query: str) -> str:
    answer = desk(job, who).get(reverse("rebuild", args=[job.rebuild.id]), query)
    assert answer.status_code == 200
    return text_of(answer)


def text_of(answer: HttpResponse) -> str:
    return answer.content.decode().split("<main", 1)[1]


def rows_of(html: str) -> dict[str, list[str]]:
    """The rows of the table of the ends, by caption."""
    table = html.split('<table class="table ends">', 1)[1].split("</table>", 1)[0]
    found = re.findall(r'<tr><th scope="row">(.*?)</th>(.*?)</tr>', table)
    return {caption: re.findall(r"<td[^>]*>(.*?)</td>", cells) for caption, cells in found}


def test_both_ends_stand_side_by_side_with_figures_and_people() -> None:
    job = signed_rebuild()
    other = other_end(job)
    other.receive()
    other.measure(readings={"A": ("15", "14", "15"), "B": ("14", "14", "15"), "C": ("14", "13", "14")})
    other.bore()
    rows = rows_of(page(job, "engineer"))
    assert rows["plane A"] == ["+18 +17 +18", "hidden"]
    other.own_reading("engineer")
    rows = rows_of(page(job, "quality"))
    assert rows["plane A"] == ["+18 +17 +18", "+15 +14 +15"]
    assert rows["fit"] == ["(22…24)", "(19…21)"]
    assert rows["peak"] == ["95", "–"]
    assert rows["gap"] == ["none", "–"]
    assert rows["performed"] == ["Fitter Person", "–"]
    assert rows["inspected"] == ["Inspector Person", "–"]


def test_the_same_digits_at_both_ends_are_shown() -> None:
    job = signed_rebuild()
    other = other_end(job)
    other.until_signature()
    assert "The same digits at both ends." in page(job, "quality")


def test_a_reader_who_has_still_to_read_the_ring_himself_is_shown_no_figure_of_it() -> None:
    job = signed_rebuild()
    other = other_end(job)
    other.receive()
    other.measure()
    rows = rows_of(page(job))
    assert rows["bearing"][1] == rows["lowest"][1] == "hidden"
    assert rows["bearing"][0] == "6212 C3 · L-77"


def test_every_machine_of_the_order_and_what_is_still_open() -> None:
    job = signed_rebuild()
    other_end(job)
    bare_place(job)
    second = workshop.register_machine(
        acting=job.shop.acting("fitter"), site=job.shop.site, machine_id=new_id(), name="Quarry pump 4",
        owner="Greyhallow quarry",
    )  # fmt: skip
    workshop.open_rebuild(
        acting=job.shop.acting("fitter"), rebuild_id=new_id(), machine=second, work_order="WO-1001"
    )
    html = page(job)
    assert "Quarry pump 3" in html and "Quarry pump 4" in html and "2 machines" in html
    assert "1 signed off, 1 still open, 1 place without a mounting" in html
    assert "nothing mounted yet" in html and "no mounting yet" in html


def test_the_inspector_releases_on_the_page_and_it_says_so_everywhere() -> None:
    job = signed_rebuild()
    client, address = desk(job), reverse("rebuild-release", args=[job.rebuild.id])
    assert job.rebuild.work_order in text_of(client.get(reverse("waiting"))).split('id="rebuild"', 1)[1]
    form = text_of(client.get(address))
    assert "This sign-off is not a statutory release of the machine." in form
    given = {
        "entry_id": re.search(r'name="entry_id" value="([^"]+)"', form)[1],  # type: ignore[index]
        "shown": re.search(r'name="shown" value="([^"]+)"', form)[1],  # type: ignore[index]
        "password": PASSWORD,
        "remark": "covers on",
    }
    wrong = client.post(address, given | {"password": "no"})
    assert wrong.status_code == 401 and "covers on" in text_of(wrong) and not RebuildRelease.objects.exists()
    assert client.post(address, given).status_code == 302
    assert "Released by Inspector Person" in page(job, "auditor")
    assert client.post(address, given).status_code == 302
    assert RebuildRelease.objects.count() == 1
    assert 'id="rebuild"' in (after := text_of(client.get(reverse("waiting"))))
    assert job.rebuild.work_order not in after.split('id="rebuild"', 1)[1].split("</section>", 1)[0]


def test_what_keeps_it_back_is_said_and_what_was_typed_stays() -> None:
    job = signed_rebuild()
    place = bare_place(job)
    client, address = desk(job), reverse("rebuild-release", args=[job.rebuild.id])
    shown = str(shown_of_rebuild(job.rebuild))
    answer = client.post(address, {"shown": shown, "password": PASSWORD, "remark": "covers on"})
    assert answer.status_code == 409
    assert "why it is left out: 1, middle" in text_of(answer) and "covers on" in text_of(answer)
    given = {"shown": shown, "password": PASSWORD, f"left_out.{place.id}": "a sleeve bearing"}
    assert client.post(address, given).status_code == 302
    assert "left out:</b> a sleeve" in page(job) or "a sleeve bearing" in page(job)


def test_the_scheme_of_the_machine_is_said_where_it_is_released() -> None:
    job = start(make_workshop())
    Machine.objects.filter(id=job.machine.id).update(scheme="lifting")
    form = text_of(desk(job).get(reverse("rebuild-release", args=[job.rebuild.id])))
    assert (
        "Machine scheme: lifting. Whoever it names releases the machine. This sign-off is not that release."
        in form
    )


def test_what_came_after_the_release_is_shown_as_such() -> None:
    job = signed_rebuild()
    release(job)
    job.photograph("seat")
    html = page(job, "auditor")
    assert "After release" in html and "came after the release" in html


def test_the_list_is_filtered_by_state_and_exported() -> None:
    job = signed_rebuild()
    client = desk(job, "auditor")
    ready = client.get(reverse("rebuilds"), {"state": "ready to be released"})
    assert job.rebuild.work_order in text_of(ready)
    assert job.rebuild.work_order not in text_of(client.get(reverse("rebuilds"), {"state": "released"}))
    lines = client.get(reverse("rebuilds"), {"as": "csv", "sort": "-live"}).getvalue().decode().splitlines()
    assert lines[0].endswith("state,signed off,still open,places without a signed mounting")
    assert lines[1].endswith("ready to be released,1,0,0")


def fill(job: Job, numbers: range) -> None:
    """Machines under the same order, by index rows alone, and places of this machine with a mounting."""
    site, at = job.shop.site, job.mounting.opened_at
    machines = [Machine(id=new_id(), site=site, name=f"P{n}", owner="Q", mark=f"{n:07d}") for n in numbers]
    journals = [
        Journal(id=new_id(), site=site, machine=job.machine, shaft=f"s{n}", position="DE") for n in numbers
    ]
    bearings = [Bearing(id=new_id(), site=site, designation="6212 C3") for _ in numbers]
    Machine.objects.bulk_create(machines)
    Journal.objects.bulk_create(journals)
    Bearing.objects.bulk_create(bearings)
    Rebuild.objects.bulk_create(
        Rebuild(id=new_id(), site=site, machine=m, work_order=job.rebuild.work_order, opened_at=at)
        for m in machines
    )
    Mounting.objects.bulk_create(
        Mounting(
            id=new_id(), site=site, number=f"T-{n}", journal=j, bearing=b, rebuild=job.rebuild, opened_at=at,
            procedure_digest=job.mounting.procedure_digest, opened_by=job.mounting.opened_by,
            state="closed as withdrawn",
        )
        for n, j, b in zip(numbers, journals, bearings, strict=True)
    )  # fmt: skip


def counted(job: Job, name: str, *args: object, who: str = "inspector") -> int:
    client = desk(job, who)
    with CaptureQueriesContext(connection) as captured:
        assert client.get(reverse(name, args=args)).status_code == 200
    return len(captured)


def test_ten_places_and_a_thousand_take_the_same_queries() -> None:
    job = signed_rebuild()
    fill(job, range(10))
    few = [counted(job, "rebuild", job.rebuild.id), counted(job, "rebuilds"), counted(job, "waiting")]
    fill(job, range(10, 1000))
    many = [counted(job, "rebuild", job.rebuild.id), counted(job, "rebuilds"), counted(job, "waiting")]
    assert few == many


def test_every_refusal_of_the_release_has_its_sentence() -> None:
    codes = set(re.findall(r'Refusal\(\s*"([a-z-]+)"', inspect.getsource(steps_rebuild)))
    for code in codes:
        facts = {"mountings": ("26-0001",), "places": ("1, DE",), "person": ""}
        words = refused_words(RefusedError("release of the rebuild", Refusal(code, facts)))
        assert len(words.split()) > 3
    assert len(codes) == 7


def certificate(job: Job, who: str = "auditor") -> HttpResponse:
    return desk(job, who).get(reverse("rebuild-certificate", args=[job.rebuild.id]))


def test_the_certificate_of_a_rebuild_has_each_mounting_with_its_facts() -> None:
    job = signed_rebuild()
    place = bare_place(job)
    unreleased = certificate(job).content.decode()
    assert "Not released: this is no certificate." in unreleased and "not released" in unreleased
    release(job, left_out={place.id: "a sleeve bearing"}, remark="covers on")
    html = certificate(job).content.decode()
    assert "Released by Inspector Person" in html and "covers on" in html
    assert job.mounting.number in html and "6212 C3 on 60 m6" in html and "Signed off." in html
    assert "Left out: shaft 1, middle" in html and "a sleeve bearing" in html
    assert "This sign-off is not a statutory release of the machine." in html
    assert 'class="a4"' in html and "sheet 1 of 1" in html


def test_the_certificate_keeps_back_what_its_reader_has_still_to_read() -> None:
    job = signed_rebuild()
    other = other_end(job)
    other.receive()
    other.measure()
    assert certificate(job, "inspector").status_code == 403
    assert certificate(job, "auditor").status_code == 200
