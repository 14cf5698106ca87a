"""Another drawing revision proves to have been the right one: judged again beside what was found."""

from typing import Any

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.errors import RefusedError
from qrecords.mountings.models import JudgedAgain
from qrecords.mountings.queries import case_of
from qrecords.people.errors import NotAllowedError
from qrecords.signoff.drawings import put_drawing_right
from qrecords.signoff.errors import ReasonNeededError
from qrecords.steps.transitions import State, standing_release, state_of
from qrecords.tracing.record import record_of
from qrecords.workshop.actions import require_of_journal
from qrecords.workshop.models import JournalRequirement
from tests.cast import REQUIREMENT, Job, make_workshop, start
from tests.web.desk import sit

pytestmark = pytest.mark.django_db


def revision(job: Job, **changes: Any) -> JournalRequirement:
    """Rev. D of the same drawing."""
    return require_of_journal(
        acting=job.shop.acting("engineer"), requirement_id=new_id(), journal=job.journal,
        document={**REQUIREMENT, "revision": "D", **changes},
    )  # fmt: skip


def put_right(job: Job, asked: JournalRequirement, who: str = "engineer", why: str = "order of May") -> Entry:
    return put_drawing_right(
        acting=job.shop.proved(who), mounting=job.mounting, entry_id=new_id(), requirement=asked, reason=why
    )


@pytest.fixture
def job() -> Job:
    """A sound journal 60 m6 (+16…+18), before heat."""
    job = start(make_workshop())
    job.receive()
    job.measure()
    job.bore()
    return job


def test_an_open_record_is_judged_by_the_right_drawing_from_then_on_and_its_release_is_void(job: Job) -> None:
    job.release()
    assert job.finding("journal size").verdict == "conforming"
    put_right(job, revision(job, shaft_class="k5"))  # +2…+15
    found = job.finding("journal size")
    assert (found.verdict, found.lower, found.upper) == ("nonconforming", 2_000, 15_000)
    case = case_of(job.mounting)
    assert (case.requirement.revision, standing_release(case, "fit")) == ("D", None)
    occasions = [j.occasion for j in record_of(job.mounting).judgements]
    assert occasions[-2:] == ["before drawing", "drawing"]
    (row,) = JudgedAgain.objects.filter(mounting=job.mounting)
    assert {each["key"]: each["after"] for each in row.document}[
        "journal-size/journal size"
    ] == "nonconforming"


def test_a_signed_record_stays_and_the_new_judgement_stands_beside_it() -> None:
    job = start(make_workshop())
    job.photograph()
    job.whole()
    signed = record_of(job.mounting).counting
    put_right(job, revision(job, shaft_class="k5"))
    record = record_of(job.mounting)
    assert record.counting is not None and signed is not None
    assert record.counting.findings == signed.findings
    assert state_of(record.case) == State.SIGNED_OFF and record.case.requirement.revision == "C"
    again = record.judgements[-1]
    assert again.again and again.occasion == "drawing"
    size = next(f for f in again.findings if f.characteristic == "journal size")
    assert (size.verdict, size.upper) == ("nonconforming", 15_000)


def test_record_certificate_and_the_auditors_page_show_it_beside_the_old_one() -> None:
    job = start(make_workshop())
    job.photograph()
    job.whole()
    put_right(job, revision(job, shaft_class="k5"))
    desk = sit(job.shop, "inspector", job)
    for page in (desk.read(), desk.read("certificate")):
        assert "Judged again: drawing TH-4410 rev. D was the right one" in page
        assert "order of May" in page
        row = page.split("Journal, worst reading", 1)[1].split("</tr>", 1)[0]
        assert "nonconforming" in page.split("judged-again", 1)[1]
        assert row
    trace = sit(job.shop, "auditor", job).client.get(f"/mountings/{job.mounting.id}/trace/").content.decode()
    assert "judged by the right drawing" in trace


def test_only_the_engineer_who_did_not_work_on_it_says_so_with_a_reason(job: Job) -> None:
    asked = revision(job, shaft_class="k5")
    with pytest.raises(NotAllowedError):
        put_right(job, asked, who="inspector")
    with pytest.raises(ReasonNeededError):
        put_right(job, asked, why=" ")
    same = JournalRequirement.objects.filter(journal=job.journal, revision="C").get()
    with pytest.raises(RefusedError) as caught:
        put_right(job, same)
    assert caught.value.code == "same-drawing"
    job.tap("alarm", who="fitter")
    assert JudgedAgain.objects.count() == 0


def test_sent_twice_it_is_one(job: Job) -> None:
    asked, entry = revision(job, shaft_class="k5"), new_id()
    said: dict[str, Any] = {
        "mounting": job.mounting,
        "entry_id": entry,
        "requirement": asked,
        "reason": "May",
    }
    put_drawing_right(acting=job.shop.proved("engineer"), **said)
    before = Entry.objects.count()
    put_drawing_right(acting=job.shop.proved("engineer"), **said)
    assert Entry.objects.count() == before
    assert JudgedAgain.objects.count() == 1


def test_revisions_of_a_journal_are_listed_and_compared(job: Job) -> None:
    revision(job, shaft_class="k5", gap_um="20")
    page = sit(job.shop, "engineer", job).client.get(f"/journals/{job.journal.id}/").content.decode()
    listed, compared = page.split("Two revisions compared", 1)
    assert listed.count("<td>D</td>") == 1 and listed.count("<td>C</td>") == 1
    assert "<td>m6</td><td><b>k5</b></td>" in compared and "<td>–</td><td><b>20</b></td>" in compared
