"""The database itself refuses to change what was recorded, whoever asks."""

from collections.abc import Callable

import pytest
from django.db import IntegrityError, connection, transaction

from qrecords.ledger import triggers
from qrecords.ledger.append import append
from qrecords.ledger.models import Entry, Leaf
from tests.ledger.conftest import Stating

pytestmark = pytest.mark.django_db


@pytest.fixture
def entry(statement: Stating) -> Entry:
    append(statement())
    filed = append(statement())
    if connection.vendor == "postgresql":
        # Foreign keys are checked at the commit; the attacks must meet the trigger, not that queue.
        run("SET CONSTRAINTS ALL IMMEDIATE")
    return filed


def run(sql: str, *given: object) -> None:
    with connection.cursor() as cursor:
        cursor.execute(sql, given)


ATTACKS: dict[str, Callable[[Entry], object]] = {
    "change an entry": lambda entry: Entry.objects.filter(id=entry.id).update(kind="x"),
    "save an entry again": lambda entry: entry.save(force_update=True),
    "remove a leaf": lambda entry: Leaf.objects.filter(entry=entry).delete(),
    "remove an entry": lambda entry: Entry.objects.filter(id=entry.id)._raw_delete("default"),  # type: ignore[attr-defined]
    "change a leaf": lambda entry: Leaf.objects.filter(entry=entry).update(hash=bytes(32)),
    "change through plain SQL": lambda _: run("UPDATE ledger_entry SET payload = payload"),
    "remove through plain SQL": lambda _: run("DELETE FROM ledger_entry"),
    "leave a gap": lambda entry: Leaf.objects.create(index=7, entry=entry, hash=bytes(32)),
    "give an entry a second leaf": lambda entry: Leaf.objects.create(index=2, entry=entry, hash=bytes(32)),
}
SQLITE_ATTACKS: dict[str, Callable[[Entry], object]] = {
    "replace an entry": lambda entry: run(
        "REPLACE INTO ledger_entry (id, kind, site, subject, payload, signature)"
        " SELECT id, 'x', site, subject, payload, signature"
        " FROM ledger_entry WHERE id = %s",
        entry.id.hex,
    ),
    "replace by the hidden row number": lambda _: run(
        "REPLACE INTO ledger_entry (rowid, id, kind, site, subject, payload, signature)"
        " SELECT rowid, 'ff', kind, site, subject, payload, signature FROM ledger_entry LIMIT 1"
    ),
    "replace a leaf by its entry": lambda entry: run(
        'REPLACE INTO ledger_leaf ("index", entry_id, hash) VALUES (2, %s, %s)', entry.id.hex, bytes(32)
    ),
    "update or replace": lambda _: run('UPDATE OR REPLACE ledger_leaf SET "index" = 0'),
}
POSTGRESQL_ATTACKS: dict[str, Callable[[Entry], object]] = {
    "truncate": lambda _: run("TRUNCATE ledger_entry CASCADE"),
    "upsert": lambda entry: run(
        "INSERT INTO ledger_entry SELECT * FROM ledger_entry WHERE id = %s"
        " ON CONFLICT (id) DO UPDATE SET kind = 'x'",
        entry.id,
    ),
    "merge": lambda _: run(
        "MERGE INTO ledger_entry e USING ledger_leaf l ON l.entry_id = e.id WHEN MATCHED THEN DELETE"
    ),
    "the replica role": lambda _: run(
        "SET LOCAL session_replication_role = replica; UPDATE ledger_entry SET kind = 'x'"
    ),
    "a leaf with another hash": lambda _: run(
        "INSERT INTO ledger_entry SELECT gen_random_uuid(), kind, site, subject, payload, signature"
        " FROM ledger_entry LIMIT 1;"
        'INSERT INTO ledger_leaf ("index", entry_id, hash)'
        " SELECT 2, e.id, decode(repeat('00', 32), 'hex') FROM ledger_entry e"
        " WHERE e.id NOT IN (SELECT entry_id FROM ledger_leaf)"
    ),
}
_OWN = SQLITE_ATTACKS if connection.vendor == "sqlite" else POSTGRESQL_ATTACKS


@pytest.mark.parametrize("attack", [pytest.param(act, id=name) for name, act in {**ATTACKS, **_OWN}.items()])
def test_the_database_refuses_to(attack: Callable[[Entry], object], entry: Entry) -> None:
    before = list(Entry.objects.order_by("id").values_list()), list(Leaf.objects.values_list())
    with pytest.raises(IntegrityError, match="refused"), transaction.atomic():
        attack(entry)
    after = list(Entry.objects.order_by("id").values_list()), list(Leaf.objects.values_list())
    assert list(map(repr, map(_plain, after))) == list(map(repr, map(_plain, before)))


def _plain(rows: list[tuple[object, ...]]) -> list[list[object]]:
    return [[bytes(value) if isinstance(value, memoryview) else value for value in row] for row in rows]


def test_after_a_migration_every_trigger_is_as_defined() -> None:
    assert triggers.differences(connection) == []


def test_a_dropped_trigger_is_named_and_restored(entry: Entry) -> None:
    name = "ledger_entry_no_update" if connection.vendor == "sqlite" else "ledger_entry_no_change"
    run(f"DROP TRIGGER {name}" + ("" if connection.vendor == "sqlite" else " ON ledger_entry"))
    assert triggers.differences(connection) == [f"{name} is missing"]
    triggers.restore(connection)
    assert triggers.differences(connection) == []


def test_a_trigger_that_is_not_ours_is_named(entry: Entry) -> None:
    if connection.vendor == "sqlite":
        run("CREATE TRIGGER sly AFTER INSERT ON ledger_entry BEGIN SELECT 1; END")
    else:
        run(
            "CREATE TRIGGER sly BEFORE INSERT ON ledger_entry FOR EACH ROW"
            " EXECUTE FUNCTION suppress_redundant_updates_trigger()"
        )
    assert triggers.differences(connection) == ["sly is not one of ours"]


def test_a_hollowed_out_guard_is_named(entry: Entry) -> None:
    if connection.vendor == "sqlite":
        run("DROP TRIGGER ledger_entry_no_update")
        run("CREATE TRIGGER ledger_entry_no_update BEFORE UPDATE ON ledger_entry BEGIN SELECT 1; END")
        assert triggers.differences(connection) == ["ledger_entry_no_update is defined differently"]
    else:
        run(
            "CREATE OR REPLACE FUNCTION qrecords_append_only() RETURNS trigger LANGUAGE plpgsql"
            " AS $$BEGIN RETURN NEW; END$$"
        )
        assert triggers.differences(connection) == ["qrecords_append_only is defined differently"]


def test_a_guard_that_the_replica_role_would_pass_is_named(entry: Entry) -> None:
    if connection.vendor == "sqlite":
        pytest.skip("SQLite has no replica role")
    run("ALTER TABLE ledger_leaf DISABLE TRIGGER ledger_leaf_next")
    run("ALTER TABLE ledger_leaf ENABLE TRIGGER ledger_leaf_next")
    assert triggers.differences(connection) == ["ledger_leaf_next is defined differently"]
