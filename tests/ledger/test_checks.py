"""What stops the start."""

import pytest
from django.core.checks import run_checks
from django.core.management import call_command
from django.db import connection

from qrecords.ledger import triggers
from qrecords.ledger.models import Entry

pytestmark = pytest.mark.usefixtures("own_database")


def found() -> list[str]:
    messages = run_checks(tags=["start"], include_deployment_checks=True, databases=["default"])
    return [str(message.id) for message in messages if message.is_serious()]


def run(sql: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(sql)


def test_a_sound_installation_starts() -> None:
    assert found() == []


def test_a_database_that_does_not_wait_for_the_disk_does_not() -> None:
    sqlite = connection.vendor == "sqlite"
    run("PRAGMA synchronous = NORMAL" if sqlite else "SET synchronous_commit = off")
    assert found() == ["ledger.E003"]


def test_ordinary_checks_ask_no_database() -> None:
    # `manage.py migrate` runs them before the tables exist.
    assert not [
        message for message in run_checks(databases=["default"]) if str(message.id).startswith("ledger")
    ]


def test_the_next_migration_brings_back_triggers_that_a_remade_table_lost() -> None:
    if connection.vendor == "sqlite":
        run("PRAGMA foreign_keys = OFF")
        with connection.schema_editor() as editor:
            editor._remake_table(Entry)  # type: ignore[attr-defined]  # as Django does for an altered field
    else:
        run("DROP TRIGGER ledger_entry_no_change ON ledger_entry")
    assert triggers.differences(connection)
    assert found() != []
    call_command("migrate", verbosity=0)
    assert triggers.differences(connection) == []
