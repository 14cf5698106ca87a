"""Making the indexes again from the entries, and saying where they were not what the entries say.

Readings, uses of equipment, findings, the state and standing releases of a mounting and the stored tree are
copies for finding and speed. A difference means that somebody changed a row, or that a rule changed since:
both are told and mended. One mounting at a time, so memory does not grow with the record.
"""

import json
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from django.db import connection, transaction

from qrecords.ledger import nodes, stored
from qrecords.ledger.models import Leaf
from qrecords.mountings.again import again_rows, keep_again
from qrecords.mountings.judging import (
    IndexRow,
    Judged,
    finding_rows,
    index,
    judged_now,
    kept,
    reading_rows,
    standing,
    use_rows,
)
from qrecords.mountings.models import (
    EquipmentUse,
    FindingRow,
    JudgedAgain,
    Mounting,
    NameRead,
    Reading,
    TaskDone,
)
from qrecords.mountings.traced import name_rows, task_rows
from qrecords.proof.merkle import Growth

BATCH = 500
NODES = "stored nodes"
STATES = "states of mountings"
Row = type[IndexRow] | type[JudgedAgain]
Index = tuple[str, Row, tuple[str, ...]]
INDEXES: tuple[Index, ...] = (
    ("readings", Reading, ("entry", "step", "key", "base")),
    ("uses of equipment", EquipmentUse, ("equipment_id", "entry", "step", "at")),
    ("tasks done", TaskDone, ("person", "task", "entry", "at")),
    ("names read", NameRead, ("entry", "step", "key", "text")),
    ("findings", FindingRow, ("place", "rule", "characteristic", "verdict", "digest", "settled", "document")),
    ("judgements again", JudgedAgain, ("occasion", "cause", "verdict", "entry", "at", "document")),
)


@dataclass
class Rebuilt:
    """How many rows of each index were not what the entries say, and what could not be judged at all."""

    mountings: int = 0
    entries: int = 0
    differing: Counter[str] = field(default_factory=Counter)
    unreadable: list[str] = field(default_factory=list)

    @property
    def same(self) -> bool:
        return not self.differing.total() and not self.unreadable


def rebuild() -> Rebuilt:
    """Compare every index row with what the entries say, and mend those that differ."""
    rebuilt = Rebuilt()
    _tree(rebuilt)
    for mounting in Mounting.objects.order_by("id").iterator(BATCH):
        rebuilt.mountings += 1
        try:
            _mounting(mounting, rebuilt)
        except Exception as error:  # one unreadable record must not hide what is wrong with the others
            rebuilt.unreadable.append(f"mounting {mounting.number}: {type(error).__name__}: {error}")
    return rebuilt


def _mounting(mounting: Mounting, rebuilt: Rebuilt) -> None:
    with transaction.atomic():
        # Under the lock every writer takes, so that no entry comes between reading and mending.
        locked = Mounting.objects.select_for_update().get(id=mounting.id)
        judged = judged_now(locked)
        found = differing(locked, judged)
        if found.total():
            index(locked, judged)
            keep_again(locked, judged.case)
    rebuilt.differing += found


def differing(mounting: Mounting, judged: Judged) -> Counter[str]:
    """How many rows of each index of one mounting are wrong, missing or too many."""
    made: dict[str, Iterable[Any]] = {
        "readings": reading_rows(mounting, judged.case),
        "uses of equipment": use_rows(mounting, judged.case),
        "tasks done": task_rows(mounting, judged.case),
        "names read": name_rows(mounting, judged.case),
        "findings": finding_rows(mounting, judged),
        "judgements again": again_rows(mounting, judged.case),
    }
    found: Counter[str] = Counter()
    for name, model, fields in INDEXES:
        rows = model._default_manager.filter(mounting=mounting)
        found[name] = _rows_differing(_content(rows, fields), _content(made[name], fields))
    found[STATES] = int(standing(judged) != kept(mounting))
    return found


def _content(rows: Iterable[Any], fields: tuple[str, ...]) -> Counter[str]:
    return Counter(
        json.dumps([getattr(row, name) for name in fields], sort_keys=True, default=str) for row in rows
    )


def _rows_differing(here: Counter[str], wanted: Counter[str]) -> int:
    """A changed row is one difference, not one too many and one missing."""
    return max((here - wanted).total(), (wanted - here).total())


def _tree(rebuilt: Rebuilt) -> None:
    """Compare the stored tree with the leaves, page by page; make it again if one node differs."""
    tree, made, wrong = Growth(), 0, 0
    for page in _pages():
        first = tree.size
        wanted = {place: value for leaf in page for place, value in tree.add(leaf)}
        here = stored.node_hashes(connection, first, tree.size)
        made += len(wanted)
        wrong += sum(here.get(place) != value for place, value in wanted.items())
    _size, count = stored.size_and_nodes(connection)
    wrong += max(count - made, 0)
    if wrong:
        nodes.rebuild()
    rebuilt.entries = tree.size
    rebuilt.differing[NODES] += wrong


def _pages() -> Iterator[list[bytes]]:
    page: list[bytes] = []
    for value in Leaf.objects.order_by("index").values_list("hash", flat=True).iterator(stored.PAGE):
        page.append(bytes(value))
        if len(page) == stored.PAGE:
            yield page
            page = []
    if page:
        yield page
