"""The auditor's pages: from one box to the life, the record, the entry and the proof."""

import csv
import io
import re
from datetime import datetime
from typing import Any

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry, Node
from qrecords.ledger.queries import entries_of
from qrecords.mountings.actions.opening import open_mounting
from qrecords.mountings.models import EquipmentUse
from qrecords.steps.answers import Absent, State
from qrecords.steps.fields import Gear
from qrecords.steps.standard import RULES, STEPS
from qrecords.web.auditor.read_with import READ_WITH
from qrecords.web.moments import moment
from tests.cast import Job, make_workshop, start
from tests.steps.casebook import sound
from tests.web.desk import main

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    return start(make_workshop())


def client_of(job: Job, who: str = "auditor") -> Client:
    client = Client()
    client.force_login(job.shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return client


def see(job: Job, name: str, *args: object, who: str = "auditor", **query: Any) -> HttpResponse:
    return client_of(job, who).get(reverse(name, args=args), query)  # type: ignore[return-value]


def read(job: Job, name: str, *args: object, who: str = "auditor", **query: Any) -> str:
    answer = see(job, name, *args, who=who, **query)
    assert answer.status_code == 200
    return main(answer.content.decode())


def table_of(answer: HttpResponse) -> list[dict[str, str]]:
    text = b"".join(answer.streaming_content).decode("utf-8-sig")  # type: ignore[attr-defined]
    return list(csv.DictReader(io.StringIO(text)))


def test_the_search_says_how_it_read_each_word_and_opens_the_first(job: Job) -> None:
    page = read(job, "search", q="6212 Greyhallow creep")
    assert "designation <b>6212</b>" in page and "owner <b>Greyhallow</b>" in page
    assert "found nowhere: <b>creep</b>" in page
    assert "designation, owner agree" in page
    assert f"{job.mounting.number}, open" in page and "opened 2 Mar 2026" in page


def test_an_entry_says_which_device_sent_it_or_that_none_was_named(job: Job) -> None:
    entry = entries_of(job.mounting.id)[0]
    assert entry.payload["device"] is None
    assert "none of its own: a page in a browser" in read(job, "entry", entry.id)


def test_the_mark_of_a_gauge_leads_to_all_that_used_it(job: Job) -> None:
    gauge = job.shop.gear["micrometer"]
    found = read(job, "search", q=gauge.mark).split("A gauge or heater has these words", 1)[1]
    assert reverse("equipment-uses", args=[gauge.id]) in found


def test_the_search_page_without_words_asks_for_them(job: Job) -> None:
    assert "Find a bearing again" in read(job, "search")
    assert "Nothing here has these words" in read(job, "search", q="zzz")


def test_what_was_typed_comes_back_as_text_and_never_as_markup(job: Job) -> None:
    page = read(job, "search", q='"><script>alert(1)</script>')
    assert "<script>" not in page and "&lt;script&gt;" in page


def test_a_life_shows_each_mounting_with_its_reason(job: Job) -> None:
    job.measure()
    job.bore()
    job.heat(press_s=20)
    job.check_cold(at_90="0.05", at_180="0.08", at_270="0.03")
    job.decide("rework", "shoulder gap", reason="tilted, pulled on the inner ring")
    again = open_mounting(
        acting=job.shop.acting("fitter"), mounting_id=new_id(), journal=job.journal, bearing=job.bearing,
        rebuild=job.rebuild,
    )  # fmt: skip
    page = read(job, "bearing-life", job.bearing.id)
    assert "2 mountings of this bearing" in page
    assert f"again after {job.mounting.number}, closed as reworked" in page
    assert "tilted, pulled on the inner ring" in page
    assert f"{again.number}, open" in page
    first = read(job, "bearing-life", job.bearing.id, open=str(job.mounting.id))
    assert f"{job.mounting.number}, closed as reworked" in first and "lifted off, home" in first


def test_a_life_opened_at_something_strange_is_still_a_page(job: Job) -> None:
    assert "Not mounted yet" in read(job, "bearing-life", job.bearing.id, open="nonsense")


def test_the_record_has_every_entry_with_who_when_and_leaf(job: Job) -> None:
    job.whole()
    page = read(job, "mounting-trace", job.mounting.id)
    for entry in Entry.objects.filter(subject=job.mounting.id):
        assert f'id="e-{entry.id}"' in page and job.leaf(entry) in page
    assert "Fitter Person" in page and "proved again" in page
    assert "0° 18 · 60° 17 · 120° 18 µm from 60 mm" in page
    assert "TH-4410 rev. C" in page and "+11…+30" in page
    assert "MICROMETER-1" in page and "31 Jan 2099" in page
    assert "released: before heat" in page and "signed: inspected" in page
    assert "none of them later than the signature" in page
    assert "othing changed" not in page  # that is for the proof to say, and nobody has made it yet


def test_a_point_read_again_stands_with_its_angle_and_is_no_further_angle(job: Job) -> None:
    um = "um from 60 mm"
    job.say(
        "measurement", journal__A__0=("18", um), journal__A__60=("11.2", um),
        journal__A__60__2=("11.4", um), journal__A__60__3=("11.3", um), journal__A__120=("17", um),
    )  # fmt: skip
    job.say("shoulder_gap", ring_temp=("71 °F", "°F"))
    page = read(job, "mounting-trace", job.mounting.id)
    assert "71 °F" in page and "71 °F °F" not in page
    assert "0° 18 · 60° 11.2 · 60° again 11.4 · 60° again 11.3 · 120° 17 µm from 60 mm" in page


def test_an_expired_gauge_stands_out_in_the_record(job: Job) -> None:
    from qrecords.workshop import actions as workshop

    workshop.calibrate(
        acting=job.shop.acting("quality"), version_id=new_id(), equipment=job.shop.gear["micrometer"],
        document={"status": "in use", "due": "2026-01-31", "expanded_u": 1000, "resolution": 1000},
    )  # fmt: skip
    job.measure()
    assert "31 Jan 2026, expired" in read(job, "mounting-trace", job.mounting.id)


def test_a_correction_shows_both_values_and_the_reason(job: Job) -> None:
    job.say("identification", marking="6212 C4")
    job.say("identification", marking="6212 C3", reason="read again in raking light")
    page = read(job, "mounting-trace", job.mounting.id)
    assert "6212 C4" in page and "6212 C3" in page and "read again in raking light" in page
    assert "replaces an earlier one" in page


def test_what_was_not_done_and_known_at_sign_off_stands_beside_the_record(job: Job) -> None:
    job.say("clearance_after", g1=Absent(State.NOT_POSSIBLE, "no feeler fits"))
    job.whole()
    page = read(job, "mounting-trace", job.mounting.id)
    assert "Not done, and known at sign-off" in page
    assert "clearance G1: not possible: no feeler fits" in page


def test_a_judgement_shows_its_findings_as_they_were_stored(job: Job) -> None:
    job.receive()
    job.measure()
    job.bore()
    job.release("fit")
    job.say("measurement", reason="dirt under the anvil", journal__C__0=("9", "um from 60 mm"))
    page = read(job, "mounting-trace", job.mounting.id)
    stored = page.split('id="judged"')[1].split('id="acts"')[0]
    assert "release, before heat" in stored and "journal-size/4" in stored
    assert "C at 60° is +16:" in stored and "+9" not in stored
    assert "no longer stands" in page
    assert "not entered yet" in stored and "0 flagged" in stored


def test_the_record_can_be_taken_along_as_csv(job: Job) -> None:
    job.receive()
    rows = table_of(see(job, "mounting-trace", job.mounting.id, **{"as": "csv"}))
    assert [row["kind"] for row in rows] == ["mounting", "capture", "capture"]
    assert rows[1]["author_name"] == "Fitter Person" and '"6212 C3"' in rows[1]["said"]


def test_an_entry_shows_its_text_and_proves_itself(job: Job) -> None:
    entry = job.say("identification", marking="6212 C3", package="intact")
    page = read(job, "entry", entry.id)
    assert "Verified just now" in page
    assert "&quot;marking&quot;:{&quot;typed&quot;:&quot;6212 C3&quot;" in page
    assert job.leaf(entry) in page


def test_an_entry_whose_path_is_broken_says_that_it_differs(job: Job) -> None:
    entry = Entry.objects.get(leaf__index=2)  # deep in the tree: its path is made of nodes
    Node.objects.update(hash=bytes(32))
    assert "Differs: no path leads" in read(job, "entry", entry.id)
    Node.objects.all().delete()
    assert "Differs: no path leads" in read(job, "entry", entry.id)


def test_entries_of_registers_and_people_are_shown_too(job: Job) -> None:
    for kind in ("person", "role grant", "calibration", "procedure", "machine", "competence"):
        entry = Entry.objects.filter(kind=kind)[0]
        assert "Verified just now" in read(job, "entry", entry.id)


def test_a_gauge_shows_its_calibrations_and_all_it_was_used_for(job: Job) -> None:
    job.measure()
    page = read(job, "equipment-uses", job.shop.gear["micrometer"].id)
    assert job.mounting.number in page and "measurement of the journal" in page
    assert "<b>1</b> mounting" in page and "31 Jan 2099" in page
    rows = table_of(see(job, "equipment-uses", job.shop.gear["micrometer"].id, **{"as": "csv"}))
    assert [row["mounting"] for row in rows] == [job.mounting.number]


def test_the_uses_of_a_gauge_are_paged_newest_first_in_a_fixed_number_of_queries(job: Job) -> None:
    micrometer = job.shop.gear["micrometer"]
    job.measure()
    client = client_of(job)
    address = reverse("equipment-uses", args=[micrometer.id])

    def queries(**query: str) -> int:
        with CaptureQueriesContext(connection) as captured:
            assert client.get(address, query).status_code == 200
        return len(captured)

    few = queries()
    use = EquipmentUse.objects.filter(equipment=micrometer)[0]
    EquipmentUse.objects.bulk_create(
        EquipmentUse(equipment=micrometer, mounting=use.mounting, entry=new_id(), step=use.step, at=use.at)
        for _ in range(120)
    )
    assert queries() == queries(page="2") == few
    page = client.get(address, {"page": "3"}).content.decode()
    assert "101…121 of 121" in page and 'rel="next"' not in page


@pytest.mark.parametrize(("name", "query"), [("search", {"q": "6212 DE"}), ("bearing-life", {})])
def test_a_life_costs_the_same_number_of_queries_however_long(
    job: Job, name: str, query: dict[str, str]
) -> None:
    client = client_of(job)
    address = reverse(name, args=[job.bearing.id] if name == "bearing-life" else [])

    def queries() -> int:
        with CaptureQueriesContext(connection) as captured:
            assert client.get(address, query).status_code == 200
        return len(captured)

    job.measure()
    few = queries()
    for _ in range(3):
        mounting = open_mounting(
            acting=job.shop.acting("fitter"), mounting_id=new_id(), journal=job.journal, bearing=job.bearing,
            rebuild=job.rebuild,
        )  # fmt: skip
        Job(job.shop, mounting, job.machine, job.journal, job.rebuild, job.bearing).measure()
    assert queries() == few


def test_verifying_a_record_says_what_holds(job: Job) -> None:
    job.whole()
    page = read(job, "verify", q=job.mounting.number)
    assert "nothing was changed" in page and "Nothing came after the sign-off" in page
    assert "manage.py verify_ledger" in page


def test_verifying_says_what_differs(job: Job) -> None:
    job.receive()
    Node.objects.update(hash=bytes(32))
    page = read(job, "verify", mounting=str(job.mounting.id))
    assert "Differs:" in page and "no path leads" in page


def test_a_number_that_is_no_mounting_is_said_to_be_none(job: Job) -> None:
    assert "is no mounting within your reach" in read(job, "verify", q="99-9999")
    assert see(job, "verify", mounting="nonsense").status_code == 404


def test_the_administrator_verifies_and_reads_nothing(job: Job) -> None:
    assert "nothing was changed" in read(job, "verify", who="administrator", q=job.mounting.number)
    assert see(job, "mounting-trace", job.mounting.id, who="administrator").status_code == 403


def test_the_bar_shows_what_a_person_may_open_and_where_they_are(job: Job) -> None:
    def bar(who: str, name: str) -> str:
        return see(job, name, who=who).content.decode().split("<main")[0]

    assert "People" not in bar("auditor", "search")
    assert 'aria-current="page">Search</a>' in bar("auditor", "search")
    assert "Search" not in bar("administrator", "verify")
    assert 'aria-current="page">Verify</a>' in bar("administrator", "verify")
    assert "Auditor Person" in bar("auditor", "search")


def test_a_life_says_with_which_gauge_and_when_each_number_was_read(job: Job) -> None:
    job.whole()
    page = read(job, "bearing-life", job.bearing.id)
    rows = dict(re.findall(r'<th scope="row"><b>(.*?)</b>.*?</th>(.*?)</tr>', page, re.S))
    uses = reverse("equipment-uses", args=[job.shop.gear["micrometer"].id])
    assert f'<a href="{uses}" class="nowrap">MICROMETER-1</a>' in rows["Journal, worst reading"]
    assert "BORE-GAUGE-1" in rows["Bore of the ring"] and "FEELER-1" in rows["Shoulder gap"]
    bore = next(e for e in entries_of(job.mounting.id) if e.payload["body"]["said"].get("step") == "bore")
    told = moment(datetime.fromisoformat(bore.payload["at_server"]), "UTC")
    assert f">{told}<" in rows["Bore of the ring"]


def test_every_number_of_a_sound_record_names_its_gauge_or_is_known_to_have_none() -> None:
    timed_or_asked = {"pressed-home", "cold-when-checked"}
    numbered = {f.rule for f in sound().findings().values() if f.value is not None and "mark" not in f.facts}
    assert numbered - set(READ_WITH) <= timed_or_asked
    for rule, fields in READ_WITH.items():
        assert rule in RULES
        assert all(isinstance(STEPS[step].field(key).form, Gear) for step, key in fields)


def test_who_has_no_word_at_hand_begins_with_what_was_closed_last(job: Job) -> None:
    assert "Or begin with" not in read(job, "search")
    job.whole()
    page = read(job, "search")
    life = reverse("bearing-life", args=[job.bearing.id])
    assert f'href="{life}?open={job.mounting.id}"><b>{job.mounting.number}</b>' in page
    assert all(reverse(name) in page for name in ("all-mountings", "bearings", "equipment"))


def test_a_release_by_telephone_says_what_was_heard_in_mm(job: Job) -> None:
    job.receive()
    job.measure()
    job.bore()
    job.release_by_telephone()
    page = read(job, "mounting-trace", job.mounting.id)
    acts = page.split('id="acts"')[1].split("</section>")[0].replace("\u202f", " ")
    assert "lowest reading heard 60.016 mm; highest reading heard 60.018 mm" in acts


def test_a_signed_record_leads_to_its_certificate(job: Job) -> None:
    certificate = reverse("certificate", args=[job.mounting.id])
    assert certificate not in see(job, "mounting-trace", job.mounting.id).content.decode()
    job.whole()
    assert certificate in see(job, "mounting-trace", job.mounting.id).content.decode()
