"""Recording: one entry for what is new, nothing edited, nothing doubled, nothing lost."""

import uuid
from dataclasses import replace
from datetime import timedelta

import pytest

from qrecords.engineering.tables import BUILT_IN
from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.ledger.queries import entries_of
from qrecords.mountings import judging
from qrecords.mountings.actions.recording import Typed, record
from qrecords.mountings.errors import FieldsError, NeedsReasonError, NothingSaidError, RefusedError
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import EquipmentUse, Mounting, Reading
from qrecords.mountings.queries import case_of
from qrecords.people.errors import NotAllowedError
from qrecords.steps.answers import Absent, State
from qrecords.tracing.record import record_of
from qrecords.web.fitter.gaps import next_angle
from tests.cast import U_HALF_UM, Job, add_gear, make_workshop, start

pytestmark = pytest.mark.django_db
UM = "um from 60 mm"


@pytest.fixture
def job() -> Job:
    return start(make_workshop())


def count(job: Job) -> int:
    return Entry.objects.filter(subject=job.mounting.id).count()


def test_an_entry_holds_what_was_typed_its_unit_and_the_base_value(job: Job) -> None:
    job.say("measurement", journal__A__0=("17,5", UM))
    said = entries_of(job.mounting.id)[-1].payload["body"]["said"]
    assert said["fields"]["journal.A.0"] == {"typed": "17,5", "unit": UM, "value": 60_017_500}


def test_a_double_submit_is_one_entry(job: Job) -> None:
    entry_id, acting = new_id(), job.shop.acting("fitter")
    given = {"marking": Typed("6212 C3"), "package": Typed("intact")}

    def send(later_s: int) -> Entry:
        return record(
            acting=replace(acting, now=acting.now + timedelta(seconds=later_s)), mounting=job.mounting,
            entry_id=entry_id, step_id="identification", given=given,
        )  # fmt: skip

    first = send(0)
    before = count(job)
    assert send(30).id == first.id
    assert count(job) == before


def test_a_replay_after_other_entries_is_still_the_first_entry(job: Job) -> None:
    entry_id, acting = new_id(), job.shop.acting("fitter")

    def send() -> Entry:
        return record(
            acting=acting, mounting=job.mounting, entry_id=entry_id, step_id="identification",
            given={"marking": Typed("6212 C3")},
        )  # fmt: skip

    first = send()
    job.say("identification", reason="misread", marking="6212 C4")
    assert send().id == first.id
    assert job.finding("ring marking").verdict == "nonconforming"


def test_the_same_id_with_other_content_is_refused(job: Job) -> None:
    entry_id = new_id()
    acting = job.shop.acting("fitter")
    record(
        acting=acting, mounting=job.mounting, entry_id=entry_id, step_id="identification",
        given={"marking": Typed("6212 C3")},
    )  # fmt: skip
    with pytest.raises(DifferentContentError):
        record(
            acting=acting, mounting=job.mounting, entry_id=entry_id, step_id="identification",
            given={"marking": Typed("6212 C4")},
        )  # fmt: skip


def test_of_a_form_that_sends_back_what_stands_only_the_new_answers_were_said(job: Job) -> None:
    job.say("identification", marking="6212 C3")
    record(
        acting=job.shop.acting("fitter"), mounting=job.mounting, entry_id=new_id(), step_id="identification",
        given={"marking": Typed("6212 C3"), "package": Typed("intact")}, form=True,
    )  # fmt: skip
    said = entries_of(job.mounting.id)[-1].payload["body"]["said"]
    assert list(said["fields"]) == ["package"]


def test_a_form_without_anything_new_is_asked_back(job: Job) -> None:
    job.say("identification", marking="6212 C3")
    with pytest.raises(NothingSaidError):
        job.say("identification", marking="6212 C3")


def test_a_changed_answer_needs_a_reason_and_names_what_it_replaces(job: Job) -> None:
    first = job.say("measurement", journal__A__0=("18", UM))
    with pytest.raises(NeedsReasonError) as caught:
        job.say("measurement", journal__A__0=("17", UM))
    assert caught.value.keys == ("journal.A.0",)
    job.say("measurement", reason="read the wrong line", journal__A__0=("17", UM))
    payload = entries_of(job.mounting.id)[-1].payload
    assert (payload["prev"], payload["reason"]) == (str(first.id), "read the wrong line")


def test_one_bad_field_records_nothing_and_every_bad_field_is_named(job: Job) -> None:
    before = count(job)
    with pytest.raises(FieldsError) as caught:
        job.say("measurement", journal__A__0=("18", UM), journal__A__60=("abc", UM), shaft=("warm", "°C"))
    assert set(caught.value.errors) == {"journal.A.60", "shaft"}
    assert count(job) == before


def test_a_true_but_bad_fact_is_recorded_as_typed_and_flagged(job: Job) -> None:
    job.say("heating", peak=("131", "°C"))
    assert job.finding("peak temperature").verdict == "nonconforming"


def test_not_measured_with_its_reason_is_an_answer(job: Job) -> None:
    job.say("measurement", journal__A__0=Absent(State.NOT_DONE, "no gauge"))
    finding = job.finding("journal size")
    assert (finding.verdict, finding.facts["reason"]) == ("missing", "no gauge")


def test_an_unknown_gauge_is_asked_back(job: Job) -> None:
    with pytest.raises(FieldsError) as caught:
        job.say("measurement", gauge=str(uuid.uuid4()))
    assert "gauge" in caught.value.errors


def test_a_gauge_of_another_kind_is_asked_back(job: Job) -> None:
    with pytest.raises(FieldsError):
        job.say("measurement", gauge=str(job.shop.gear["feeler"].id))


def test_the_gauge_is_frozen_as_it_stood_and_its_use_is_found(job: Job) -> None:
    gauge = job.shop.gear["micrometer"]
    job.say("measurement", gauge=str(gauge.id))
    frozen = entries_of(job.mounting.id)[-1].payload["body"]["seen"]["gear"]["gauge"]
    assert (frozen["mark"], frozen["due"]) == (gauge.mark, "2099-01-31")
    assert EquipmentUse.objects.get(equipment=gauge).mounting == job.mounting


def test_a_gauge_that_another_took_the_place_of_was_used_all_the_same(job: Job) -> None:
    job.measure()
    first, other = job.shop.gear["micrometer"], add_gear(job.shop, "other", "outside micrometer", U_HALF_UM)
    job.say("measurement", reason="the first one fell", gauge=str(other.id))
    used = EquipmentUse.objects.filter(mounting=job.mounting)
    assert {use.equipment_id for use in used} >= {first.id, other.id}


def test_a_gauge_of_an_inspectors_own_check_was_used_as_well(job: Job) -> None:
    own = add_gear(job.shop, "own", "outside micrometer", U_HALF_UM)
    job.measure()
    job.say("measurement", who="inspector", check=True, gauge=str(own.id))
    assert EquipmentUse.objects.get(equipment=own).mounting_id == job.mounting.id


def test_every_kind_of_gear_of_a_whole_job_is_found_by_its_use(job: Job) -> None:
    job.whole()
    used = set(EquipmentUse.objects.values_list("equipment__kind", flat=True))
    assert used == {piece.kind for piece in job.shop.gear.values()}


def test_readings_are_an_index_of_what_stands_now(job: Job) -> None:
    job.say("measurement", journal__A__0=("18", UM))
    job.say("measurement", reason="again", journal__A__0=("17", UM))
    assert Reading.objects.get(mounting=job.mounting, key="journal.A.0").base == 60_017_000


@pytest.mark.parametrize("who", ["inspector", "engineer", "quality", "auditor", "administrator"])
def test_only_a_fitter_records_work(job: Job, who: str) -> None:
    with pytest.raises(NotAllowedError):
        job.say("identification", who=who, marking="6212 C3")


def test_somebody_elses_site_is_out_of_reach(job: Job) -> None:
    Mounting.objects.filter(id=job.mounting.id).update(site=new_id())
    job.mounting.refresh_from_db()
    with pytest.raises(NotAllowedError):
        job.say("identification", marking="6212 C3")


def test_a_signed_record_is_frozen(job: Job) -> None:
    job.whole()
    before = {name: finding.document() for name, finding in job.findings().items()}
    with pytest.raises(RefusedError):
        job.say("running", reason="late thought", turns="rough")
    with pytest.raises(RefusedError):
        job.tap("heater on")
    job.photograph("blade")
    assert {name: finding.document() for name, finding in job.findings().items()} == before
    assert case_of(job.mounting).photos[-1].after_signature


def test_an_inspector_corrects_his_own_reading_beside_the_fitters(job: Job) -> None:
    job.say("identification", marking="6212 C3")
    job.say("identification", who="inspector", check=True, marking="6212")
    job.say("identification", who="inspector", check=True, reason="misread", marking="6212 C3")
    assert job.finding("ring marking").verdict == "conforming"
    assert job.finding("inspector's reading").verdict == "conforming"


def test_an_inspectors_measurement_takes_the_place_of_the_work_with_a_reason(job: Job) -> None:
    job.measure()
    job.say("measurement", who="inspector", check=True, reason="after regrinding", journal__A__0=("20", UM))
    standing = case_of(job.mounting).said("measurement", "journal.A.0")
    assert standing is not None
    assert (standing.author, standing.base) == (str(job.shop.people["inspector"].id), 60_020_000)


def test_an_inspectors_word_on_the_peak_stands_beside_with_its_reason(job: Job) -> None:
    job.say("heating", probe="inner ring", peak=("148", "°C"))
    checked = job.say("heating", who="inspector", check=True, reason="misread", peak=("110", "°C"))
    case, payload = case_of(job.mounting), entries_of(job.mounting.id)[-1].payload
    assert case.said("heating", "peak").base == 148_000  # type: ignore[union-attr]
    assert case.checks["heating"]["peak"].entry == str(checked.id)
    assert (payload["prev"], payload["reason"]) == (None, "misread")


def test_a_reason_is_a_line_and_not_a_book(job: Job) -> None:
    with pytest.raises(FieldsError):
        job.say("running", turns=Absent(State.NOT_DONE, "x" * 201))


def test_a_capture_that_corrects_several_names_each_that_it_replaces(job: Job) -> None:
    first = job.say("measurement", shaft=("20", "°C"))
    second = job.say("measurement", air=("21", "°C"))
    job.say("measurement", reason="read again", shaft=("20.5", "°C"), air=("21.5", "°C"))
    payload = entries_of(job.mounting.id)[-1].payload
    assert payload["body"]["seen"]["replaces"] == {"shaft": str(first.id), "air": str(second.id)}
    assert payload["prev"] == str(first.id)


def test_every_entry_of_a_mounting_pins_its_procedure_and_the_tables_in_force(job: Job) -> None:
    job.receive()
    job.tap("alarm")
    job.photograph("marking")
    pinned = {
        (entry.payload["versions"]["procedure"], entry.payload["versions"]["tables"])
        for entry in entries_of(job.mounting.id)
    }
    assert pinned == {(job.mounting.procedure_digest, BUILT_IN.digest)}


def test_a_judgement_too_long_for_one_entry_is_kept_in_parts(
    job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(judging, "PART_BYTES", 4000)
    job.receive()
    job.ready()
    stored = record_of(job.mounting).judgements
    kept = [e.payload["body"] for e in entries_of(job.mounting.id) if e.kind == "judgement"]
    assert len(kept) > 3
    assert [part["said"]["part"] for part in kept] == list(range(1, len(kept) + 1))
    assert [judgement.occasion for judgement in stored] == ["ready"]
    assert [f.digest for f in stored[0].findings] == [f.digest for f in judged_now(job.mounting).findings]


def test_who_reads_the_same_again_has_read_and_the_first_reading_stays(job: Job) -> None:
    first = job.say("measurement", journal__A__0=("17", UM))
    second = job.say("measurement", who="second_fitter", journal__A__0=("17", UM))
    standing = case_of(job.mounting).said("measurement", "journal.A.0")
    assert standing is not None and (standing.entry, second.id) == (str(second.id), second.id)
    assert first.id != second.id


def test_everything_given_is_filed_and_not_only_what_is_new(job: Job) -> None:
    job.say("identification", marking="6212 C3")
    job.say("identification", who="second_fitter", marking="6212 C3", package="opened")
    said = entries_of(job.mounting.id)[-1].payload["body"]["said"]
    assert set(said["fields"]) == {"marking", "package"}


def test_an_id_sent_again_with_less_is_another_content(job: Job) -> None:
    entry_id, acting = new_id(), job.shop.acting("fitter")

    def send(**given: Typed) -> Entry:
        return record(
            acting=acting, mounting=job.mounting, entry_id=entry_id, step_id="identification", given=given
        )

    send(marking=Typed("6212 C3"), package=Typed("intact"))
    with pytest.raises(DifferentContentError):
        send(package=Typed("intact"))


def test_where_no_device_told_a_time_none_is_filed(job: Job) -> None:
    job.say("running", turns="smooth")
    assert entries_of(job.mounting.id)[-1].payload["at_device"] is None
    at = job.shop.clock - timedelta(minutes=3)
    job.say("protection", at_device=at, covered="yes")
    assert entries_of(job.mounting.id)[-1].payload["at_device"] is not None


def test_the_same_gap_felt_cold_that_was_felt_warm_is_a_new_answer_and_its_angle_is_asked_again(
    job: Job,
) -> None:
    quarters = {f"gap__{at}": ("0", "mm") for at in (0, 90, 180, 270)}
    feeler = str(job.shop.gear["feeler"].id)
    job.say("shoulder_gap", feeler=feeler, ring_temp=("45", "°C"), shaft_temp=("20", "°C"), **quarters)
    job.shop.clock += timedelta(minutes=40)
    job.say("shoulder_gap", reason="cold now", ring_temp=("21", "°C"))
    assert job.flags() == {"cold when checked": "not proven", "shoulder gap": "not proven"}
    for at in (0, 90, 180, 270):
        assert next_angle(case_of(job.mounting), "") == str(at)
        record(
            acting=job.shop.acting("fitter"), mounting=job.mounting, entry_id=new_id(), form=True,
            step_id="shoulder_gap", given={f"gap.{at}": Typed("0", "mm")}, reason="felt again, cold",
        )  # fmt: skip
    assert (job.flags(), next_angle(case_of(job.mounting), "")) == ({}, "")
