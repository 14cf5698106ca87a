"""The inspector's record page: what it shows to whom, and what stands beside what."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from qrecords.evidence.models import StoredFile
from qrecords.steps.answers import Absent, State
from qrecords.wording.figures import with_unit
from tests.cast import REQUIREMENT, Job, Workshop, again, start
from tests.web.desk import LOW, Desk, main, make_pictures, sit

pytestmark = pytest.mark.django_db


def test_what_is_to_come_of_open_work_does_not_call_the_inspector(desk: Desk) -> None:
    page = desk.read()
    assert "needs you: 2" in page
    assert "25 to come" in page


def test_what_is_not_yet_done_is_framed_as_missing_only_once_the_fitter_has_said_ready(desk: Desk) -> None:
    page = main(desk.read())
    assert "verdict-missing" not in page
    assert page.count("not yet read") == 2
    desk.job.ready()
    assert "verdict-missing" in main(desk.read())


def test_a_photo_stands_in_one_block_with_the_number_it_shows(shop: Workshop) -> None:
    job = start(shop)
    job.receive()
    job.measure(readings=LOW)
    job.photograph("micrometer")
    make_pictures()
    desk = sit(shop, "engineer", job)
    desk.do("read-display", display="60.018")
    item = desk.read().split('class="item"><h2', 1)[1].split("</section>", 1)[0]
    block = item.split('<div class="photo-beside">', 1)[1]
    assert "<img" in block and "<dt>found</dt>" in block


def test_a_photo_is_shown_from_its_derivative_and_only_to_its_own_mounting(desk: Desk) -> None:
    desk.job.photograph("micrometer")
    make_pictures()
    sha256 = StoredFile.objects.get().sha256
    other = start(desk.job.shop)
    address = desk.at("inspect").replace("inspect/", f"photos/{sha256}/320/")
    shown = desk.client.get(address)
    assert shown.headers["Content-Type"] == "image/jpeg"
    assert "sandbox" in shown["Content-Security-Policy"] and shown["X-Content-Type-Options"] == "nosniff"
    b"".join(shown.streaming_content)  # type: ignore[attr-defined]  # read to its end, so that it is closed
    elsewhere = address.replace(str(desk.job.mounting.id), str(other.mounting.id))
    assert desk.client.get(elsewhere).status_code == 404


def test_an_original_is_handed_out_as_a_file_never_inline(desk: Desk) -> None:
    desk.job.photograph("micrometer")
    sha256 = StoredFile.objects.get().sha256
    answer = desk.client.get(desk.at("inspect").replace("inspect/", f"photos/{sha256}/original/"))
    assert answer.headers["Content-Disposition"].startswith("attachment")
    assert "sandbox" in answer["Content-Security-Policy"] and answer["X-Content-Type-Options"] == "nosniff"
    b"".join(answer.streaming_content)  # type: ignore[attr-defined]  # read to its end, so that it is closed


def test_an_auditor_reads_the_record_and_finds_nothing_to_press(shop: Workshop, job: Job) -> None:
    page = main(sit(shop, "auditor", job).read())
    assert "<form" not in page
    assert "6212 C3" in page


def test_both_ends_and_the_last_rebuild_stand_beside_this_one(shop: Workshop, job: Job) -> None:
    other = again(shop, job.machine, job.rebuild, "NDE", REQUIREMENT)
    other.receive()
    other.measure(readings={"A": ("20", "21", "20")})
    page = sit(shop, "inspector", job).read()
    table = page.split('class="table comparison"', 1)[1].split("</table>", 1)[0]
    assert "NDE" in table
    assert "+21" in table


def test_the_page_costs_the_same_queries_whatever_has_been_recorded(desk: Desk) -> None:
    def queries() -> int:
        with CaptureQueriesContext(connection) as taken:
            desk.read()
        return len(taken)

    desk.do("own-reading", marking="6212 C3")
    desk.read()
    few = queries()
    for _ in range(5):
        desk.job.tap("heater on")
        desk.job.tap("lifted off")
    desk.job.say("running", turns="smooth")
    assert queries() == few


def test_a_lost_bore_shows_where_the_fit_can_lie(shop: Workshop) -> None:
    job = start(shop, interference_um=["13", "48"])
    job.receive()
    job.measure()
    job.say("bore", source=Absent(State.NOT_POSSIBLE, "reading lost, the ring is on"))
    page = sit(shop, "inspector", job).read()
    # Journal +16…+18, bore 0…−15 by its class (ISO 492 Normal, 60 mm): 16…33.
    assert "interference can lie anywhere in 16…33 µm and must lie in 13…48 µm." in page


def test_the_page_of_another_site_is_not_found(desk: Desk) -> None:
    elsewhere = reverse("inspect", kwargs={"mounting": "01980000-0000-7000-8000-000000000000"})
    assert desk.client.get(elsewhere).status_code == 404


def test_what_is_unusual_or_only_information_stands_beside_the_findings(shop: Workshop) -> None:
    job = start(shop, kinds=["polyamide_cage"])
    job.receive()
    job.measure()
    job.bore()
    job.heat(peak_c="110", release=job.leaf(job.release("fit")))
    desk = sit(shop, "inspector", job)
    page = desk.read()
    beside_them = page[page.index('id="remarks"') :].partition("</section>")[0]
    assert "unusual" in beside_them
    assert "110 °C" in beside_them.replace("\u202f", " ").replace("\xa0", " ")
    assert "peak temperature" not in job.flags()


def test_a_blade_of_the_limit_is_said_to_be_out_itself(shop: Workshop) -> None:
    job = start(shop)
    job.whole()
    assert f"{with_unit('0.03', 'mm')} must not go in" in sit(shop, "inspector", job).read()
