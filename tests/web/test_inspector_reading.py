"""What the inspector reads himself, ring and display, before the first reading is shown to him."""

import pytest
from django.urls import reverse

from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.mountings.queries import case_of
from qrecords.steps.answers import Absent, State
from tests.cast import Workshop, start
from tests.web.desk import LOW, Desk, beside, hidden, main, make_pictures, make_ready, sit

pytestmark = pytest.mark.django_db


def test_the_designation_stays_hidden_until_the_inspector_read_the_ring(desk: Desk) -> None:
    before = main(desk.read())
    assert "6212 C3" not in before
    desk.do("own-reading", marking="6212 C3")
    assert "6212 C3" in desk.read().split("title-block", 1)[1].split("</dl>", 1)[0]


def test_an_own_reading_is_a_check_entry_and_shows_what_the_fitter_typed(desk: Desk) -> None:
    desk.do("own-reading", marking="6213 C3")
    case = case_of(desk.job.mounting)
    assert case.checks["identification"]["marking"].word == "6213 C3"
    assert case.answers["identification"]["marking"].word == "6212 C3"
    assert "You read 6213 C3. The fitter typed 6212 C3." in desk.read()


def test_the_readings_are_hidden_until_the_display_was_read(desk: Desk) -> None:
    desk.job.photograph("micrometer")
    make_pictures()
    assert "+16" not in main(desk.read())
    desk.do("read-display", display="60.018")
    page = desk.read()
    assert "+16" in page
    assert "You read what was typed at A 0°." in page


FIRST_READING = ("+16", "(+17", "60.016", "60.018")
"""What the fitter's journal reads like, as typed, as a deviation and worked out."""


def test_no_page_gives_the_first_reading_away_before_the_second(desk: Desk) -> None:
    """Record, decision, return, whole sheet, and the case by the API: neither readings nor what follows."""
    desk.job.photograph("micrometer")
    make_pictures()
    pages = [main(desk.read(page)) for page in ("inspect", "decide", "return")]
    sheet = f"/mountings/{desk.job.mounting.id}/sheet/"
    pages.append(main(desk.client.get(sheet).content.decode()))
    for page in pages:
        assert not [number for number in FIRST_READING if number in page]
        assert "Clearance left (" not in page and "Interference (" not in page and "Set " not in page
    case = desk.client.get(f"/api/v1/mountings/{desk.job.mounting.id}/").json()
    assert case["sealed"] == ["marking", "readings"]
    assert not [key for key in case["answers"]["measurement"] if key.startswith("journal.")]
    assert "marking" not in case["answers"]["identification"]
    assert case["heating_plan"] is None and case["readings_code"] == ""
    told = {f["rule"]: f for f in case["findings"]}
    for rule in ("ring-marking", "journal-size", "journal-taper", "clearance-forecast"):
        assert (told[rule]["facts"], told[rule]["value"], told[rule]["margin"]) == ({}, None, None), rule

    desk.do("read-display", display="60.018")
    desk.do("own-reading", marking="6212 C3")
    assert "+16" in main(desk.client.get(sheet).content.decode())
    case = desk.client.get(f"/api/v1/mountings/{desk.job.mounting.id}/").json()
    assert case["sealed"] == [] and "journal.A.0" in case["answers"]["measurement"]


def test_no_raw_entry_gives_the_first_reading_away_before_the_second(shop: Workshop, desk: Desk) -> None:
    """Trace, table, certificate, search, life, stored entries; the auditor, who reads nothing, sees all."""
    job, auditor = desk.job, sit(shop, "auditor", desk.job).client
    make_ready(job, by_telephone=True)
    make_pictures()
    id, marking = job.mounting.id, job.say("running", reason="again", turns="smooth")
    entries = [said for said in entries_of(id) if said.kind in ("capture", "judgement", "release")]
    telling = {"measurement", "identification", None}
    told = [said.id for said in entries if said.payload["body"]["said"].get("step") in telling]
    own = [said.id for said in entries if said.kind == "release"]
    whole = [f"/mountings/{id}/trace/", f"/mountings/{id}/trace/?as=csv", f"/mountings/{id}/certificate/"]
    closed = [
        *whole,
        *(f"/{api}entries/{each}/" for each in told if each not in own for api in ("", "api/v1/")),
    ]
    opened = [f"/entries/{each}/" for each in (*own, marking.id)]
    for address in closed:
        answer = desk.client.get(address)
        assert answer.status_code == 403 and b"yourself first" in answer.content, address
        assert auditor.get(address).status_code == 200, address
    assert desk.client.get(f"/api/v1/entries/{told[0]}/").json()["code"] == "sealed"
    assert {desk.client.get(address).status_code for address in opened} == {200}
    for address in (f"/search/?q={job.mounting.number}", f"/bearings/{job.bearing.id}/"):
        page = main(desk.client.get(address).content.decode())
        assert "yourself first" in page and not [number for number in FIRST_READING if number in page], (
            address
        )

    desk.do("read-display", display="60.018")
    desk.do("own-reading", marking="6212 C3")
    assert {desk.client.get(address).status_code for address in closed} == {200}


def test_the_certificate_is_linked_once_nothing_is_kept_back(desk: Desk) -> None:
    link = f'href="{reverse("certificate", args=[desk.job.mounting.id])}"'
    assert link not in desk.read()
    desk.do("own-reading", marking="6212 C3")
    assert link in desk.read()


def test_a_flag_on_a_reading_that_is_still_to_be_read_shows_its_verdict_and_no_number(
    shop: Workshop,
) -> None:
    desk = sit(shop, "inspector", start(shop))
    desk.job.receive()
    desk.job.measure(readings=LOW)
    desk.job.bore()
    desk.job.photograph("micrometer")
    make_pictures()
    page = main(desk.read())
    assert "nonconforming" in page and "C at 60°" not in page and "+6" not in page
    desk.do("read-display", display="60.018")
    assert "C at 60°" in main(desk.read())


def test_a_display_that_says_something_else_names_the_nearest_reading(desk: Desk) -> None:
    desk.job.photograph("micrometer")
    make_pictures()
    desk.do("read-display", display="60,021")
    assert (
        "None of 9 readings says that. Nearest is A 0°, typed as 60.018 mm: 3 µm away from what you read."
        in (desk.read())
    )


@pytest.mark.parametrize(
    "typed", ["sixty", "", "0", "6", "18", "-60.018", "600.18", "60018", "2.3629", "NaN", "9" * 900]
)
def test_what_is_no_size_of_this_seat_is_asked_again_beside_the_field_and_shows_nothing(
    desk: Desk, typed: str
) -> None:
    desk.job.photograph("micrometer")
    make_pictures()
    page = desk.do("read-display", display=typed).content.decode()
    assert f"Display: “{typed[:40]}” is no size of 54…66 mm here." in page
    assert f'value="{typed[:40]}" aria-invalid="true"' in page
    assert "+16" not in main(page) and "+16" not in main(desk.read())


def test_a_display_that_cannot_be_read_shows_the_readings_and_says_so(desk: Desk) -> None:
    desk.job.photograph("micrometer")
    make_pictures()
    desk.do("read-display", unreadable="1")
    assert "The display cannot be read" in desk.read()


def test_reading_the_display_records_nothing(desk: Desk) -> None:
    desk.job.photograph("micrometer")
    make_pictures()
    before = Entry.objects.count()
    desk.do("read-display", display="60.018")
    assert Entry.objects.count() == before


def test_the_inspector_corrects_a_mistyped_reading_of_the_ring_with_a_reason(desk: Desk) -> None:
    desk.do("own-reading", marking="6121 C3")
    page = desk.read()
    assert 'value="6121 C3"' in page and 'name="marking_reason"' in page
    assert desk.do("own-reading", marking="6212 C3", marking_reason="figures swapped").status_code == 302
    case = case_of(desk.job.mounting)
    assert case.checks["identification"]["marking"].word == "6212 C3"
    assert case.answers["identification"]["marking"].word == "6212 C3"
    replaced = Entry.objects.get(id=case.checks["identification"]["marking"].entry)
    assert "figures swapped" in bytes(replaced.payload).decode()


def test_a_corrected_reading_without_a_reason_is_asked_for_it_and_stays_as_typed(desk: Desk) -> None:
    desk.do("own-reading", marking="6121 C3")
    answer = desk.do("own-reading", marking="6212 C3")
    page = answer.content.decode()
    assert answer.status_code == 409
    assert 'value="6212 C3"' in page
    assert beside(page, "reason") == "A reading stands already. Say why it changes."
    assert case_of(desk.job.mounting).checks["identification"]["marking"].word == "6121 C3"


def test_a_ring_that_could_not_be_read_is_still_to_be_read_and_asks_why_that_changes(desk: Desk) -> None:
    grease = Absent(State.NOT_POSSIBLE, "hidden by grease")
    desk.job.say("identification", who="inspector", check=True, marking=grease)
    page = desk.read()
    assert "not possible: hidden by grease" in page and 'name="marking_reason"' in page
    assert "6212 C3" not in page.split('id="own-reading"', 1)[1].split("</section>", 1)[0]
    answer = desk.do("own-reading", marking="6213 C3")
    asked = answer.content.decode()
    assert answer.status_code == 409 and 'value="6213 C3"' in asked
    assert beside(asked, "reason") == "A reading stands already. Say why it changes."
    assert desk.do("own-reading", marking="6213 C3", marking_reason="wiped clean").status_code == 302
    assert case_of(desk.job.mounting).checks["identification"]["marking"].word == "6213 C3"


def test_a_signed_record_offers_no_other_reading(desk: Desk) -> None:
    make_ready(desk.job)
    desk.do("own-reading", marking="6212 C3")
    desk.sign(hidden(desk.read(), "shown"))
    assert 'name="marking_reason"' not in desk.read()
