"""The tables that judge a mounting are those in force when it was opened, now and in years."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from qrecords.engineering.tables import BUILT_IN
from qrecords.ledger.models import Entry
from qrecords.mountings.judging import judged_now
from qrecords.mountings.models import Mounting
from qrecords.mountings.queries import case_of, tables_for
from qrecords.proof.canonical import parse_canonical
from qrecords.tracing.agreement import differences
from qrecords.tracing.rebuilding import rebuild
from qrecords.tracing.record import record_of
from qrecords.workshop.tables import in_force
from tests.cast import Job, make_workshop, start
from tests.workshop.own_copy import approve, propose

pytestmark = pytest.mark.django_db


def pinned_in(mounting: Mounting) -> set[str]:
    entries = Entry.objects.filter(subject=mounting.id)
    return {parse_canonical(bytes(entry.payload))["versions"]["tables"] for entry in entries}


def upper_nm(mounting: Mounting) -> int | None:
    (finding,) = (f for f in judged_now(mounting).findings if f.characteristic == "clearance before")
    return finding.upper


def felt(job: Job, g0_um: str = "30") -> Job:
    job.say("clearance_before", g0=(g0_um, "um"), method="feeler", reason="felt again")
    return job


def test_a_row_approved_later_judges_only_what_is_opened_later() -> None:
    shop = make_workshop()
    before = felt(start(shop, position="DE"))
    approve(shop, propose(shop))
    after = felt(start(shop, position="NDE"))
    assert (upper_nm(before.mounting), upper_nm(after.mounting)) == (43_000, 44_000)
    felt(before, "31")
    assert upper_nm(before.mounting) == 43_000


def test_every_entry_of_a_mounting_pins_the_tables_it_was_opened_under_and_the_judgement_too() -> None:
    shop = make_workshop()
    row = propose(shop)
    approve(shop, row)
    job = start(shop)
    own = in_force(shop.site).digest
    approve(shop, propose(shop, values=["23", "45"]))
    job.whole()
    kinds = set(Entry.objects.filter(subject=job.mounting.id).values_list("kind", flat=True))
    assert {"mounting", "capture", "tap", "release", "judgement", "signature"} <= kinds
    assert pinned_in(job.mounting) == {own}
    assert case_of(job.mounting).tables.digest == own != in_force(shop.site).digest


def test_indexes_made_again_and_the_whole_record_stay_with_the_tables_pinned() -> None:
    shop = make_workshop()
    approve(shop, propose(shop))
    job = felt(start(shop))
    approve(shop, propose(shop, values=["23", "45"]))
    assert rebuild().same
    assert not list(differences())
    assert record_of(job.mounting).case.tables.digest == job.mounting.tables_digest


def test_tables_not_known_any_more_are_stood_for_and_what_is_said_next_pins_what_judged_it() -> None:
    job = start(make_workshop())
    Mounting.objects.filter(id=job.mounting.id).update(tables_digest="0" * 64)
    job.mounting.refresh_from_db()
    assert (tables_for(job.mounting).digest, tables_for(job.mounting).stands_for) == (
        BUILT_IN.digest,
        "0" * 64,
    )
    felt(job)
    assert pinned_in(job.mounting) == {BUILT_IN.digest}
    assert upper_nm(job.mounting) == 43_000


def test_judging_by_own_tables_asks_the_database_for_them_once() -> None:
    shop = make_workshop()
    plain = start(shop, position="DE")
    approve(shop, propose(shop))
    own = start(shop, position="NDE")
    tables_for(own.mounting)
    counts = []
    for job in (plain, own):
        with CaptureQueriesContext(
            connection,
        ) as asked:
            case_of(job.mounting)
        counts.append(len(asked))
    assert counts[0] == counts[1]
