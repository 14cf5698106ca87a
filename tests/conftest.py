"""What every test may ask for: databases that may be committed to, keys, a browser."""

import gc
import os
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
import redis
from django.db import connections
from django.test.utils import override_settings, setup_databases, teardown_databases
from hypothesis import HealthCheck, settings
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer
from pytest_django.plugin import DjangoDbBlocker

from tests import kept
from tests.browser import chromium as chromium_of_tests

# How long an example takes tells how busy the machine is, not whether the property holds: tests share two
# cores with servers and browsers. What must be fast is measured by tests/bench. A build machine (it sets CI)
# tries the same examples every time, so that a red run can be had again; by hand each run tries others.
settings.register_profile(
    "house",
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    derandomize=bool(os.environ.get("CI")),
)
settings.load_profile("house")

LONGEST_FIRST = (
    "services", "browser", "demo", "outbox", "deploy", "rights", "numbers", "api", "web", "tracing",
    "evidence",
)  # fmt: skip
"""Folders whose files take longest or wait most. Begun last, one of them would leave the other core idle."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """A flush would be refused by the triggers: a test that commits asks for `own_database`."""
    items.sort(key=_begins)
    for item in items:
        mark = item.get_closest_marker("django_db")
        flushes = mark is not None and (mark.kwargs.get("transaction") or (mark.args and mark.args[0]))
        if flushes or "transactional_db" in getattr(item, "fixturenames", ()):
            raise pytest.UsageError(f"{item.nodeid} would flush the database: use the fixture own_database")


def pytest_collection_finish(session: pytest.Session) -> None:
    """What is here now stays to the end, and need not be looked through for garbage again and again; and what
    a test leaves may lie a little longer."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 50)


def _begins(item: pytest.Item) -> int:
    folder = item.path.parent.name
    return LONGEST_FIRST.index(folder) if folder in LONGEST_FIRST else len(LONGEST_FIRST)


def pytest_runtest_setup(item: pytest.Item) -> None:
    kept.thread.changed = "settings" in getattr(item, "fixturenames", ())


class Patching(pytest.MonkeyPatch):
    """Where the program is changed for a test, what the cast did before may not be what it would do now."""

    def setattr(self, *given: Any, **how: Any) -> None:
        super().setattr(*given, **how)
        self._nothing_stays()

    def setitem(self, *given: Any, **how: Any) -> None:
        super().setitem(*given, **how)
        self._nothing_stays()

    def undo(self) -> None:
        super().undo()
        self._nothing_stays()

    def _nothing_stays(self) -> None:
        from qrecords.mountings import folded

        kept.thread.changed = True
        folded.forget()


@pytest.fixture
def monkeypatch() -> Iterator[pytest.MonkeyPatch]:
    patching = Patching()
    yield patching
    patching.undo()


@pytest.fixture(scope="session", autouse=True)
def _keys() -> None:
    """The keys of this run, as `manage.py install` makes them."""
    from qrecords.ledger import keys

    keys.make()


@pytest.fixture(scope="session")
def django_db_setup(
    django_test_environment: None, django_db_blocker: DjangoDbBlocker, django_db_modify_db_settings: None
) -> Iterator[None]:
    """The migrated database of this run. Made for whoever asks, not only where a test is marked for it."""
    with django_db_blocker.unblock():
        made = setup_databases(verbosity=0, interactive=False, aliases={"default"})
    yield
    with django_db_blocker.unblock():
        teardown_databases(made, verbosity=0)


@pytest.fixture
def evidence_dir(tmp_path: Path) -> Iterator[Path]:
    """A folder of this test's own for what is received. What the cast did before brings its photos along, so
    this is no change of the program (the fixture `settings` would be one)."""
    with override_settings(EVIDENCE_DIR=tmp_path / "evidence"):
        yield tmp_path / "evidence"


@pytest.fixture
def own_database(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[str]:
    """A copy of the migrated database for one test that really commits, from as many threads as it likes.

    Gives the name of the database (SQLite: its path).
    """
    with copy_of_the_database(django_db_blocker) as copy:
        yield copy


@contextmanager
def copy_of_the_database(blocker: DjangoDbBlocker) -> Iterator[str]:
    """The same for a fixture that tells a story once and several tests look at it."""
    default = connections["default"]
    template = default.settings_dict["NAME"]
    with blocker.unblock():
        connections.close_all()
        copy = _copy_sqlite(template) if default.vendor == "sqlite" else _copy_postgresql(template)
        default.settings_dict["NAME"] = copy
        try:
            yield copy
        finally:
            connections.close_all()
            default.settings_dict["NAME"] = template
            _drop(copy)


@pytest.fixture
def server(own_database: str) -> Iterator[LiveServer]:
    """The whole program served on a thread over a database of its own; `server.url` is its address."""
    with served() as running:
        yield running


@contextmanager
def served() -> Iterator[LiveServer]:
    running = LiveServer("localhost")
    yield running
    running.stop()


def _copy_sqlite(template: str) -> str:
    copy = f"{template}.{uuid.uuid4().hex}"
    with connections["default"].cursor() as cursor:
        cursor.execute("VACUUM INTO %s", [copy])
    connections.close_all()
    return copy


def _copy_postgresql(template: str) -> str:
    copy = f"{template}_{uuid.uuid4().hex[:12]}"
    # A thread that an earlier test left behind may still hold a session on the template.
    _on_server("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = %s", template)
    _on_server(f'CREATE DATABASE "{copy}" TEMPLATE "{template}"')
    return copy


def _drop(name: str) -> None:
    if connections["default"].vendor == "sqlite":
        for suffix in ("", "-wal", "-shm"):
            Path(name + suffix).unlink(missing_ok=True)
    else:
        _on_server(f'DROP DATABASE "{name}" WITH (FORCE)')


def _on_server(statement: str, *values: str) -> None:
    """Say something to PostgreSQL that concerns no database in particular."""
    with connections["default"]._nodb_cursor() as cursor:
        cursor.execute(statement, values or None)


@pytest.fixture
def database_url(own_database: str) -> str:
    """How another process names the database of this test."""
    default = connections["default"]
    if default.vendor == "sqlite":
        return f"sqlite:///{own_database}"
    given = default.settings_dict
    sign_in = f"{given['USER']}:{given['PASSWORD']}" if given["PASSWORD"] else given["USER"]
    return f"postgresql://{sign_in}@{given['HOST']}:{given['PORT'] or 5432}/{own_database}"


@pytest.fixture
def redis_url() -> str:
    """A Redis database for tests; the test is skipped where none answers."""
    url = os.environ.get("QRECORDS_TEST_REDIS_URL", "redis://127.0.0.1:6379/11")
    try:
        redis.Redis.from_url(url, socket_connect_timeout=0.5).ping()
    except redis.RedisError:
        pytest.skip(f"no Redis answers at {url}")
    return url


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """One headless browser for all tests of this run; they are skipped where there is none."""
    path = chromium_of_tests.path()
    if path is None:
        pytest.skip("no Chromium here (QRECORDS_TEST_CHROMIUM names one)")
    # Playwright keeps an event loop in this thread; the database is asked here only between its calls.
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    with chromium_of_tests.running(path) as browser:
        yield browser
    del os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"]
