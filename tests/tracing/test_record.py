"""The record of a mounting as an auditor reads it: names, gauges, judgements, what was not done, its life."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.actions.opening import open_mounting
from qrecords.mountings.models import Mounting
from qrecords.people.models import PersonVersion
from qrecords.people.queries import Reach
from qrecords.signoff.actions import release
from qrecords.steps.answers import Absent, State
from qrecords.tracing.history import bearing, life_of
from qrecords.tracing.record import Record, gear_used, not_done, read_finding, record_of
from qrecords.workshop import actions as workshop
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.queries import procedure_by_digest
from tests.cast import Job, make_workshop, start

pytestmark = pytest.mark.django_db


@pytest.fixture
def job() -> Job:
    return start(make_workshop())


def record(job: Job) -> Record:
    return record_of(job.mounting)


def test_each_line_bears_the_name_of_the_version_its_hash_names(job: Job) -> None:
    job.receive()
    fitter = job.shop.people["fitter"]
    PersonVersion.objects.create(
        id=new_id(),
        person=fitter,
        name="Married Since",
        salt=b"x" * 32,
        hash="0" * 64,
        valid_from=job.shop.clock,
    )
    assert {line.author for line in record(job).lines} == {"Fitter Person"}


def test_an_erased_person_is_shown_by_the_beginning_of_the_pseudonym(job: Job) -> None:
    fitter = job.shop.people["fitter"]
    PersonVersion.objects.filter(person=fitter).delete()
    assert record(job).lines[0].author == f"person {str(fitter.id)[:8]}"


def test_a_sender_is_named_only_where_somebody_else_sent_it(job: Job) -> None:
    job.receive()
    job.measure()
    job.bore()
    job.own_reading()
    acting = job.shop.acting("inspector", sender=job.shop.people["fitter"])
    release(acting=acting, mounting=job.mounting, entry_id=new_id(), hold="fit", shown=job.shown())
    line = next(line for line in record(job).lines if line.entry.kind == "release")
    assert (line.author, line.sender) == ("Inspector Person", "Fitter Person")
    assert all(not other.sender for other in record(job).lines if other.entry.kind == "capture")


def test_a_correction_names_what_it_replaces_and_the_first_stays_readable(job: Job) -> None:
    first = job.say("identification", marking="6212 C4")
    second = job.say("identification", marking="6212 C3", reason="read again in raking light")
    found = record(job)
    assert found.line(str(first.id)).replaced_by == second.id
    assert found.line(str(first.id)).said["fields"]["marking"]["typed"] == "6212 C4"
    assert found.line(str(second.id)).reason == "read again in raking light"


def test_a_gauge_is_shown_with_the_calibration_in_force_when_it_was_used(job: Job) -> None:
    micrometer = job.shop.gear["micrometer"]
    before = micrometer.versions.get()
    job.measure()
    workshop.calibrate(
        acting=job.shop.acting("quality"), version_id=new_id(), equipment=micrometer,
        document={"status": "quarantine", "due": "2026-01-01"},
    )  # fmt: skip
    used = {use.gear.mark: use for use in gear_used(record(job).lines)}
    assert used["MICROMETER-1"].gear.calibration == str(before.id)
    assert used["MICROMETER-1"].gear.status == "in use"
    assert used["MICROMETER-1"].steps == ("measurement",)


def test_a_judgement_keeps_its_findings_as_they_were(job: Job) -> None:
    job.receive()
    job.measure()
    job.bore()
    job.release("fit")
    then = job.finding("journal size")
    job.say("measurement", reason="dirt under the anvil", journal__C__0=("12", "um from 60 mm"))
    stored = record(job).judgements
    assert [j.occasion for j in stored] == ["release fit"]
    kept = next(f for f in stored[0].findings if f.characteristic == "journal size")
    assert kept.statement() == then.statement() and kept.digest == then.digest
    assert job.finding("journal size").value != then.value
    assert stored[0].workings[then.digest]["formula"]


def test_a_finding_survives_the_way_through_its_document(job: Job) -> None:
    job.measure()
    for finding in job.findings().values():
        again = read_finding(finding.document())
        assert again.digest == finding.digest and dict(again.facts) == dict(finding.facts)


def test_what_was_not_done_has_its_reason_and_what_was_never_entered_says_so(job: Job) -> None:
    job.say("clearance_after", g1=Absent(State.NOT_POSSIBLE, "no feeler fits"))
    gaps = {(gap.step, gap.key): gap for gap in not_done(record(job).case)}
    assert (gaps["clearance_after", "g1"].state, gaps["clearance_after", "g1"].reason) == (
        "not possible",
        "no feeler fits",
    )
    assert gaps["clearance_before", "g0"].state == "not entered" and gaps["clearance_before", "g0"].optional
    assert not gaps["shoulder_gap", "feeler"].optional
    assert ("measurement", "journal") in gaps
    job.measure()
    assert ("measurement", "journal") not in {(gap.step, gap.key) for gap in not_done(record(job).case)}


def test_the_signed_case_ends_with_the_signature(job: Job) -> None:
    assert record(job).signed is None and record(job).signature is None
    job.whole()
    found = record(job)
    assert found.signed is not None and found.after_signature == ()
    assert found.signature is not None and found.signature.author == "Inspector Person"
    job.photograph("marking")
    assert [line.entry.kind for line in record(job).after_signature] == ["attachment"]


def test_a_record_is_read_in_three_queries_and_in_two_once_its_procedure_is_known(job: Job) -> None:
    job.whole()
    procedure_by_digest.cache_clear()
    for queries in (3, 2):
        with CaptureQueriesContext(connection) as captured:
            record(job)
        assert len(captured) == queries


def attempts(job: Job) -> list[Mounting]:
    """The ring comes off and goes on again: two mountings of one bearing on one journal."""
    job.measure()
    job.bore()
    job.heat(press_s=20)
    job.check_cold(at_90="0.05", at_180="0.08", at_270="0.03")
    job.decide("rework", "shoulder gap", reason="tilted, pulled on the inner ring")
    again = open_mounting(
        acting=job.shop.acting("fitter"), mounting_id=new_id(), journal=job.journal, bearing=job.bearing,
        rebuild=job.rebuild,
    )  # fmt: skip
    return [job.mounting, again]


def test_a_life_says_why_a_second_mounting_was_made(job: Job) -> None:
    first, second = attempts(job)
    chapters = life_of(job.bearing, Mounting.objects.select_related("journal__machine"))
    assert [chapter.mounting.id for chapter in chapters] == [first.id, second.id]
    assert chapters[0].ending is not None and chapters[0].ending.what == "closed as reworked"
    assert chapters[0].ending.reason == "tilted, pulled on the inner ring"
    assert chapters[1].after is not None and chapters[1].after.id == first.id
    assert chapters[1].why == chapters[0].ending and chapters[1].ending is None


def test_a_life_is_read_in_two_queries(job: Job) -> None:
    attempts(job)
    with CaptureQueriesContext(connection) as captured:
        life_of(job.bearing, Mounting.objects.all())
    assert len(captured) == 2


def test_a_bearing_out_of_reach_is_as_if_it_did_not_exist(job: Job) -> None:
    with pytest.raises(UnknownObjectError):
        bearing(job.bearing.id, Reach(everywhere=False, sites=frozenset({new_id()})))
    assert bearing(job.bearing.id, Reach(everywhere=True, sites=frozenset())) == job.bearing
