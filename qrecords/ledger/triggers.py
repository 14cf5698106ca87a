"""What makes the database itself refuse to change or remove a row of an append-only table.

This is the one definition. It is written again after every migration (SQLite loses triggers when Django
remakes a table) and compared with the database after a migration, at the start and in `verify_ledger`.
"""

from collections.abc import Iterable
from types import ModuleType

from django.apps import apps
from django.core.exceptions import ImproperlyConfigured
from django.db import models, transaction
from django.db.backends.base.base import BaseDatabaseWrapper

from qrecords.ledger import triggers_postgresql, triggers_sqlite
from qrecords.ledger.models import AppendOnly, Leaf


def restore(connection: BaseDatabaseWrapper) -> None:
    """Make every trigger what it should be; touches nothing where nothing differs."""
    if not differences(connection):
        return
    vendor = _vendor(connection)
    with transaction.atomic(using=connection.alias), connection.cursor() as cursor:
        for statement in vendor.statements(_guarded(connection), Leaf._meta.db_table):
            cursor.execute(statement)


def differences(connection: BaseDatabaseWrapper) -> list[str]:
    """In plain words, how the triggers in the database differ from their definition."""
    vendor, guarded = _vendor(connection), _guarded(connection)
    expected = vendor.definitions(guarded, Leaf._meta.db_table)
    with connection.cursor() as cursor:
        found = vendor.found(cursor, list(guarded))
    return [
        *(f"{name} is missing" for name in sorted(expected.keys() - found.keys())),
        *(f"{name} is not one of ours" for name in sorted(found.keys() - expected.keys())),
        *(
            f"{name} is defined differently"
            for name in sorted(expected.keys() & found.keys())
            if expected[name] != found[name]
        ),
    ]


def append_only_models() -> list[type[models.Model]]:
    """Every model whose rows are never changed, whichever app it belongs to."""
    return [model for model in apps.get_models() if issubclass(model, AppendOnly)]


def _vendor(connection: BaseDatabaseWrapper) -> ModuleType:
    if connection.vendor == "sqlite":
        return triggers_sqlite
    if connection.vendor == "postgresql":
        return triggers_postgresql
    raise ImproperlyConfigured(f"{connection.vendor} is not a database whose triggers we know")


def _guarded(connection: BaseDatabaseWrapper) -> dict[str, list[list[str]]]:
    """Table → the groups of columns in which no two rows may agree; only tables that exist already."""
    with connection.cursor() as cursor:
        present = set(connection.introspection.table_names(cursor))
    return {
        model._meta.db_table: list(_unique_columns(model))
        for model in append_only_models()
        if model._meta.db_table in present
    }


def _unique_columns(model: type[models.Model]) -> Iterable[list[str]]:
    meta = model._meta
    for field in meta.local_concrete_fields:
        if field.unique:
            yield [_column(field)]
    for constraint in meta.constraints:
        if isinstance(constraint, models.UniqueConstraint):
            if constraint.condition or constraint.expressions:
                # REPLACE would remove a row through it, and the guard below could not see that coming.
                raise ImproperlyConfigured(f"{meta.label}: only plain unique columns")
            yield [_column(meta.get_field(name)) for name in constraint.fields]


def _column(field: object) -> str:
    assert isinstance(field, models.Field) and field.column  # noqa: S101 - a concrete field has a column
    return field.column
