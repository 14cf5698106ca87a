"""What hundreds of tests begin with is made once by the real actions; the next tests get its rows copied.

A story begins in an empty log (`once`) and goes on act by act (`kept`). An act is copied only where the
database holds exactly what the acts before it left there: after any other writing in between the rest of
that test is told for real. A rollback to a savepoint brings back what the database held there, but not the
clock of the workshop nor what was given back.
"""

import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import wraps
from typing import Any, ParamSpec, TypeVar, cast

from django.apps import apps
from django.core.management.color import no_style
from django.db import connection, models, transaction
from django.db.models import sql

from qrecords.evidence import storage
from qrecords.evidence.derivatives import EDGES_PX, RECIPE
from qrecords.evidence.models import StoredFile
from qrecords.ledger import keys
from qrecords.ledger.models import Head

Told = TypeVar("Told")
Asked = ParamSpec("Asked")
Rows = dict[type[models.Model], dict[object, models.Model]]
"""By table, by primary key."""
Title = tuple[object, ...]
Statement = tuple[str, Any]
"""SQL and its parameters."""
READING = ("SELECT", "SAVEPOINT", "RELEASE", "EXPLAIN", "PRAGMA", "SHOW")
TAKING_BACK = "ROLLBACK TO SAVEPOINT "
OF_NO_STORY = ("django_session", '"last_login"', "axes_")
"""Signing in changes nothing that an act asks for."""


@dataclass(frozen=True)
class Kept:
    """What an act gave back, the statements that take away, write and change the same rows, how long the log
    is then, and the photos behind the rows by their digest."""

    given: object
    shop: object
    statements: list[Statement]
    size: int
    originals: dict[str, bytes]


@dataclass
class Thread:
    """Where the story of this test stands: the acts so far, the size of the log after them, and every row."""

    acts: Title = ()
    size: int = 0
    rows: Rows | None = None
    telling: bool = False
    torn: bool = True
    changed: bool = False
    """This test changes the program or its settings: its acts are its own."""
    stood: dict[str, tuple[Title, int, bool]] = field(default_factory=dict)
    """By savepoint the acts, the size and whether it was torn: a rollback brings just that back."""

    def note(self, execute: Callable[..., Any], sql: Any, params: Any, many: bool, context: Any) -> Any:
        """Stands between Django and the database (its `execute_wrapper`)."""
        said = str(sql).lstrip()
        if not self.telling:
            self._noted(said)
        return execute(sql, params, many, context)

    def _noted(self, said: str) -> None:
        if said.startswith("SAVEPOINT "):
            self.stood[said.removeprefix("SAVEPOINT ")] = self.acts, self.size, self.torn
        elif said.startswith(TAKING_BACK):
            nowhere = ((), 0, True)
            self.acts, self.size, self.torn = self.stood.get(said.removeprefix(TAKING_BACK), nowhere)
            self.rows = None
        elif not said.upper().startswith(READING):
            self.torn = self.torn or not any(words in said for words in OF_NO_STORY)

    def holds(self) -> bool:
        return not (self.torn or self.changed) and log_size() == self.size


def log_size() -> int:
    return Head.objects.values_list("size", flat=True).get()


thread = Thread()
_kept: dict[Title, Kept] = {}


def once(story: Callable[[], Told]) -> Told:
    """What the story gives in a database with an empty log: told the first time, then copied.

    A log that has begun is none of ours: there the story is told. So it is under another key.
    """
    if thread.telling:
        return story()
    if log_size():
        thread.torn = True
        return story()
    thread.acts, thread.rows, thread.torn, thread.stood = (), None, False, {}
    given = _next((story, keys.public_key()), story)
    return cast(Told, given)


def kept(act: Callable[Asked, Told]) -> Callable[Asked, Told]:
    """An act of the cast: its first argument is the workshop or a job there."""

    @wraps(act)
    def told(*args: Asked.args, **kwargs: Asked.kwargs) -> Told:
        if thread.telling or not thread.holds():
            return act(*args, **kwargs)
        first, *others = args
        shop = getattr(first, "shop", first)
        whose = first.mounting.id if hasattr(first, "mounting") else None
        title = (act.__qualname__, whose, shop.clock, repr(others), repr(sorted(kwargs.items())))
        return cast(Told, _next(title, lambda: act(*args, **kwargs), shop))

    return told


def _next(title: Title, tell: Callable[[], object], shop: Any = None) -> object:
    """Tell the act or copy it; the workshop goes on from where the act left it. Without one it begins in what
    is given back."""
    acts = (*thread.acts, title)
    thread.telling = True
    try:
        if acts in _kept:
            given = _copied(_kept[acts], shop)
            thread.rows, thread.size = None, _kept[acts].size
        else:
            before = thread.rows or every_row()
            given = tell()
            thread.rows = every_row()
            thread.size = log_size()
            _kept[acts] = _what_came(before, thread.rows, given, shop or getattr(given, "shop", given))
    finally:
        thread.telling = False
        if thread.note not in connection.execute_wrappers:
            connection.execute_wrappers.append(thread.note)
    thread.acts = acts
    return given


def every_row() -> Rows:
    """Every row of our own tables."""
    ours = [model for model in apps.get_models() if model.__module__.startswith("qrecords.")]
    return {model: {row.pk: row for row in model._base_manager.order_by("pk")} for model in ours}


def values(row: models.Model) -> dict[str, object]:
    """What stands in the columns of a row."""
    return {field.attname: getattr(row, field.attname) for field in row._meta.local_concrete_fields}


def _what_came(before: Rows, after: Rows, given: object, shop: object) -> Kept:
    written: Rows = {}
    gone: dict[type[models.Model], list[object]] = {}
    changed = []
    for model, rows in after.items():
        known = before[model]
        written[model] = {pk: row for pk, row in rows.items() if pk not in known}
        changed += [row for pk, row in rows.items() if pk in known and values(row) != values(known[pk])]
        gone[model] = [pk for pk in known if pk not in rows]
    originals = {sha256: storage.original(sha256).read_bytes() for sha256 in written[StoredFile]}
    told, left = copy.deepcopy((given, shop))
    statements = [_taking_away(model, pks) for model, pks in gone.items() if pks]
    statements += [each for model, rows in written.items() if rows for each in _writing(model, rows)]
    statements += [_changing(row) for row in changed]
    # Rows with numbers of their own do not move what PostgreSQL counts on by.
    moved = connection.ops.sequence_reset_sql(no_style(), [model for model, rows in written.items() if rows])
    statements += [(statement, None) for statement in moved]
    return Kept(told, left, statements, thread.size, originals)


def _taking_away(model: type[models.Model], pks: list[object]) -> Statement:
    query = model._base_manager.filter(pk__in=pks).query.chain(sql.DeleteQuery)
    return cast(Statement, query.get_compiler(connection=connection).as_sql())


def _writing(model: type[models.Model], rows: dict[object, models.Model]) -> Iterator[Statement]:
    fields, whole = model._meta.local_concrete_fields, list(rows.values())
    room = connection.ops.bulk_batch_size(list(fields), whole)
    for start in range(0, len(whole), room):
        query = sql.InsertQuery(model)
        query.insert_values(fields, whole[start : start + room], raw=True)
        yield from query.get_compiler(connection=connection).as_sql()


def _changing(row: models.Model) -> Statement:
    query = type(row)._base_manager.filter(pk=row.pk).query.chain(sql.UpdateQuery)
    others = [field for field in row._meta.local_concrete_fields if not field.primary_key]
    query.add_update_fields([(field, None, getattr(row, field.attname)) for field in others])
    return cast(Statement, query.get_compiler(connection=connection).as_sql())


def _copied(kept: Kept, shop: Any) -> object:
    for sha256 in kept.originals:
        forget_pictures(sha256)
    with transaction.atomic(), connection.cursor() as cursor:
        for statement, parameters in kept.statements:
            cursor.execute(statement, parameters)
    for sha256, content in kept.originals.items():
        storage.original(sha256).parent.mkdir(parents=True, exist_ok=True)
        storage.original(sha256).write_bytes(content)
    left = copy.deepcopy(kept.shop)
    if shop is None:
        shop = left
    vars(shop).update(vars(left))
    return copy.deepcopy(kept.given, {id(kept.shop): shop})  # whoever works there works in this one


def forget_pictures(sha256: str) -> None:
    """An earlier test may have made the pictures of a photo that this one has not received yet."""
    for edge_px in () if StoredFile.objects.filter(sha256=sha256).exists() else EDGES_PX:
        storage.derived(sha256, edge_px, RECIPE).unlink(missing_ok=True)
