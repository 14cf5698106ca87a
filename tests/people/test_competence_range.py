"""Competence by task, size, kind of bearing and position, and its lapse when the task is not done."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest

from qrecords.ledger.identifiers import new_id
from qrecords.mountings.models import TaskDone
from qrecords.people import actions as people
from qrecords.people.competence import Asked, Range, Standing, one_of_both, standing_on, year_after
from qrecords.people.errors import NotForOneselfError
from qrecords.people.models import Competence, Eyesight
from qrecords.steps.tasks import KINDS, TASKS, kind_of
from qrecords.tracing.agreement import differences
from qrecords.tracing.rebuilding import rebuild
from tests.cast import Job, Workshop, make_workshop, start
from tests.kept import once
from tests.steps.casebook import Book

pytestmark = pytest.mark.django_db
BALL = "deep groove ball"
HEAT = Asked("heat", Decimal(60), BALL)


def row(**changes: Any) -> Competence:
    said: dict[str, Any] = {
        "from_mm": Decimal(20), "to_mm": Decimal(100), "valid_from": date(2025, 1, 1),
        "valid_to": date(2028, 1, 1), "kinds": [], "positions": [],
    }  # fmt: skip
    return Competence(**{**said, **changes})


DAY = date(2025, 6, 1)


@pytest.mark.parametrize(
    ("changes", "asked", "state"),
    [
        ({}, HEAT, "held"),
        ({"to_mm": Decimal(60)}, HEAT, "held"),
        ({"from_mm": Decimal("60.001")}, HEAT, "none"),
        ({"valid_from": date(2025, 6, 1)}, HEAT, "held"),
        ({"valid_from": date(2025, 6, 2)}, HEAT, "none"),
        ({"valid_to": DAY}, HEAT, "held"),
        ({"valid_to": date(2025, 5, 31)}, HEAT, "lapsed"),
        ({"kinds": [BALL]}, HEAT, "held"),
        ({"kinds": ["tapered roller"]}, HEAT, "none"),
        ({"kinds": [BALL]}, Asked("heat", Decimal(60)), "kind unknown"),
        ({}, Asked("heat", Decimal(60)), "held"),
        ({"positions": ["DE"]}, Asked("heat", Decimal(60), BALL, "DE"), "held"),
        ({"positions": ["DE"]}, Asked("heat", Decimal(60), BALL, "NDE"), "none"),
        ({"positions": ["DE"]}, HEAT, "held"),
    ],
)
def test_it_covers_what_it_says_and_no_more(changes: dict[str, Any], asked: Asked, state: str) -> None:
    assert standing_on([row(**changes)], asked, DAY).state == state


def test_of_several_rows_the_best_counts() -> None:
    rows = [row(valid_to=date(2025, 2, 1)), row(), row(kinds=["tapered roller"])]
    assert standing_on(rows, HEAT, DAY).state == "held"
    assert standing_on(rows[:1], HEAT, DAY) == Standing("lapsed", date(2025, 2, 1))


@pytest.mark.parametrize(
    ("done", "recorded", "day", "standing"),
    [
        (None, None, date(2026, 1, 1), Standing("held", date(2026, 1, 1))),
        (None, None, date(2026, 1, 2), Standing("lapsed", date(2026, 1, 1), date(2025, 1, 1))),
        (date(2025, 9, 1), None, date(2026, 9, 1), Standing("held", date(2026, 9, 1))),
        (date(2025, 9, 1), None, date(2026, 9, 2), Standing("lapsed", date(2026, 9, 1), date(2025, 9, 1))),
        (None, date(2026, 3, 1), date(2027, 3, 1), Standing("held", date(2027, 3, 1))),
        (date(2027, 12, 1), None, date(2028, 1, 1), Standing("held", date(2028, 1, 1))),
        (date(2027, 12, 1), None, date(2028, 1, 2), Standing("lapsed", date(2028, 1, 1))),
    ],
)
def test_it_lapses_a_year_after_the_task_was_last_done_or_vouched_for(
    done: date | None, recorded: date | None, day: date, standing: Standing
) -> None:
    at = datetime(recorded.year, recorded.month, recorded.day, tzinfo=UTC) if recorded else None
    assert standing_on([row(recorded_at=at)], HEAT, day, done) == standing


def test_a_year_after_a_leap_day_is_the_last_of_february() -> None:
    assert year_after(date(2028, 2, 29)) == date(2029, 2, 28)


def test_between_two_days_that_differ_nothing_is_proven() -> None:
    held, lapsed = Standing("held", DAY), Standing("lapsed", DAY)
    assert one_of_both([held, lapsed]).state == one_of_both([held, held], same_role=False).state == "differs"
    assert one_of_both([held, held]) == held


def test_the_kind_is_told_by_the_designation_or_else_by_the_table_of_clearances() -> None:
    book = Book()
    assert kind_of(book.case().requirement) == BALL
    own = Book(requirement={**book.requirement, "designation": "X-771 special"})
    assert kind_of(own.case().requirement) == BALL
    unknown = {**book.requirement, "designation": "X-771 special", "clearance_kind": "none"}
    assert kind_of(Book(requirement=unknown).case().requirement) == ""
    assert BALL in KINDS and {"measure", "heat", "mount", "stand in"} < set(TASKS)


def _measured() -> Job:
    job = start(make_workshop())
    job.receive()
    job.measure()
    return job


@pytest.fixture
def job() -> Job:
    return once(_measured)


def assessed(shop: Workshop, who: str = "fitter", **changes: Any) -> Competence:
    said: dict[str, Any] = {
        "task": "heat", "basis": "six supervised jobs", "from_mm": Decimal(401), "to_mm": Decimal(900),
        "valid_from": date(2026, 3, 1), "valid_to": date(2030, 1, 1), "assessor": shop.people["quality"],
    }  # fmt: skip
    return people.assess(
        acting=shop.acting("quality"), site=shop.site, competence_id=new_id(), person=shop.people[who],
        **{**said, **changes},
    )  # fmt: skip


def test_who_did_what_is_kept_as_an_index_that_can_be_made_again(job: Job) -> None:
    done = {(row.person, row.task) for row in TaskDone.objects.all()}
    fitter = job.shop.people["fitter"].id
    assert done == {(fitter, "measure"), (fitter, "work")}
    job.own_reading()
    assert TaskDone.objects.filter(person=job.shop.people["inspector"].id, task="check").exists()
    TaskDone.objects.update(at=datetime(2020, 1, 1, tzinfo=UTC))
    assert rebuild().differing["tasks done"] == 3
    assert rebuild().same


def test_not_done_for_a_year_is_nonconforming_and_says_since_when(job: Job) -> None:
    job.shop.clock += timedelta(days=400)
    job.say("measurement", shaft=("20", "°C"), reason="again")
    finding = job.finding("competence, measurement")
    assert (finding.verdict, finding.message) == ("nonconforming", "competence.not-done")
    assert finding.facts["since"] == "2026-03-02"
    assessed(job.shop, task="measure", from_mm=Decimal(10), to_mm=Decimal(100), valid_from=date(2027, 4, 1))
    job.say("measurement", air=("20", "°C"), reason="after being assessed anew")
    frozen = job.finding("competence, measurement")
    assert frozen.verdict == "nonconforming", "what was frozen at the act stays as it was"


def test_done_within_the_year_it_holds_although_it_was_assessed_long_ago(job: Job) -> None:
    job.shop.clock += timedelta(days=300)
    job.say("measurement", shaft=("20", "°C"), reason="again")
    job.shop.clock += timedelta(days=300)
    job.say("measurement", shaft=("20", "°C"), reason="and again")
    assert job.finding("competence, measurement").verdict == "conforming"


def test_a_range_is_an_entry_and_stands_in_the_row(job: Job) -> None:
    row = assessed(job.shop, range=Range(kinds=(BALL,), positions=("DE",), jobs=6))
    assert (row.kinds, row.positions, row.jobs) == ([BALL], ["DE"], 6)
    assert list(differences()) == []
    Competence.objects.filter(id=row.id).update(kinds=[])
    assert [line.split(": ")[1].split(" ")[0] for line in differences()] == ["kinds"]


def test_a_competence_for_other_kinds_does_not_cover_this_bearing(job: Job) -> None:
    Competence.objects.filter(task="heat").update(kinds=["tapered roller"])
    job.say("heating", probe="inner ring")
    assert job.finding("competence, heating").verdict == "nonconforming"


def seen_well(shop: Workshop, who: str, **changes: date) -> Eyesight:
    days = {"tested_on": date(2025, 9, 1), "valid_to": date(2027, 9, 1)}
    return people.record_eyesight(
        acting=shop.acting("quality"), site=shop.site, eyesight_id=new_id(), person=shop.people[who],
        **{**days, **changes},
    )  # fmt: skip


@pytest.mark.parametrize(
    ("valid_to", "verdict"), [(date(2026, 3, 2), "conforming"), (date(2026, 3, 1), "nonconforming")]
)
def test_the_eyesight_of_who_checks_is_frozen_beside_the_check(
    job: Job, valid_to: date, verdict: str
) -> None:
    seen_well(job.shop, "inspector", valid_to=valid_to)
    job.own_reading()
    finding = job.finding("eyesight of the checker")
    assert (finding.verdict, finding.facts["until"]) == (verdict, valid_to.isoformat())
    assert list(differences()) == []


def test_where_no_test_is_recorded_nobody_is_asked_for_one(job: Job) -> None:
    job.own_reading()
    assert "eyesight of the checker" not in job.findings()


def test_nobody_records_the_test_of_his_own_eyes(job: Job) -> None:
    with pytest.raises(NotForOneselfError):
        seen_well(job.shop, "quality")
    assert not Eyesight.objects.exists()


def test_rows_from_before_learn_from_their_entry_when_they_were_recorded(job: Job) -> None:
    from importlib import import_module

    from django.apps import apps

    learn = import_module("qrecords.people.migrations.0004_recorded_at")
    known = dict(Competence.objects.values_list("id", "recorded_at"))
    Competence.objects.update(recorded_at=None)
    learn.from_the_entries(apps, None)
    assert dict(Competence.objects.values_list("id", "recorded_at")) == known
    assert known and list(differences()) == []
