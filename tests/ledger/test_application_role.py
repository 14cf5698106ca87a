"""On PostgreSQL the program runs as a role that owns nothing: it may insert and read, never change."""

import os
from collections.abc import Iterator

import pytest
from django.core.management import call_command
from django.db import DatabaseError, connection, connections, transaction

from qrecords.ledger import nodes
from qrecords.ledger.append import append, receipt
from qrecords.ledger.models import Entry, Leaf
from qrecords.outbox.jobs import claim, enqueue, work
from tests.ledger.conftest import Stating

ROLE = f"qrecords_test_{os.getpid()}"

pytestmark = pytest.mark.skipif(connection.vendor != "postgresql", reason="SQLite knows no roles")


@pytest.fixture(autouse=True)
def _as_application(own_database: str) -> Iterator[None]:
    """Grant what the application needs, then let every connection of this test speak as it."""
    with connection.cursor() as cursor:
        cursor.execute(f"CREATE ROLE {ROLE} LOGIN")
    call_command("grant_application", ROLE, verbosity=0)
    connections.close_all()
    before = connection.settings_dict["USER"]
    connection.settings_dict["USER"] = ROLE
    yield
    connections.close_all()
    connection.settings_dict["USER"] = before
    with connection.cursor() as cursor:
        cursor.execute(f"DROP OWNED BY {ROLE}")
        cursor.execute(f"DROP ROLE {ROLE}")


def test_it_files_entries_and_gives_receipts(statement: Stating) -> None:
    first, second = statement(), statement()
    append(first)
    append(second)
    assert receipt(second.id).index == 1
    assert nodes.rebuild() == 2


def test_it_does_jobs(settings: object) -> None:
    settings.OUTBOX_HANDLERS = {"nothing": "builtins.dict"}  # type: ignore[attr-defined]
    enqueue("nothing", a=1)
    job = claim()
    assert job is not None
    assert work(job)


FORBIDDEN = [
    "UPDATE ledger_entry SET kind = 'x'",
    "DELETE FROM ledger_leaf",
    "TRUNCATE ledger_entry CASCADE",
    "INSERT INTO ledger_entry SELECT * FROM ledger_entry ON CONFLICT (id) DO UPDATE SET kind = 'x'",
    "ALTER TABLE ledger_entry DISABLE TRIGGER ALL",
    "DROP TRIGGER ledger_entry_no_change ON ledger_entry",
    "SET session_replication_role = replica",
    "CREATE OR REPLACE FUNCTION qrecords_append_only() RETURNS trigger LANGUAGE plpgsql"
    " AS $$BEGIN RETURN NEW; END$$",
    "DROP TABLE ledger_leaf",
]


@pytest.mark.parametrize("sql", FORBIDDEN)
def test_it_has_no_right_to(sql: str, statement: Stating) -> None:
    entry = append(statement())
    refusal = pytest.raises(DatabaseError, match=r"permission denied|must be owner")
    with refusal, transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(sql)
    assert Entry.objects.get(id=entry.id).kind == entry.kind
    assert Leaf.objects.count() == 1
