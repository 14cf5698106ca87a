"""A mounting judged again with something put right: an entry beside the record, which stays as it was."""

from datetime import timedelta

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.again import judge_again, judged_again
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import FindingRow, JudgedAgain, Mounting, Reading
from qrecords.mountings.queries import case_of
from qrecords.proof.canonical import parse_canonical
from qrecords.steps.again import with_requirement
from qrecords.steps.case import Case
from qrecords.steps.corrected import corrected
from qrecords.steps.suspect import Suspect, read_error
from qrecords.tracing.rebuilding import rebuild
from qrecords.tracing.record import record_of
from tests.cast import REQUIREMENT, Job, make_workshop, start
from tests.kept import once

pytestmark = pytest.mark.django_db
ERROR = read_error([{"size": 60_000_000, "error": 9000, "u": 1500}])


@pytest.fixture
def job() -> Job:
    """A sound mounting of 60 m6 (+11…+30), signed off; its readings are +16…+18."""
    return once(_signed)


def _signed() -> Job:
    job = start(make_workshop())
    job.whole()
    return job


def too_high(job: Job) -> Suspect:
    piece = str(job.shop.gear["micrometer"].id)
    return Suspect(piece, job.shop.clock - timedelta(days=1), job.shop.clock + timedelta(days=1), ERROR)


def put_right(job: Job):  # type: ignore[no-untyped-def]
    def without_error(case: Case) -> Case:
        return corrected(case, too_high(job))

    return without_error


def test_it_is_kept_beside_the_record_and_nothing_recorded_changes(job: Job) -> None:
    before = (
        list(Reading.objects.order_by("id").values()),
        list(FindingRow.objects.order_by("id").values()),
        Mounting.objects.values().get(),
    )
    entries = Entry.objects.count()
    cause = new_id()
    again = judge_again(
        acting=job.shop.acting("quality"), mounting=job.mounting, put_right=put_right(job),
        occasion="look-back", cause=cause,
    )  # fmt: skip
    assert again is not None
    assert again.verdict == "nonconforming"
    assert "journal size" in {change.finding.characteristic for change in again.changed}
    assert before == (
        list(Reading.objects.order_by("id").values()),
        list(FindingRow.objects.order_by("id").values()),
        Mounting.objects.values().get(),
    )
    new = Entry.objects.order_by("leaf__index")[entries:]
    said = [parse_canonical(bytes(entry.payload))["body"]["said"] for entry in new]
    assert {entry.kind for entry in new} == {"judgement"}
    assert {(told["occasion"], told["cause"]) for told in said} == {("look-back", str(cause))}
    kept = JudgedAgain.objects.get()
    assert (kept.mounting_id, kept.verdict, kept.cause) == (job.mounting.id, "nonconforming", cause)
    size = next(told for told in kept.document if told["key"] == "journal-size/journal size")
    assert (size["before"], size["after"], size["value_after"] - size["value_before"]) == (
        "conforming",
        "nonconforming",
        -9000,
    )


def test_the_same_cause_judges_once(job: Job) -> None:
    cause = new_id()
    asked = {"mounting": job.mounting, "put_right": put_right(job), "occasion": "look-back", "cause": cause}
    assert judge_again(acting=job.shop.acting("quality"), **asked) is not None
    entries = Entry.objects.count()
    assert judge_again(acting=job.shop.acting("quality"), **asked) is None
    assert (Entry.objects.count(), JudgedAgain.objects.count()) == (entries, 1)


def test_what_counts_of_a_record_is_still_how_it_was_judged_itself(job: Job) -> None:
    judge_again(
        acting=job.shop.acting("quality"), mounting=job.mounting, put_right=put_right(job),
        occasion="look-back", cause=new_id(),
    )  # fmt: skip
    record = record_of(job.mounting)
    assert record.counting is not None
    assert record.counting.occasion == "sign-off"
    assert [judgement.occasion for judgement in record.judgements if judgement.again] == ["look-back"]
    assert next(line.entry.kind for line in record.after_signature) == "judgement"
    assert case_of(job.mounting).judged_again[0].verdict == "nonconforming"


def test_the_index_is_made_again_from_the_entries(job: Job) -> None:
    judge_again(
        acting=job.shop.acting("quality"), mounting=job.mounting, put_right=put_right(job),
        occasion="look-back", cause=new_id(),
    )  # fmt: skip
    assert rebuild().same
    JudgedAgain.objects.update(verdict="conforming")
    assert rebuild().differing["judgements again"] == 1
    assert JudgedAgain.objects.get().verdict == "nonconforming"
    JudgedAgain.objects.create(
        mounting=job.mounting, occasion="look-back", cause=new_id(), verdict="conforming", entry=new_id(),
        at=job.shop.clock, document=[],
    )  # fmt: skip
    assert rebuild().differing["judgements again"] == 1
    assert rebuild().same


def test_looking_only_writes_nothing_and_the_right_drawing_gives_its_class(job: Job) -> None:
    entries = Entry.objects.count()
    right = {**REQUIREMENT, "limits_um": ["20", "39"], "revision": "D"}
    again = judged_again(job.mounting, lambda case: with_requirement(case, right))
    assert again.verdict == "nonconforming"
    assert again.before.findings == judged_now(job.mounting).findings
    assert Entry.objects.count() == entries
