"""Every tampering is found and named: each attack by somebody who may do anything to the database, and has
no key. The guards are taken away first and put back afterwards, so that only the rows can tell."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from io import StringIO

import pytest
from django.core.management import call_command
from django.db import connection

from qrecords.ledger import keys, nodes, triggers
from qrecords.ledger.append import append
from qrecords.ledger.models import Entry
from qrecords.ledger.opening import open_log
from qrecords.ledger.verifying import verify
from qrecords.proof.merkle import leaf_hash
from tests.ledger.conftest import Stating

pytestmark = pytest.mark.usefixtures("own_database")


@pytest.fixture
def log(own_database: str, statement: Stating) -> list[Entry]:
    """An opened log with five more entries."""
    open_log()
    return [append(statement(said={"number": number})) for number in range(1, 6)]


@contextmanager
def without_guards() -> Iterator[None]:
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("PRAGMA foreign_keys = OFF")
            cursor.execute("PRAGMA ignore_check_constraints = ON")
            cursor.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
            for (name,) in cursor.fetchall():
                cursor.execute(f"DROP TRIGGER {name}")
        else:
            cursor.execute("SET session_replication_role = replica")
            for table in ("ledger_entry", "ledger_leaf"):
                cursor.execute(f"ALTER TABLE {table} DISABLE TRIGGER USER")
    yield
    triggers.restore(connection)


def run(sql: str, *given: object) -> None:
    with connection.cursor() as cursor:
        cursor.execute(sql, given)


def stored_id(entry: Entry) -> object:
    return entry.id.hex if connection.vendor == "sqlite" else entry.id


def told() -> tuple[int, str]:
    out = StringIO()
    with pytest.raises(SystemExit) as stopped:
        call_command("verify_ledger", stdout=out)
    assert isinstance(stopped.value.code, int)
    return stopped.value.code, out.getvalue()


def forged(entry: Entry) -> bytes:
    return bytes(entry.payload).replace(b'"number":', b'"number":9')


def edit_payload(log: list[Entry]) -> None:
    run("UPDATE ledger_entry SET payload = %s WHERE id = %s", forged(log[2]), stored_id(log[2]))


def edit_payload_and_leaf(log: list[Entry]) -> None:
    edit_payload(log)
    run('UPDATE ledger_leaf SET hash = %s WHERE "index" = 3', leaf_hash(forged(log[2])))


def edit_payload_leaf_and_tree(log: list[Entry]) -> None:
    edit_payload_and_leaf(log)
    nodes.rebuild()


def swap_places(_: list[Entry]) -> None:
    run('UPDATE ledger_leaf SET "index" = -1 WHERE "index" = 3')
    run('UPDATE ledger_leaf SET "index" = 3 WHERE "index" = 4')
    run('UPDATE ledger_leaf SET "index" = 4 WHERE "index" = -1')


def swap_payloads(log: list[Entry]) -> None:
    for entry, other in ((log[2], log[3]), (log[3], log[2])):
        run(
            "UPDATE ledger_entry SET payload = %s, signature = %s WHERE id = %s",
            bytes(other.payload),
            bytes(other.signature),
            stored_id(entry),
        )


def forge_entry(log: list[Entry]) -> None:
    """A well-formed entry with leaf, nodes and head, copied signature and all; only the key is missing."""
    new = forged(log[2]).replace(str(log[2].id).encode(), b"018f0000-0000-7000-8000-00000000ffff")
    new_id = "018f0000000070008000" + "00000000ffff"
    run(
        "INSERT INTO ledger_entry SELECT %s, kind, site, subject, %s, signature"
        " FROM ledger_entry WHERE id = %s",
        new_id,
        new,
        stored_id(log[2]),
    )
    run('INSERT INTO ledger_leaf ("index", entry_id, hash) VALUES (6, %s, %s)', new_id, leaf_hash(new))
    run("UPDATE ledger_head SET size = 7")
    nodes.rebuild()


def delete_from_the_middle_and_renumber(log: list[Entry]) -> None:
    run('DELETE FROM ledger_leaf WHERE "index" = 3')
    run("DELETE FROM ledger_entry WHERE id = %s", stored_id(log[2]))
    run('UPDATE ledger_leaf SET "index" = 3 WHERE "index" = 4')
    run('UPDATE ledger_leaf SET "index" = 4 WHERE "index" = 5')


ATTACKS: dict[str, tuple[Callable[[list[Entry]], object], str]] = {
    "an edited payload": (edit_payload, "entry 3: the payload of {3} was changed after it was signed"),
    "an edited leaf": (
        lambda _: run('UPDATE ledger_leaf SET hash = %s WHERE "index" = 3', b"x" * 32),
        "entry 3: the hash in the leaf of {3} was changed",
    ),
    "an edited payload with its leaf": (
        edit_payload_and_leaf,
        "entry 3: the signature of {3} is not by this",
    ),
    "payload, leaf and whole tree": (
        edit_payload_leaf_and_tree,
        "entry 3: the signature of {3} is not by this",
    ),
    "a deleted tail": (
        lambda log: (
            run('DELETE FROM ledger_leaf WHERE "index" = 5'),
            run("DELETE FROM ledger_entry WHERE id = %s", stored_id(log[4])),
        ),
        "the head says 6 entries, the log holds 5",
    ),
    "a deleted tail with the head": (
        lambda log: (
            run('DELETE FROM ledger_leaf WHERE "index" = 5'),
            run("DELETE FROM ledger_entry WHERE id = %s", stored_id(log[4])),
            run("UPDATE ledger_head SET size = 5"),
        ),
        "there are 4 stored nodes, 3 belong to 5 entries",
    ),
    "a leaf without its entry": (
        lambda log: run("DELETE FROM ledger_entry WHERE id = %s", stored_id(log[1])),
        "entry 2: the leaf names entry",
    ),
    "a deleted middle, renumbered": (delete_from_the_middle_and_renumber, "the head says 6 entries"),
    "a gap": (lambda _: run('DELETE FROM ledger_leaf WHERE "index" = 3'), "entry 3: its leaf stands at 4"),
    "swapped places": (swap_places, "stored nodes do not follow from the leaves"),
    "swapped payloads": (swap_payloads, "entry 3: the column id says"),
    "a forged entry": (forge_entry, "entry 6: the signature of"),
    "an entry put beside the log": (
        lambda log: run(
            "INSERT INTO ledger_entry SELECT %s, kind, site, subject, payload, signature"
            " FROM ledger_entry WHERE id = %s",
            "018f0000000070008000" + "00000000ffff",
            stored_id(log[2]),
        ),
        "has no place in the log",
    ),
    "a missing signature": (
        lambda log: run("UPDATE ledger_entry SET signature = %s WHERE id = %s", b"", stored_id(log[2])),
        "entry 3: the signature of {3} is not by this",
    ),
    "an edited column": (
        lambda log: run("UPDATE ledger_entry SET kind = 'x' WHERE id = %s", stored_id(log[2])),
        "entry 3: the column kind says x, the payload says capture.journal",
    ),
    "an edited subject": (
        lambda log: run(
            "UPDATE ledger_entry SET subject = %s WHERE id = %s", stored_id(log[0]), stored_id(log[2])
        ),
        "entry 3: the column subject says",
    ),
    "an edited node": (
        lambda _: run('UPDATE ledger_node SET hash = %s WHERE level = 1 AND "index" = 1', b"x" * 32),
        "1 stored nodes do not follow from the leaves, the first at level 1, position 1",
    ),
    "a removed node": (
        lambda _: run("DELETE FROM ledger_node WHERE level = 2"),
        "1 stored nodes do not follow",
    ),
    "a second head": (
        lambda _: run("INSERT INTO ledger_head (id, size) VALUES (2, 6)"),
        "the head says 2 rows",
    ),
    "no head": (lambda _: run("DELETE FROM ledger_head"), "the head says 0 rows"),
}
SQLITE_ATTACKS: dict[str, tuple[Callable[[list[Entry]], object], str]] = {
    "text in place of bytes": (
        lambda log: run("UPDATE ledger_entry SET payload = 'x' WHERE id = %s", stored_id(log[2])),
        "entry 3: the payload of {3} is not bytes but str",
    ),
    "text that is no text": (
        lambda log: run(
            "UPDATE ledger_entry SET kind = CAST(%s AS TEXT) WHERE id = %s", b"\xff", stored_id(log[2])
        ),
        "entry 3: the column kind says",
    ),
    "text for an index": (
        lambda _: run('UPDATE ledger_leaf SET "index" = \'five\' WHERE "index" = 5'),
        "entry 5: its leaf stands at 'five'",
    ),
    "a number for a hash": (
        lambda _: run('UPDATE ledger_leaf SET hash = 7 WHERE "index" = 3'),
        "entry 3: the hash in the leaf of {3} was changed",
    ),
    "text for the size": (lambda _: run("UPDATE ledger_head SET size = 'six'"), "the head says six entries"),
}
_OWN = SQLITE_ATTACKS if connection.vendor == "sqlite" else {}


def test_a_sound_log_holds(log: list[Entry]) -> None:
    code, text = told()
    assert code == 0
    assert text.startswith("6 entries, root ")
    assert nodes.root(6).hex() in text


def test_a_log_without_entries_holds() -> None:
    code, text = told()
    assert (code, text) == (0, f"0 entries, root {nodes.root(0).hex()}.\nThe log holds.\n")


@pytest.mark.parametrize(
    ("attack", "expected"), [pytest.param(*case, id=name) for name, case in {**ATTACKS, **_OWN}.items()]
)
def test_tampering_is_named(attack: Callable[[list[Entry]], object], expected: str, log: list[Entry]) -> None:
    with without_guards():
        attack(log)
    code, text = told()
    assert code == 1
    shown = {3: stored_id(log[2])}
    assert expected.replace("{3}", str(shown[3])) in text


def test_a_dropped_trigger_is_named(log: list[Entry]) -> None:
    table = "" if connection.vendor == "sqlite" else " ON ledger_leaf"
    run("DROP TRIGGER ledger_leaf_next" + table)
    code, text = told()
    assert code == 1
    assert "trigger ledger_leaf_next is missing" in text


def test_another_key_than_the_trusted_one_is_named(log: list[Entry]) -> None:
    report = verify(connection, bytes(range(32)))
    assert "opened with another key" in str(report.differences[0])


def test_without_a_key_it_cannot_be_told(log: list[Entry], monkeypatch: pytest.MonkeyPatch) -> None:
    report = verify(connection, None)
    assert report.differences == []
    assert report.untold == ["there is no key to check the signatures against"]


def test_without_tables_it_cannot_be_told(log: list[Entry]) -> None:
    with without_guards():
        run("ALTER TABLE ledger_leaf RENAME TO ledger_elsewhere")
    code, text = told()
    assert code == 2
    assert "Cannot tell: the database does not answer" in text


def test_rebuilding_mends_a_node_and_nothing_else(log: list[Entry]) -> None:
    run("DELETE FROM ledger_node")
    assert told()[0] == 1
    nodes.rebuild()
    assert told()[0] == 0


def test_pages_join_without_a_seam(
    log: list[Entry], statement: Stating, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("qrecords.ledger.stored.PAGE", 2)
    append(statement())
    report = verify(connection, keys.public_key())
    assert (report.size, report.root, report.differences) == (7, nodes.root(7), [])
