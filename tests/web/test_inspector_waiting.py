"""*Waiting for you*: who waits, in which order, for whom, at how many queries."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.models import FindingRow, Mounting
from qrecords.people import actions as people
from qrecords.people.permissions import Role
from qrecords.signoff import actions as signoff
from qrecords.steps.standard import RULES
from qrecords.steps.telephone import readings_code
from tests.cast import REQUIREMENT, Job, Workshop, again, start

pytestmark = pytest.mark.django_db


def measured(shop: Workshop) -> Job:
    job = start(shop)
    job.receive()
    job.measure()
    job.bore()
    return job


def waiting(shop: Workshop, who: str = "inspector", **query: str) -> str:
    client = Client()
    client.force_login(shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    answer = client.get(reverse("waiting"), query)
    assert answer.status_code == 200
    return answer.content.decode()


def group(page: str, id: str) -> str:
    """One list of the page."""
    return page.split(f'<section class="sheet waiting-list" id="{id}"', 1)[1].split("</section>", 1)[0]


def test_a_mounting_measured_whole_waits_for_release_before_heat(shop: Workshop) -> None:
    job = measured(shop)
    assert job.mounting.number in group(waiting(shop), "fit")


def test_the_hold_before_heat_stands_first(shop: Workshop) -> None:
    page = waiting(shop)
    assert page.index('id="fit"') < page.index('id="cold"') < page.index('id="ready"')


def test_a_mounting_with_readings_to_come_does_not_wait_yet(shop: Workshop) -> None:
    job = start(shop)
    job.receive()
    job.measure(readings={"A": ("18", "17", "18")})
    job.bore()
    assert job.mounting.number not in waiting(shop)


def test_once_released_it_waits_no_longer(shop: Workshop) -> None:
    job = measured(shop)
    job.release("fit")
    assert job.mounting.number not in waiting(shop)


def test_a_gap_that_is_out_stands_in_the_list_before_the_field_is_measured(shop: Workshop) -> None:
    job = measured(shop)
    job.release("fit")
    for what in ("heater on", "lifted off", "home", "let go"):
        job.tap(what)
    assert job.mounting.number not in waiting(shop)
    feeler = str(shop.gear["feeler"].id)
    cold = {"feeler": feeler, "ring_temp": ("21", "°C"), "shaft_temp": ("20", "°C")}
    job.say("shoulder_gap", **cold, gap__0=("0.04", "mm"))
    assert job.mounting.number in group(waiting(shop), "cold")
    job.say("shoulder_gap", reason="burr taken off", gap__0=("0", "mm"))
    assert job.mounting.number not in waiting(shop), "its field is still to come"


def test_a_reading_that_changes_after_the_release_brings_it_back(shop: Workshop) -> None:
    job = measured(shop)
    job.release("fit")
    job.say("measurement", reason="slipped", journal__A__0=("17", "um from 60 mm"))
    assert job.mounting.number in group(waiting(shop), "fit")


def test_a_check_beside_the_work_does_not_void_the_release(shop: Workshop) -> None:
    job = measured(shop)
    job.release("fit")
    job.say("measurement", who="inspector", check=True, journal__A__0=("17", "um from 60 mm"))
    job.mounting.refresh_from_db()
    assert job.mounting.released == "fit"


def test_a_release_by_telephone_before_anything_was_sent_is_not_voided_by_what_is_sent(
    shop: Workshop,
) -> None:
    job = start(shop)
    signoff.release_by_telephone(
        acting=shop.acting("inspector"), mounting=job.mounting, entry_id=new_id(),
        code=readings_code(str(job.mounting.id), {"A.0": 60_018_000}), lowest_nm=60_018_000,
        highest_nm=60_018_000,
    )  # fmt: skip
    job.measure()
    job.mounting.refresh_from_db()
    assert job.mounting.released == "fit"


def test_heat_that_began_ends_the_wait_before_heat(shop: Workshop) -> None:
    job = measured(shop)
    job.tap("heater on")
    assert job.mounting.number not in waiting(shop)


def test_a_ring_felt_cold_waits_for_the_cold_release(shop: Workshop) -> None:
    job = measured(shop)
    job.heat(release=job.leaf(job.release("fit")))
    job.check_cold()
    assert job.mounting.number in group(waiting(shop), "cold")


def test_what_the_fitter_signed_waits_for_inspection(shop: Workshop) -> None:
    job = measured(shop)
    job.ready()
    assert job.mounting.number in group(waiting(shop), "ready")


def test_own_work_is_left_out_of_ones_own_list(shop: Workshop) -> None:
    both = shop.people["second_fitter"]
    people.grant_role(
        acting=shop.proved("administrator"), site=shop.site, grant_id=new_id(), person=both,
        role=Role.INSPECTOR,
    )  # fmt: skip
    job = start(shop)
    job.say("identification", who="second_fitter", marking="6212 C3")
    job.ready(who="second_fitter")
    other = again(shop, job.machine, job.rebuild, "NDE", REQUIREMENT)
    other.receive()
    other.ready()
    seen = group(waiting(shop, "second_fitter"), "ready")
    assert other.mounting.number in seen
    assert job.mounting.number not in seen
    assert job.mounting.number in group(waiting(shop), "ready")


def test_a_journal_below_its_limit_waits_for_the_engineer_and_not_a_sound_one(shop: Workshop) -> None:
    sound = measured(shop)
    low = start(shop)
    low.receive()
    low.measure(readings={"A": ("18", "17", "18"), "B": ("17", "17", "18"), "C": ("17", "6", "17")})
    seen = group(waiting(shop, "engineer"), "engineer")
    assert low.mounting.number in seen
    assert sound.mounting.number not in seen


def test_what_the_inspector_may_not_accept_because_it_does_not_conform_waits_for_the_engineer(
    shop: Workshop,
) -> None:
    rough = start(shop)
    rough.say("running", turns="rough")
    assert "accept" in RULES["turns-freely"].may and "concession" not in RULES["turns-freely"].may
    assert rough.mounting.number in group(waiting(shop, "engineer"), "engineer")


def test_the_engineer_has_no_hold_points_to_release(shop: Workshop) -> None:
    assert 'id="fit"' not in waiting(shop, "engineer")


LOW = {"A": ("18", "17", "18"), "B": ("17", "17", "18"), "C": ("17", "6", "17")}


def in_order(page: str, *jobs: Job) -> bool:
    places = [page.index(job.mounting.number) for job in jobs]
    return places == sorted(places)


def test_what_only_waits_for_the_release_stands_before_an_older_one_that_is_flagged(shop: Workshop) -> None:
    flagged = start(shop)
    flagged.receive()
    flagged.measure(readings=LOW)
    flagged.bore()
    sound, younger = measured(shop), measured(shop)
    assert in_order(group(waiting(shop), "fit"), sound, younger, flagged)


def test_a_ring_that_was_heated_stands_before_an_older_cold_journal(shop: Workshop) -> None:
    cold = start(shop)
    cold.receive()
    cold.measure(readings=LOW)
    hot = measured(shop)
    hot.heat(release=hot.leaf(hot.release("fit")), peak_c="134")
    page = group(waiting(shop, "engineer"), "engineer")
    assert in_order(page, hot, cold)
    assert page.count("<b>heated</b>") == 1


def test_words_narrow_the_list(shop: Workshop) -> None:
    job = measured(shop)
    assert job.mounting.number in waiting(shop, q="quarry wo-1001")
    assert job.mounting.number not in waiting(shop, q="elsewhere")


def test_the_bearing_is_kept_back_and_not_found_until_the_reader_has_read_the_ring(shop: Workshop) -> None:
    job = measured(shop)
    designation = job.mounting.bearing.designation
    row = group(waiting(shop), "fit")
    assert job.mounting.number in row and designation not in row and "read it off the ring" in row
    assert job.mounting.number not in waiting(shop, q=designation)
    job.say("identification", who="inspector", check=True, marking=designation)
    row = group(waiting(shop), "fit")
    assert designation in row and "read it off the ring" not in row
    assert job.mounting.number in waiting(shop, q=designation)


def many(job: Job, numbers: range) -> None:
    """More mountings like this one, by their index rows alone."""
    like = Mounting.objects.get(id=job.mounting.id)
    rows = [
        Mounting(
            id=new_id(), site=like.site, number=f"99-{n:04d}", journal=like.journal, bearing=like.bearing,
            rebuild=like.rebuild, procedure_digest=like.procedure_digest,
            opened_at=like.opened_at + timedelta(seconds=n), opened_by=like.opened_by, state=like.state,
            waits=like.waits,
        )
        for n in numbers
    ]  # fmt: skip
    Mounting.objects.bulk_create(rows)
    findings = list(FindingRow.objects.filter(mounting=like))
    FindingRow.objects.bulk_create(
        FindingRow(
            mounting=row, place=f.place, rule=f.rule, characteristic=f.characteristic, verdict=f.verdict,
            digest=f.digest, settled=f.settled, document=f.document,
        )
        for row in rows
        for f in findings
    )  # fmt: skip


def counted(client: Client) -> tuple[int, str]:
    """How many queries the list took, and the list before heat."""
    with CaptureQueriesContext(connection) as taken:
        answer = client.get(reverse("waiting"))
    return len(taken), group(answer.content.decode(), "fit")


def test_ten_and_two_hundred_rows_cost_the_same_queries(shop: Workshop) -> None:
    job = measured(shop)
    client = Client()
    client.force_login(shop.people["inspector"], backend="django.contrib.auth.backends.ModelBackend")
    many(job, range(9))
    few, page = counted(client)
    assert page.count("<tr>") == 1 + 10
    many(job, range(9, 199))
    lots, page = counted(client)
    assert page.count("<tr>") == 1 + 50
    assert "<span>200</span>" in page
    assert lots == few


def test_a_long_list_goes_on_over_the_page(shop: Workshop) -> None:
    job = measured(shop)
    many(job, range(60))
    assert group(waiting(shop, page="2"), "fit").count("<tr>") == 1 + 11
