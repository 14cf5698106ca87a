"""The inspector's record page and its acts: read blind, release, decide, look, return, sign."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from qrecords.evidence.models import StoredFile
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.mountings import judging
from qrecords.mountings.queries import case_of
from qrecords.people import actions as people
from qrecords.people.permissions import Role
from qrecords.steps.answers import Absent, State
from qrecords.steps.shown import read_extent
from qrecords.steps.transitions import State as MountingState
from qrecords.steps.transitions import standing_release, state_of
from qrecords.web.figures import with_unit
from tests.cast import REQUIREMENT, SEEN_BEFORE_HEAT, SEEN_COLD, Job, Workshop, again, make_workshop, start
from tests.web.desk import Desk, beside, hidden, main, make_pictures, sit

pytestmark = pytest.mark.django_db
LOW = {"A": ("18", "17", "18"), "B": ("17", "17", "18"), "C": ("17", "6", "17")}


@pytest.fixture
def shop() -> Workshop:
    return make_workshop()


@pytest.fixture
def job(shop: Workshop) -> Job:
    """Received, measured, bore measured: what waits before heat."""
    job = start(shop)
    job.receive()
    job.measure()
    job.bore()
    return job


@pytest.fixture
def desk(shop: Workshop, job: Job) -> Desk:
    return sit(shop, "inspector", job)


def make_ready(job: Job, peak_c: str = "95", *, by_telephone: bool = False) -> None:
    """From the release before heat to the fitter's signature; by telephone no inspector reads the ring."""
    named = (
        {"code": job.release_by_telephone()} if by_telephone else {"release": job.leaf(job.release("fit"))}
    )
    job.photograph(*SEEN_BEFORE_HEAT)
    job.heat(peak_c=peak_c, **named)
    job.check_cold()
    job.photograph(*SEEN_COLD)
    job.release("cold")
    job.close()
    job.ready()


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


def test_before_heat_the_one_filled_tap_is_the_own_reading_and_then_the_release(desk: Desk) -> None:
    page = desk.read()
    assert re.findall(r'tap-next">(.*?)<', page) == ["record my reading"]
    assert "release when you have read the marking off the ring" in page
    assert "release: heat may begin" not in page
    desk.job.own_reading()
    assert re.findall(r'tap-next">(.*?)<', desk.read()) == ["release: heat may begin"]


def test_a_release_without_an_own_reading_is_refused_in_words(desk: Desk) -> None:
    answer = desk.do("release", hold="fit", shown=str(desk.job.shown()))
    assert answer.status_code == 409
    assert "the inspector has not read the marking off the ring himself" in main(answer.content.decode())
    assert case_of(desk.job.mounting).releases == ()


def test_readings_that_are_kept_back_are_released_only_when_the_display_was_read(desk: Desk) -> None:
    desk.job.own_reading()
    desk.job.photograph("micrometer")
    make_pictures()
    page = desk.read()
    assert "release when you have read the display" in page and "release: heat may begin" not in page
    desk.do("read-display", display="60.018")
    assert "release: heat may begin" in desk.read()


NAMED = (("identification", "marking"), ("preparation", "edge_burrs"), ("measurement", "journal.A.0"))


def test_releasing_names_the_captures_it_rests_on(desk: Desk) -> None:
    desk.job.own_reading()
    assert desk.do("release", hold="fit", shown=hidden(desk.read(), "shown")).status_code == 302
    given = standing_release(case_of(desk.job.mounting), "fit")
    assert given is not None
    assert given.captures == case_of(desk.job.mounting).standing_captures("fit")
    named = {case_of(desk.job.mounting).said(*field).entry for field in NAMED}
    assert named <= given.captures


def test_the_release_tells_what_is_open_of_the_preparation(desk: Desk) -> None:
    desk.job.say("preparation", reason="a bystander came in", zone="no")
    hold = desk.read().split('id="hold-fit"', 1)[1].split("</section>", 1)[0]
    assert "Zone not kept." in hold


@pytest.mark.parametrize("hold", ["nonsense", ""])
def test_a_garbled_hold_releases_nothing(desk: Desk, hold: str) -> None:
    assert desk.do("release", hold=hold, shown=str(desk.job.shown())).status_code == 404
    assert case_of(desk.job.mounting).releases == ()


def test_a_release_sent_twice_is_one_release(desk: Desk) -> None:
    desk.job.own_reading()
    form = {"entry_id": hidden(desk.read(), "entry_id"), "hold": "fit"}
    shown = hidden(desk.read(), "shown")
    for _ in range(2):
        assert desk.client.post(desk.at("release"), form | {"shown": shown}).status_code == 302
    assert len(case_of(desk.job.mounting).releases) == 1


def test_heat_waits_and_says_why_while_a_journal_reading_is_out(shop: Workshop) -> None:
    job = start(shop)
    job.receive()
    job.measure(readings=LOW)
    job.bore()
    desk = sit(shop, "inspector", job)
    assert "release when 1 item is closed" in desk.read()
    assert desk.do("release", hold="fit", shown=str(job.shown())).status_code == 409
    assert case_of(job.mounting).releases == ()


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


def test_each_finding_says_what_may_be_decided_and_by_whom(shop: Workshop) -> None:
    job = start(shop)
    job.receive()
    job.measure(readings=LOW)
    page = sit(shop, "inspector", job).read()
    assert "measure again, rework, scrap: inspector or engineer · concession: engineer" in page


def test_the_inspector_is_not_offered_a_concession_and_the_engineer_is(shop: Workshop, job: Job) -> None:
    low = start(shop)
    low.receive()
    low.measure(readings=LOW)
    assert 'value="concession"' not in sit(shop, "inspector", low).read("decide")
    assert 'value="concession"' in sit(shop, "engineer", low).read("decide")


def test_two_findings_of_one_cause_are_closed_by_one_decision(shop: Workshop, job: Job) -> None:
    job.say("preparation", reason="looked again", edge_burrs="left", wiped="no")
    desk = sit(shop, "inspector", job)
    digests = [job.finding(name).digest for name in ("edge-burrs", "wiped-clean")]
    desk.do("decide", about=digests, kind="rework", reason="stoned and wiped in my presence")
    (decision,) = case_of(job.mounting).decisions
    assert decision.digests == set(digests)


def test_a_concession_without_the_password_is_asked_for_it_and_keeps_what_was_typed(shop: Workshop) -> None:
    low = start(shop)
    low.receive()
    low.measure(readings=LOW)
    desk = sit(shop, "engineer", low)
    digest = low.finding("journal size").digest
    answer = desk.do("decide", about=[digest], kind="concession", reason="interference still 12")
    assert answer.status_code == 403
    assert "interference still 12" in answer.content.decode()
    assert beside(answer.content.decode(), "password") == "Give your password: it is your signature."
    assert case_of(low.mounting).decisions == ()


def test_a_wrong_password_at_a_decision_keeps_what_was_chosen_and_typed(shop: Workshop) -> None:
    low = start(shop)
    low.receive()
    low.measure(readings=LOW)
    digest = low.finding("journal size").digest
    typed = {"reason": "interference still 12", "conditions": "look again in May"}
    desk = sit(shop, "engineer", low)
    answer = desk.do("decide", about=[digest], kind="concession", password="wrong", **typed)
    page = answer.content.decode()
    assert answer.status_code == 401
    assert all(words in page for words in typed.values())
    assert f'value="{digest}" checked' in page and 'value="concession" checked' in page
    assert beside(page, "password") == "The password is not right. Give it again."
    assert "wrong" not in page.split('id="password"', 1)[1].split(">", 1)[0].replace("password-wrong", "")


def test_a_decision_the_rule_does_not_allow_is_refused_in_words(shop: Workshop, job: Job) -> None:
    low = start(shop)
    low.receive()
    low.measure(readings=LOW)
    desk = sit(shop, "inspector", low)
    answer = desk.do("decide", about=[low.finding("journal size").digest], kind="accept", reason="fine")
    assert answer.status_code == 422
    assert "accept is not possible; possible: measure again, rework, concession, scrap" in (
        answer.content.decode()
    )


def test_a_decision_needs_a_finding_a_kind_and_a_reason(desk: Desk) -> None:
    assert desk.do("decide", reason="because").status_code == 422
    assert case_of(desk.job.mounting).decisions == ()


def test_a_query_is_closed_by_a_few_words(shop: Workshop, job: Job) -> None:
    job.say("identification", reason="seen now", package="opened")
    desk = sit(shop, "inspector", job)
    page = desk.read()
    assert "Package opened." in page
    digest = job.finding("package-intact").digest
    desk.do("look", about=digest, explanation="opened for the goods-in check")
    assert case_of(job.mounting).looked == {digest: "opened for the goods-in check"}
    assert "Decided or looked at" in desk.read()


def test_a_query_without_words_stays_open(shop: Workshop, job: Job) -> None:
    job.say("identification", reason="seen now", package="opened")
    desk = sit(shop, "inspector", job)
    answer = desk.do("look", about=job.finding("package-intact").digest, explanation=" ")
    assert answer.status_code == 422
    assert beside(answer.content.decode(), "explanation") == "Say in a few words what explains it."
    assert case_of(job.mounting).looked == {}


def test_a_record_goes_back_item_by_item_each_with_its_reason(shop: Workshop, desk: Desk) -> None:
    desk.job.ready()
    reasons = {"about": ["photo blade", "shoulder gap"], "reason": ["no photo came", ""]}
    desk.do("return", **reasons, other="the label is wet")
    (returned,) = case_of(desk.job.mounting).returns
    assert returned.items == (("photo blade", "no photo came"), ("the record", "the label is wet"))
    assert state_of(case_of(desk.job.mounting)) == MountingState.RETURNED


def test_a_return_without_any_reason_is_refused(desk: Desk) -> None:
    desk.job.ready()
    assert desk.do("return", about=["photo blade"], reason=[" "]).status_code == 422
    assert case_of(desk.job.mounting).returns == ()


def test_signing_is_dotted_with_its_reason_until_it_is_possible(desk: Desk) -> None:
    assert "sign, when the fitter has said ready" in " ".join(desk.read().split())
    make_ready(desk.job, by_telephone=True)
    assert "sign, when 1 item is closed" in " ".join(desk.read().split())
    desk.do("own-reading", marking="6212 C3")
    assert "sign: inspected" in desk.read()


def test_readings_that_are_kept_back_are_signed_only_when_the_display_was_read(desk: Desk) -> None:
    make_ready(desk.job)
    make_pictures()
    page = " ".join(desk.read().split())
    assert "sign, when you have read the display" in page and "sign: inspected" not in page
    desk.do("read-display", display="60.018")
    assert "sign: inspected" in desk.read()


def test_the_signature_covers_exactly_what_was_shown(desk: Desk) -> None:
    make_ready(desk.job)
    desk.do("own-reading", marking="6212 C3")
    shown = hidden(desk.read(), "shown")
    assert desk.sign(shown).status_code == 302
    case = case_of(desk.job.mounting)
    assert state_of(case) == MountingState.SIGNED_OFF
    assert case.signatures[-1].said["shown"] == read_extent(shown).document()


def test_what_came_since_the_page_was_shown_stops_the_signature_and_is_named(desk: Desk) -> None:
    make_ready(desk.job)
    desk.do("own-reading", marking="6212 C3")
    shown = hidden(desk.read(), "shown")
    desk.job.photograph("one more")
    answer = desk.sign(shown)
    assert answer.status_code == 409
    page = answer.content.decode()
    assert "photo taken" in page
    assert "photo received" in page
    assert state_of(case_of(desk.job.mounting)) == MountingState.READY


def test_a_value_that_was_corrected_since_is_told_with_its_reason_and_nothing_is_lost(desk: Desk) -> None:
    make_ready(desk.job)
    shown = hidden(desk.read(), "shown")
    desk.do("read-display", display="60.018")
    desk.job.say("running", turns="rough", reason="turned again")
    before = len(case_of(desk.job.mounting).order)
    answer = desk.sign(shown)
    assert answer.status_code == 409
    page = main(answer.content.decode())
    assert "Not signed: something came since this page was shown" in page
    assert "turned by hand rough" in page and "turned again" in page
    case = case_of(desk.job.mounting)
    assert len(case.order) == before and state_of(case) == MountingState.READY


def test_a_stale_release_tells_no_reading_before_the_display_was_read(desk: Desk) -> None:
    desk.job.own_reading()
    desk.job.photograph("micrometer")
    shown = str(desk.job.shown())
    desk.job.say("measurement", reason="read again", journal__A__0=("20", "um from 60 mm"))
    page = main(desk.do("release", hold="fit", shown=shown).content.decode())
    assert "Not released: something came" in page and "read again" in page
    assert "A 0° 20" not in page
    desk.do("read-display", display="60.018")
    assert "A 0° 20" in main(desk.do("release", hold="fit", shown=shown).content.decode())


def test_a_wrong_password_signs_nothing_and_is_said_beside_its_field(desk: Desk) -> None:
    make_ready(desk.job)
    desk.do("own-reading", marking="6212 C3")
    answer = desk.sign(hidden(desk.read(), "shown"), password="wrong")
    page = answer.content.decode()
    assert answer.status_code == 401
    assert "sign: inspected" in page and "columns-record" in page
    assert beside(page, "password") == "The password is not right. Give it again."
    assert state_of(case_of(desk.job.mounting)) == MountingState.READY


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


def test_a_signed_record_is_read_only_and_a_late_photo_shows_as_after_signature(desk: Desk) -> None:
    make_ready(desk.job)
    desk.do("own-reading", marking="6212 C3")
    desk.sign(hidden(desk.read(), "shown"))
    desk.job.photograph("one more")
    make_pictures()
    page = main(desk.read())
    assert "<form" not in page
    assert "2 entries came after the signature" in page
    assert "· after signature" in page


def test_a_signed_record_shows_the_judgement_that_was_signed(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    make_ready(desk.job)
    desk.do("own-reading", marking="6212 C3")
    desk.sign(hidden(desk.read(), "shown"))
    before = desk.read().count("verdict-conforming")
    monkeypatch.setattr(judging, "all_findings", lambda case: [])
    assert desk.read().count("verdict-conforming") == before


def test_who_worked_on_it_is_told_why_he_cannot_sign(shop: Workshop, desk: Desk) -> None:
    people.grant_role(
        acting=shop.proved("administrator"), site=shop.site, grant_id=new_id(), role=Role.INSPECTOR,
        person=shop.people["fitter"],
    )  # fmt: skip
    desk.job.ready()
    own = sit(shop, "fitter", desk.job)
    assert "by somebody who did not work on it" in own.read()
    assert own.sign(str(desk.job.shown())).status_code == 403


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


def test_the_decision_form_says_what_keeps_a_rework_from_closing(
    shop: Workshop, job: Job, desk: Desk
) -> None:
    job.heat(release=job.leaf(job.release("fit")), peak_c="140")
    job.check_cold(at_90="0.05")
    address = reverse("decide", args=[job.mounting.id])
    about = job.finding("shoulder gap").digest
    page = desk.client.post(address, {"kind": "rework", "about": about, "reason": "pull"})
    assert page.status_code == 409
    assert "first decide what the ring went through (Peak, inner ring)" in page.content.decode()


def test_a_blade_of_the_limit_is_said_to_be_out_itself(shop: Workshop) -> None:
    job = start(shop)
    job.whole()
    assert f"{with_unit('0.03', 'mm')} must not go in" in sit(shop, "inspector", job).read()
