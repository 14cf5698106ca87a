"""The rights of the role that the program runs as: on append-only tables it reads and inserts, no more.

Only PostgreSQL knows roles. The owner of the tables migrates; the program connects as somebody else.
"""

from collections.abc import Iterator

from django.db.backends.base.base import BaseDatabaseWrapper

from qrecords.ledger.triggers import append_only_models


def statements(connection: BaseDatabaseWrapper, role: str) -> Iterator[str]:
    """What the owner of the tables says so that `role` can do the program's work."""
    quoted = connection.ops.quote_name
    guarded = {model._meta.db_table for model in append_only_models()}
    yield f"GRANT USAGE ON SCHEMA public TO {quoted(role)}"
    yield f"GRANT USAGE ON ALL SEQUENCES IN SCHEMA public TO {quoted(role)}"
    with connection.cursor() as cursor:
        tables = sorted(connection.introspection.table_names(cursor))
    for table in tables:
        rights = "SELECT, INSERT" if table in guarded else "SELECT, INSERT, UPDATE, DELETE"
        yield f"REVOKE ALL ON {quoted(table)} FROM {quoted(role)}"
        yield f"GRANT {rights} ON {quoted(table)} TO {quoted(role)}"
