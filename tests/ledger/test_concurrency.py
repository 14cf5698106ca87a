"""Eight writers at once: every entry gets its place, no place stays empty, none is taken twice."""

import contextlib
import random
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection, connections

from qrecords.ledger import keys, nodes
from qrecords.ledger.append import append, atomic, receipt
from qrecords.ledger.envelope import Envelope
from qrecords.ledger.models import Entry, Head, Leaf
from qrecords.ledger.opening import open_log
from qrecords.ledger.verifying import verify
from tests.ledger.conftest import Stating

pytestmark = pytest.mark.usefixtures("own_database")
WRITERS = 8


def at_once(work: Callable[[int], object]) -> list[object]:
    """Run the work on eight threads, each with a connection of its own."""

    def run(writer: int) -> object:
        try:
            return work(writer)
        finally:
            connections.close_all()

    with ThreadPoolExecutor(WRITERS) as pool:
        return list(pool.map(run, range(WRITERS)))


def test_the_order_has_no_gap_though_some_transactions_fail(statement: Stating) -> None:
    open_log()

    def write(writer: int) -> int:
        chance, filed = random.Random(writer), 0
        for _ in range(12):
            count, fails = chance.randint(1, 3), chance.random() < 0.3
            with contextlib.suppress(LookupError), atomic():
                for _ in range(count):
                    append(statement())
                if fails:
                    raise LookupError
                filed += count
        return filed

    filed = sum(int(str(count)) for count in at_once(write))
    size = Head.objects.get().size
    assert size == filed + 1
    assert list(Leaf.objects.order_by("index").values_list("index", flat=True)) == list(range(size))
    assert Entry.objects.count() == size
    report = verify(connection, keys.public_key())
    assert (report.differences, report.root) == ([], nodes.root(size))


def test_the_same_queue_sent_by_all_is_filed_once(statement: Stating) -> None:
    queue = [statement() for _ in range(10)]

    def send(_: int) -> list[int]:
        for envelope in queue:
            append(envelope)
        return [receipt(envelope.id).index for envelope in queue]

    receipts = at_once(send)
    assert Leaf.objects.count() == len(queue)
    assert all(given == receipts[0] for given in receipts)


def test_work_before_the_end_does_not_wait_for_other_writers(statement: Stating) -> None:
    """One transaction has filed its entry and is still open; on PostgreSQL another one finishes meanwhile."""
    if connection.vendor == "sqlite":
        pytest.skip("SQLite has one writer at a time")

    def finish(envelope: Envelope) -> int:
        try:
            append(envelope)
            return receipt(envelope.id).index
        finally:
            connections.close_all()

    slow, quick = statement(), statement()
    with ThreadPoolExecutor(1) as pool, atomic():
        append(slow)
        assert pool.submit(finish, quick).result(timeout=5) == 0
    assert receipt(slow.id).index == 1
