"""What must hold before the program serves anybody. Run by `manage.py serve`, by gunicorn, and by
`manage.py check --deploy --tag start --database default`."""

from collections.abc import Iterator, Sequence
from typing import Any

from django.core.checks import CheckMessage, Error, Warning, register
from django.db import connections
from django.db.backends.base.base import BaseDatabaseWrapper

from qrecords.ledger import keys, triggers

_SQLITE_FULL = 2  # PRAGMA synchronous: 0 off, 1 normal, 2 full, 3 extra
_POSTGRESQL_ON = ("fsync", "synchronous_commit", "full_page_writes")


@register("start", deploy=True)
def keys_are_there(**_: Any) -> list[CheckMessage]:
    """Without the entry key nothing can be recorded; without the session secret nobody can sign in safely."""
    return [
        Error(f"There is no key at {path}.", hint="Run `manage.py install`.", id="ledger.E001")
        for path in (keys.entry_key_path(), keys.session_secret_path())
        if not path.exists()
    ]


@register("start", deploy=True)
def triggers_are_as_defined(databases: Sequence[str] | None = None, **_: Any) -> list[CheckMessage]:
    """A missing guard would let rows change unseen until the next verification."""
    return [
        Error(f"{alias}: {difference}.", hint="Run `manage.py migrate`.", id="ledger.E002")
        for alias in databases or ()
        for difference in triggers.differences(connections[alias])
    ]


@register("start", deploy=True)
def commits_are_durable(databases: Sequence[str] | None = None, **_: Any) -> list[CheckMessage]:
    """An acknowledged entry must survive a power cut."""
    return [message for alias in databases or () for message in _durability(connections[alias])]


def _durability(connection: BaseDatabaseWrapper) -> Iterator[CheckMessage]:
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("PRAGMA synchronous")
            if cursor.fetchone()[0] < _SQLITE_FULL:
                yield Error("SQLite does not wait for the disk: synchronous must be FULL.", id="ledger.E003")
            return
        for name in _POSTGRESQL_ON:
            cursor.execute("SELECT current_setting(%s)", [name])
            if cursor.fetchone()[0] in ("off", "local"):
                yield Error(f"PostgreSQL may lose what it confirmed: {name} is off.", id="ledger.E003")
        cursor.execute("SELECT current_setting('data_checksums')")
        if cursor.fetchone()[0] == "off":
            yield Warning("PostgreSQL's data_checksums are off: a bad disk shows later.", id="ledger.W001")
