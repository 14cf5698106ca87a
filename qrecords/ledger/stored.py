"""The rows as they really lie in the tables, whatever somebody may have made of them.

Read with plain SQL and no conversions: a row of the wrong type must be shown, not stop the reading. The
pages follow the index, so that entries appended meanwhile are read as well.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, NamedTuple

from django.db.backends.base.base import BaseDatabaseWrapper

PAGE = 2_000

_LEAVES = """
SELECT l."index", l.hash, l.entry_id, e.id, e.kind, e.site, e.subject, e.payload, e.signature
FROM ledger_leaf l LEFT JOIN ledger_entry e ON e.id = l.entry_id
{} ORDER BY l."index" LIMIT %s
"""
_WITHOUT_LEAF = """
SELECT e.id FROM ledger_entry e LEFT JOIN ledger_leaf l ON l.entry_id = e.id WHERE l.entry_id IS NULL
"""


class Row(NamedTuple):
    """A leaf with its entry; every value may be of any type, or None where the entry is gone."""

    index: Any
    hash: Any
    entry_id: Any
    id: Any
    kind: Any
    site: Any
    subject: Any
    payload: Any
    signature: Any


@contextmanager
def lenient(connection: BaseDatabaseWrapper) -> Iterator[None]:
    """Let SQLite give back text that is not UTF-8 instead of failing on it."""
    connection.ensure_connection()
    if connection.vendor != "sqlite":
        yield
        return
    before = connection.connection.text_factory
    connection.connection.text_factory = lambda raw: raw.decode("utf-8", "replace")
    try:
        yield
    finally:
        connection.connection.text_factory = before


def leaves(connection: BaseDatabaseWrapper, after: object) -> list[Row]:
    """The next page of leaves after an index; from the first on when `after` is None."""
    where = "" if after is None else 'WHERE l."index" > %s'
    given: list[Any] = [PAGE] if after is None else [after, PAGE]
    with connection.cursor() as cursor:
        cursor.execute(_LEAVES.format(where), given)
        return [Row(*map(_bytes, row)) for row in cursor.fetchall()]


def entries_without_leaf(connection: BaseDatabaseWrapper) -> list[object]:
    """Identifiers of entries that were put into the table without a place in the log."""
    with connection.cursor() as cursor:
        cursor.execute(_WITHOUT_LEAF)
        return [row[0] for row in cursor.fetchall()]


def head_sizes(connection: BaseDatabaseWrapper) -> list[Any]:
    """What the head row says; one number, unless somebody added or removed rows."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT size FROM ledger_head")
        return [row[0] for row in cursor.fetchall()]


def node_hashes(connection: BaseDatabaseWrapper, first: int, last: int) -> dict[tuple[Any, Any], Any]:
    """The stored subtrees that leaves `first` up to `last` complete, by level and position."""
    found = {}
    with connection.cursor() as cursor:
        for level in range(1, last.bit_length() + 1):
            cursor.execute(
                'SELECT "index", hash FROM ledger_node WHERE level = %s AND "index" >= %s AND "index" < %s',
                [level, first >> level, last >> level],
            )
            found.update({(level, index): _bytes(value) for index, value in cursor.fetchall()})
    return found


def size_and_nodes(connection: BaseDatabaseWrapper) -> tuple[Any, int]:
    """The size in the head and the number of stored nodes, both of the same moment."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT (SELECT max(size) FROM ledger_head), (SELECT count(*) FROM ledger_node)")
        size, count = cursor.fetchone()
        return size, count


def _bytes(value: object) -> object:
    return value.tobytes() if isinstance(value, memoryview) else value
