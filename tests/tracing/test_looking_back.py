"""A look-back from the opening to its end: judged again in jobs, resumable; in three classes; answered by
name; nothing recorded altered."""

from collections import Counter
from datetime import date, timedelta
from typing import Any
from unittest.mock import patch

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.identifiers import new_id
from qrecords.ledger.models import Entry
from qrecords.mountings.actions import looking_back as acts
from qrecords.mountings.errors import RefusedError
from qrecords.mountings.look_backs import (
    counted,
    is_judged,
    look_backs_on,
    open_look_backs,
    results,
    unanswered,
)
from qrecords.mountings.models import JudgedAgain, Mounting
from qrecords.outbox.jobs import drain
from qrecords.outbox.models import Job as Row
from qrecords.people.errors import NotAllowedError, ProveAgainError
from qrecords.steps.errors import DocumentError
from qrecords.steps.new_look_back import read_look_back
from qrecords.tracing import looking_back
from qrecords.tracing.agreement import differences
from qrecords.tracing.rebuilding import rebuild
from qrecords.workshop import actions as workshop
from qrecords.workshop.errors import RegisterFieldError
from qrecords.workshop.models import LookBack, LookBackAction
from tests.cast import make_workshop, start
from tests.kept import once
from tests.outbox.test_jobs import come_due
from tests.tracing.coldbeck import ASKED, TOLD, Foundry, document_of, foundry, measured, opened

pytestmark = pytest.mark.django_db


@pytest.fixture
def jobs() -> Foundry:
    return once(foundry)


def classes(look_back: LookBack) -> dict[str, str]:
    return {row.mounting.number: row.verdict for row in results(look_back)}


def told(jobs: Foundry) -> dict[str, str]:
    return {jobs[um].mounting.number: verdict for um, verdict in TOLD.items()}


def test_the_five_mountings_of_coldbeck_come_to_the_classes_that_were_reckoned(jobs: Foundry) -> None:
    before = list(Mounting.objects.order_by("id").values())
    flags = {um: job.flags() for um, job in jobs.items()}
    look_back = opened(jobs.shop)
    assert not is_judged(look_back)
    assert drain() == 1
    assert classes(look_back) == told(jobs)
    assert is_judged(look_back)
    assert counted([look_back.id]) == {look_back.id: {"not proven": 2, "nonconforming": 1, "conforming": 2}}
    assert before == list(Mounting.objects.order_by("id").values())
    assert flags == {um: job.flags() for um, job in jobs.items()}, "what is recorded judges as it did"
    assert {row.mounting.journal.machine.owner for row in results(look_back)} == {"Coldbeck foundry"}


def test_a_job_that_is_killed_half_way_goes_on_and_doubles_nothing(jobs: Foundry) -> None:
    look_back = opened(jobs.shop)
    real, calls = acts.judge_again, []

    def dies(**told: Any) -> Any:
        if len(calls) == 2:
            raise KeyboardInterrupt
        calls.append(told["mounting"].number)
        return real(**told)

    with patch.object(acts, "judge_again", dies), pytest.raises(KeyboardInterrupt):
        drain()
    assert JudgedAgain.objects.count() == 2
    assert not is_judged(look_back)
    come_due()
    drain()
    assert classes(look_back) == told(jobs)
    assert is_judged(look_back)
    judgements = Entry.objects.filter(kind="judgement")
    assert set(Counter(judgements.values_list("subject", flat=True)).values()) == {1}
    entries = Entry.objects.count()
    looking_back.judge_touched(str(look_back.id))
    assert Entry.objects.count() == entries


def test_the_jobs_are_short_and_each_writes_the_next(jobs: Foundry) -> None:
    look_back = opened(jobs.shop)
    with patch.object(looking_back, "A_JOB", 2), patch("qrecords.mountings.look_backs.PAGE", 2):
        assert drain() == 3
    assert classes(look_back) == told(jobs)
    assert Row.objects.filter(kind="judge look-back", done_at=None).count() == 0
    assert Entry.objects.filter(kind="look-back judged").count() == 1


def test_sent_twice_it_is_one_look_back_and_another_word_under_its_id_is_refused(jobs: Foundry) -> None:
    shop, id = jobs.shop, new_id()
    asked = {"site": shop.site, "look_back_id": id, "document": document_of(shop), "why": "reads high"}
    from qrecords.workshop.look_back_actions import open_look_back

    first = open_look_back(acting=shop.acting("quality"), **asked)
    assert open_look_back(acting=shop.acting("quality"), **asked) == first
    assert Row.objects.filter(kind="judge look-back").count() == 1
    with pytest.raises(DifferentContentError):
        open_look_back(acting=shop.acting("quality"), **{**asked, "document": document_of(shop, points=[])})


def test_what_was_not_read_with_the_piece_in_its_time_is_not_touched(jobs: Foundry) -> None:
    shop = jobs.shop
    early = (shop.clock - timedelta(days=2)).isoformat()
    assert_none = opened(shop, since=(shop.clock - timedelta(days=9)).isoformat(), until=early)
    other = opened(shop, of=str(shop.gear["feeler"].id))
    drain()
    assert classes(assert_none) == classes(other) == {}
    assert is_judged(assert_none)


def test_without_a_known_error_each_mounting_is_in_doubt_and_asks_for_an_action(jobs: Foundry) -> None:
    lost = opened(jobs.shop, points=[])
    drain()
    assert set(classes(lost).values()) == {"in doubt"}
    assert unanswered(lost).count() == 5


def test_a_lot_a_person_and_the_like_are_listed(jobs: Foundry) -> None:
    shop = jobs.shop
    lot = opened(shop, subject="bearing lot", of="L-77", points=[])
    fitter = opened(shop, subject="person", of=str(shop.people["fitter"].id), points=[])
    nobody = opened(shop, subject="person", of=str(shop.people["second_fitter"].id), points=[])
    drain()
    assert len(classes(lot)) == len(classes(fitter)) == 5
    assert classes(nobody) == {}
    assert set(classes(lot).values()) == {"in doubt"}


def test_a_wrong_drawing_revision_is_judged_against_the_right_one(jobs: Foundry) -> None:
    shop = jobs.shop
    right = {**ASKED, "revision": "C", "shaft_class": "", "limits_um": ["25", "35"]}
    for um in (20, 31):
        workshop.require_of_journal(
            acting=shop.acting("engineer"), requirement_id=new_id(), journal=jobs[um].journal, document=right
        )
    wrong = {"subject": "drawing revision", "of": "CB-118", "revision": "B", "right": "C", "points": []}
    look_back = opened(shop, **wrong)
    drain()
    numbers = {jobs[um].mounting.number: um for um in TOLD}
    found = {numbers[number]: verdict for number, verdict in classes(look_back).items()}
    assert found[20] == "nonconforming"
    assert found[31] == "conforming"
    assert {found[um] for um in (24, 17, 28)} == {"in doubt"}, "no right revision is registered there"


def give(jobs: Foundry, look_back: LookBack, um: int, **changes: Any) -> LookBackAction:
    shop = jobs.shop
    told: dict[str, Any] = {
        "acting": shop.acting("quality"), "look_back": look_back, "mounting": jobs[um].mounting,
        "action_id": new_id(), "owner": shop.people["engineer"], "due": date(2026, 4, 1),
        "what": "measure G1 again in service", **changes,
    }  # fmt: skip
    return acts.give_to(**told)


def close(jobs: Foundry, look_back: LookBack, who: str = "quality") -> None:
    acts.end_look_back(
        acting=jobs.shop.acting(who), look_back=look_back, entry_id=new_id(), reason="all answered"
    )


def refused(act: Any) -> str:
    with pytest.raises(RefusedError) as error:
        act()
    return error.value.code


def test_it_is_closed_when_each_mounting_in_doubt_has_an_action_that_is_closed(jobs: Foundry) -> None:
    shop, look_back = jobs.shop, opened(jobs.shop)
    assert refused(lambda: close(jobs, look_back)) == "not-judged-yet"
    drain()
    assert refused(lambda: close(jobs, look_back)) == "doubts-open"
    for um in (20, 24, 17):
        action = give(jobs, look_back, um)
        assert open_look_backs(jobs[um].mounting) == [look_back]
        acts.answer(
            acting=shop.proved("engineer"), action=action, answer_id=new_id(),
            how="G1 as forecast with the smaller fit: stays",
        )  # fmt: skip
        assert (
            refused(
                lambda action=action: acts.answer(
                    acting=shop.proved("engineer"), action=action, answer_id=new_id(), how="again"
                )
            )
            == "already-answered"
        )
    assert not unanswered(look_back).exists()
    close(jobs, look_back)
    assert open_look_backs(jobs[20].mounting) == []
    assert [
        (told.id, row.verdict) for told, row in look_backs_on([jobs[17].mounting.id])[jobs[17].mounting.id]
    ] == [(look_back.id, "nonconforming")]
    assert refused(lambda: close(jobs, look_back)) == "look-back-closed"
    assert refused(lambda: give(jobs, look_back, 20)) == "look-back-closed"
    assert list(differences()) == []
    assert rebuild().same


def test_an_action_names_an_owner_here_a_day_to_come_and_a_mounting_in_doubt(jobs: Foundry) -> None:
    shop, look_back = jobs.shop, opened(jobs.shop)
    assert refused(lambda: give(jobs, look_back, 20)) == "not-in-doubt"
    drain()
    with pytest.raises(RegisterFieldError, match="due"):
        give(jobs, look_back, 20, due=date(2026, 3, 1))
    with pytest.raises(RegisterFieldError, match="owner"):
        give(jobs, look_back, 20, owner=type(shop.people["engineer"])(id=new_id()))
    with pytest.raises(RegisterFieldError, match="reason"):
        give(jobs, look_back, 20, what=" ")


def test_the_quality_manager_opens_and_closes_and_the_engineer_decides_about_the_product(
    jobs: Foundry,
) -> None:
    shop = jobs.shop
    for who in ("fitter", "inspector", "engineer", "auditor", "administrator"):
        with pytest.raises(NotAllowedError):
            opened(shop, who)
    look_back = opened(shop)
    drain()
    action = give(jobs, look_back, 20)
    for who in ("fitter", "inspector", "quality", "auditor"):
        with pytest.raises(NotAllowedError):
            acts.answer(acting=shop.proved(who), action=action, answer_id=new_id(), how="fine")
    with pytest.raises(ProveAgainError):
        acts.answer(acting=shop.acting("engineer"), action=action, answer_id=new_id(), how="fine")
    with pytest.raises(NotAllowedError):
        close(jobs, look_back, "engineer")


def test_who_worked_on_it_does_not_answer_for_it(jobs: Foundry) -> None:
    from tests.rights.scenes import Role, given

    shop, look_back = jobs.shop, opened(jobs.shop)
    drain()
    action = give(jobs, look_back, 20)
    given(jobs[20], "fitter", Role.ENGINEER)
    assert (
        refused(
            lambda: acts.answer(acting=shop.proved("fitter"), action=action, answer_id=new_id(), how="fine")
        )
        == "not-independent"
    )


def test_readings_that_arrive_later_are_judged_for_the_look_back_too(jobs: Foundry) -> None:
    shop = jobs.shop
    look_back = opened(shop)
    drain()
    first = jobs[20]
    late = measured(shop, first.machine, first.rebuild, 18)
    assert open_look_backs(late.mounting) == [look_back]
    drain()
    assert classes(look_back)[late.mounting.number] == "nonconforming"
    assert len(classes(look_back)) == 6


def test_it_is_not_closed_while_readings_that_arrived_later_are_unjudged(jobs: Foundry) -> None:
    look_back = opened(jobs.shop)
    drain()
    for um in (20, 24, 17):
        action = give(jobs, look_back, um)
        acts.answer(acting=jobs.shop.proved("engineer"), action=action, answer_id=new_id(), how="stays")
    measured(jobs.shop, jobs[20].machine, jobs[20].rebuild, 18)
    assert refused(lambda: close(jobs, look_back)) == "not-judged-yet"
    drain()
    assert refused(lambda: close(jobs, look_back)) == "doubts-open"


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"subject": "weather"}, "subject"),
        ({"of": " "}, "of"),
        ({"since": "yesterday"}, "since"),
        ({"since": "2026-03-01T08:00:00"}, "since"),
        ({"until": "2020-01-01T00:00:00+00:00"}, "until"),
        ({"points": [{"size": 1}]}, "points"),
        ({"subject": "bearing lot", "of": "L-77"}, "points"),
        ({"subject": "drawing revision", "of": "CB-118", "points": []}, "revision"),
        (
            {"subject": "drawing revision", "of": "CB-118", "revision": "B", "right": "B", "points": []},
            "right",
        ),
    ],
)
def test_what_cannot_be_is_refused_with_its_field(changes: dict[str, Any], field: str) -> None:
    shop = make_workshop()
    with pytest.raises(DocumentError) as error:
        read_look_back(document_of(shop, **changes))
    assert error.value.field == field


NINE = {"size": 90_000_000, "error": 9000, "u": 1500}


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"size": "ninety"}, "size: 'ninety' is no whole number"),
        ({"size": -90_000_000}, "0 or more"),
        ({"size": 9_000_000_000}, "size: 9000 mm is not possible; allowed: 0…2000 mm"),
        ({"error": 9_000_000}, "error: 9000 µm is not possible; allowed: -1000…1000 µm"),
        ({"u": 1_500_000}, "u: 1500 µm is not possible; allowed: 0…1000 µm"),
        ({"u": "9" * 1000}, "u: '999"),
    ],
)
def test_an_error_that_cannot_be_is_asked_back_with_its_value_and_range(
    changes: dict[str, Any], said: str
) -> None:
    shop = make_workshop()
    with pytest.raises(DocumentError) as error:
        opened(shop, points=[{**NINE, **changes}])
    assert said in error.value.why
    assert len(error.value.why) < 200
    assert error.value.field == "points"


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"of": "0190e2f0-0000-7000-8000-000000000000"}, "of"),
        ({"of": "MIC-114"}, "of"),
        ({"subject": "person", "of": "0190e2f0-0000-7000-8000-000000000000", "points": []}, "of"),
        ({"subject": "drawing revision", "of": "X", "revision": "B", "right": "C", "points": []}, "revision"),
    ],
)
def test_what_is_not_known_here_is_refused_with_its_field(changes: dict[str, Any], field: str) -> None:
    with pytest.raises(RegisterFieldError) as error:
        opened(make_workshop(), **changes)
    assert error.value.field == field


def test_the_preview_judges_and_writes_nothing(jobs: Foundry) -> None:
    shop = jobs.shop
    entries = Entry.objects.count()
    asked = read_look_back(document_of(shop))
    with patch.object(looking_back, "PREVIEWED", 3):
        found = looking_back.preview(asked, shop.site)
    assert (len(found.shown), found.more) == (3, True)
    whole = looking_back.preview(asked, shop.site)
    assert {mounting.number: again.verdict for mounting, again in whole.shown} == told(jobs)
    assert (Entry.objects.count(), LookBack.objects.count(), JudgedAgain.objects.count()) == (entries, 0, 0)


def test_what_signers_ask_is_one_query(jobs: Foundry) -> None:
    opened(jobs.shop)
    with CaptureQueriesContext(
        connection,
    ) as asked:
        assert len(open_look_backs(jobs[20].mounting)) == 1
    assert len(asked) == 1


def test_a_sound_record_knows_of_no_look_back() -> None:
    job = start(make_workshop())
    job.measure()
    assert open_look_backs(job.mounting) == []
