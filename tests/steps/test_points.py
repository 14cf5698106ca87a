"""Points of the contract: holds of the procedure's own, witness points with their notice time, reviews."""

from collections.abc import Mapping
from datetime import timedelta
from typing import Any

import pytest

from qrecords.steps.findings import Finding
from qrecords.steps.holds import of_hold
from qrecords.steps.procedure import STANDARD
from qrecords.steps.standard import all_findings
from qrecords.steps.waiting import is_to_come, waits
from tests.steps.casebook import Book, measure
from tests.workshop.drafts import IDENTITY, PAPERS, VISIT

BEFORE_HEAT = {**IDENTITY, "id": "lift", "title": "Lift plan", "covers": ["preparation"], "before": "heat"}


def book(*points: Mapping[str, Any]) -> Book:
    return Book(procedure={**STANDARD, "points": [dict(each) for each in points]})


def found(book: Book, title: str) -> Finding:
    return next(finding for finding in all_findings(book.case()) if finding.characteristic == title)


def told(book: Book, title: str) -> tuple[str, str]:
    finding = found(book, title)
    return finding.verdict.value, finding.message.partition(".")[2]


def at_point(book: Book, point: str, what: str, author: str = "fitter", **said: Any) -> str:
    seen = {"captures": sorted(book.case().standing_captures(point))} if what == "looked at" else {}
    reason, prev = said.pop("reason", None), said.pop("prev", None)
    line = book.enter(
        "point", {"point": point, "what": what, **said}, seen, author=author, reason=reason, prev=prev
    )
    return line.id


def release(book: Book, hold: str) -> None:
    captures = sorted(book.case().standing_captures(hold))
    book.enter("release", {"hold": hold}, {"captures": captures, "means": "sign-in"}, author="inspector")


def identified(book: Book) -> None:
    book.say("identification", marking="6212 C3", package="intact")


def test_a_procedure_without_points_has_no_finding_of_any() -> None:
    rules = {finding.rule for finding in all_findings(book().case())}
    assert not rules & {"hold-released", "witness-told", "documents-reviewed"}


def test_a_hold_of_the_procedures_own_is_to_come_then_waits_then_is_released() -> None:
    job = book(IDENTITY)
    assert told(job, "Identity") == ("missing", "not-entered")
    assert is_to_come(found(job, "Identity"))
    identified(job)
    assert told(job, "Identity") == ("missing", "waits.not-entered")
    assert is_to_come(found(job, "Identity"))
    case = job.case()
    assert waits(case, all_findings(case), "identity")
    release(job, "identity")
    assert told(job, "Identity") == ("conforming", "conforming")
    case = job.case()
    assert not waits(case, all_findings(case), "identity")


def test_a_later_capture_of_what_it_covers_voids_its_release() -> None:
    job = book(IDENTITY)
    identified(job)
    release(job, "identity")
    job.say("identification", package="opened")
    assert told(job, "Identity") == ("not proven", "voided")
    release(job, "identity")
    assert told(job, "Identity") == ("conforming", "conforming")


def test_only_the_fields_that_a_hold_covers_void_it() -> None:
    job = book({**IDENTITY, "covers": ["identification.marking"]})
    identified(job)
    release(job, "identity")
    job.say("identification", lot="L-77")
    assert told(job, "Identity") == ("conforming", "conforming")


def test_work_that_passed_a_hold_is_told_for_ever_also_once_it_was_released() -> None:
    job = book(IDENTITY)
    identified(job)
    measure(job)
    assert told(job, "Identity") == ("not proven", "passed")
    release(job, "identity")
    assert told(job, "Identity") == ("nonconforming", "later")


def test_a_hold_passed_on_a_void_release_stays_passed_once_it_is_released_again() -> None:
    job = book(BEFORE_HEAT)
    job.say("preparation", wiped="yes")
    release(job, "lift")
    job.say("preparation", wiped="no")
    job.tap("heater on")
    assert told(job, "Lift plan") == ("not proven", "passed")
    release(job, "lift")
    assert told(job, "Lift plan") == ("nonconforming", "later")


def test_a_hold_released_anew_before_work_passes_it_is_released() -> None:
    job = book(BEFORE_HEAT)
    job.say("preparation", wiped="no")
    release(job, "lift")
    job.say("preparation", wiped="yes")
    release(job, "lift")
    job.tap("heater on")
    assert told(job, "Lift plan") == ("conforming", "conforming")
    job.say("preparation", wiped="no")
    assert told(job, "Lift plan") == ("not proven", "voided")
    release(job, "lift")
    assert told(job, "Lift plan") == ("conforming", "conforming")


def test_heat_passes_a_hold_that_is_before_heat() -> None:
    job = book(BEFORE_HEAT)
    job.say("preparation", wiped="yes")
    job.enter("tap", {"what": "heater on", "release": "x"})
    assert told(job, "Lift plan") == ("not proven", "passed")


def test_what_a_hold_is_about_are_the_findings_of_the_steps_it_covers() -> None:
    job = book(IDENTITY)
    identified(job)
    case = job.case()
    rules = {finding.rule for finding in of_hold(case, all_findings(case), "identity")}
    assert {"ring-marking", "own-reading", "package-intact"} <= rules
    assert "journal-size" not in rules
    assert {"journal-size", "own-reading"} <= {
        finding.rule for finding in of_hold(case, all_findings(case), "fit")
    }


def test_a_witness_point_that_was_told_in_time_goes_on_if_nobody_comes() -> None:
    job = book(VISIT)
    assert told(job, "Fit seen") == ("missing", "not-entered")
    at_point(job, "visit", "notified", who="E. Marlow", how="telephone")
    assert told(job, "Fit seen") == ("missing", "told.not-entered")
    assert found(job, "Fit seen").facts["notice"] == "1 h"
    job.now += timedelta(minutes=61)
    measure(job)
    assert told(job, "Fit seen") == ("missing", "came.not-entered")
    assert is_to_come(found(job, "Fit seen"))
    at_point(job, "visit", "did not come", who="E. Marlow")
    assert told(job, "Fit seen") == ("conforming", "nobody-came")


def test_a_witness_point_passed_without_notice_is_missing() -> None:
    job = book(VISIT)
    measure(job)
    assert told(job, "Fit seen") == ("missing", "not-told")
    assert not is_to_come(found(job, "Fit seen"))
    at_point(job, "visit", "notified", who="E. Marlow", how="telephone")
    assert told(job, "Fit seen") == ("missing", "not-told")


@pytest.mark.parametrize(("minutes", "said"), [(0, "too-soon"), (59, "too-soon"), (60, "came.not-entered")])
def test_a_witness_point_passed_before_the_notice_time_ended_is_missing(minutes: int, said: str) -> None:
    job = book(VISIT)
    at_point(job, "visit", "notified", who="E. Marlow", how="telephone")
    job.now += timedelta(minutes=minutes) - timedelta(seconds=10)
    measure(job)
    assert told(job, "Fit seen") == ("missing", said)


def test_who_was_told_first_counts_and_what_was_taken_back_does_not() -> None:
    job = book(VISIT)
    first = at_point(job, "visit", "notified", who="E. Marlow", how="telephone")
    job.now += timedelta(minutes=50)
    at_point(job, "visit", "notified", who="E. Marlow", how="e-mail")
    job.now += timedelta(minutes=20)
    measure(job)
    assert told(job, "Fit seen") == ("missing", "came.not-entered")
    at_point(job, "visit", "taken back", prev=first, reason="it was for another shaft")
    assert told(job, "Fit seen") == ("missing", "too-soon")
    assert found(job, "Fit seen").facts["waited"] == "20 min"


@pytest.mark.parametrize(("what", "said"), [("came", "came"), ("waived", "waived")])
def test_who_came_or_waived_it_settles_a_witness_point(what: str, said: str) -> None:
    job = book(VISIT)
    measure(job)
    at_point(job, "visit", what, author="inspector", who="E. Marlow", reason="seen on the last shaft")
    assert told(job, "Fit seen") == ("conforming", said)


def test_who_worked_waives_nothing_whenever_he_worked() -> None:
    job = book(VISIT)
    at_point(job, "visit", "waived", author="second", who="E. Marlow", reason="seen on the last shaft")
    measure(job)
    assert told(job, "Fit seen") == ("conforming", "waived")
    job.say("bore", author="second", source="from class")
    assert told(job, "Fit seen") == ("missing", "not-told")


def test_a_notice_that_was_written_down_after_the_work_is_not_proven() -> None:
    job = book(VISIT)
    early = job.now - timedelta(hours=3)
    measure(job)
    at_point(job, "visit", "notified", who="E. Marlow", how="telephone", at=early.isoformat())
    assert told(job, "Fit seen") == ("not proven", "told-after")


def test_a_check_is_no_beginning_of_the_work() -> None:
    job = book({**VISIT, "covers": ["identification"]})
    job.say("identification", author="inspector", check=True, marking="6212 C3")
    assert told(job, "Fit seen") == ("missing", "not-entered")


def test_who_looked_at_the_documents_saw_what_stood_then() -> None:
    job = book(PAPERS)
    assert told(job, "Papers") == ("missing", "not-entered")
    job.say("bore", bore__A__0=("-6", "um from 60 mm"), gauge="bore_gauge")
    at_point(job, "papers", "looked at", author="inspector", who="customer", how="certificate and readings")
    assert told(job, "Papers") == ("conforming", "conforming")
    job.say("bore", bore__A__0=("-7", "um from 60 mm"))
    assert told(job, "Papers") == ("not proven", "changed")


def test_nobody_reviews_his_own_work() -> None:
    job = book(PAPERS)
    job.say("bore", bore__A__0=("-6", "um from 60 mm"), gauge="bore_gauge")
    at_point(job, "papers", "looked at", author="fitter", who="fitter", how="readings")
    assert told(job, "Papers") == ("not proven", "own-work")


def test_surveillance_is_recorded_and_never_asked_for() -> None:
    job = book({**VISIT, "kind": "surveillance", "notice_min": 0})
    at_point(job, "visit", "looked in", author="inspector", who="inspector", how="tidy")
    case = job.case()
    assert [act.what for act in case.points] == ["looked in"]
    assert "Fit seen" not in {finding.characteristic for finding in all_findings(case)}


def test_a_point_act_of_an_unknown_form_is_kept_unread() -> None:
    job = book(VISIT)
    line = job.enter("point", {"what": "notified"})
    assert line.id in job.case().unread
