"""The guards in SQLite's words.

REPLACE removes rows without firing a delete trigger, so an insert that would meet an existing row in any
unique column, or in the hidden rowid, is refused before it can. A trigger's text is given back as written.
"""

from collections.abc import Iterator, Mapping, Sequence

from django.db.backends.utils import CursorWrapper

Guarded = Mapping[str, Sequence[Sequence[str]]]


def definitions(guarded: Guarded, leaf_table: str) -> dict[str, str]:
    """Name of each trigger → the statement that creates it."""
    wanted = {}
    for table, unique in guarded.items():
        for verb in ("update", "delete"):
            wanted[f"{table}_no_{verb}"] = (
                f'CREATE TRIGGER "{table}_no_{verb}" BEFORE {verb.upper()} ON "{table}" '
                f"BEGIN SELECT RAISE(ABORT, '{verb} of {table} is refused: its rows are never changed'); END"
            )
        meets = " OR ".join(_meets(table, columns) for columns in [["rowid"], *unique])
        wanted[f"{table}_no_replace"] = (
            f'CREATE TRIGGER "{table}_no_replace" BEFORE INSERT ON "{table}" WHEN {meets} '
            f"BEGIN SELECT RAISE(ABORT, 'insert into {table} is refused: such a row exists'); END"
        )
    if leaf_table in guarded:
        following = f'(SELECT coalesce(max("index"), -1) + 1 FROM "{leaf_table}")'  # noqa: S608 - our own table
        wanted[f"{leaf_table}_next"] = (
            f'CREATE TRIGGER "{leaf_table}_next" BEFORE INSERT ON "{leaf_table}" '
            f'WHEN NEW."index" IS NOT {following} '
            f"BEGIN SELECT RAISE(ABORT, 'insert into {leaf_table} is refused: not the next index'); END"
        )
    return wanted


def statements(guarded: Guarded, leaf_table: str) -> Iterator[str]:
    """What to run so that the triggers are as defined."""
    for name, definition in definitions(guarded, leaf_table).items():
        yield f'DROP TRIGGER IF EXISTS "{name}"'
        yield definition


def found(cursor: CursorWrapper, tables: Sequence[str]) -> dict[str, str]:
    """Every trigger that stands on one of the tables."""
    cursor.execute("SELECT name, sql, tbl_name FROM sqlite_master WHERE type = 'trigger'")
    return {name: sql for name, sql, table in cursor.fetchall() if table in tables}


def _meets(table: str, columns: Sequence[str]) -> str:
    same = " AND ".join(f'"{column}" = NEW."{column}"' for column in columns)
    return f'EXISTS (SELECT 1 FROM "{table}" WHERE {same})'  # noqa: S608 - names of our own tables and columns
