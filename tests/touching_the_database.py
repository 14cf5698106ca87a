"""A pytest plugin: `-p tests.touching_the_database` keeps only the tests that touch a database.

What does not touch one says the same on every database and need not run twice; nor need what looks only at
how a page stands (`layout`), what is asked back before anything is written (`asked_back`), and what is done
in a browser on the embedded default: tests/services does the whole job in browsers on production itself.
"""

import pytest

FIXTURES = {"db", "own_database", "server", "database_url"}


ELSEWHERE = ("layout", "asked_back")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    touching = [item for item in items if _touches(item)]
    rest = [item for item in items if not _touches(item)]
    config.hook.pytest_deselected(items=rest)
    items[:] = touching


def _touches(item: pytest.Item) -> bool:
    if any(item.get_closest_marker(name) for name in ELSEWHERE):
        return False
    if item.get_closest_marker("browser") and not item.get_closest_marker("service"):
        return False
    return item.get_closest_marker("django_db") is not None or bool(
        FIXTURES & set(getattr(item, "fixturenames", ()))
    )
