"""The dry run of a sheet, and taking in exactly that file.

One transaction a row: a long sheet holds nobody up, and one that is stopped in the middle is sent again: what
is here already is the same and is not written twice. Ids follow from the import's, the file's hash and line.
"""

import uuid
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from qrecords.ledger.append import atomic
from qrecords.ledger.errors import LedgerError
from qrecords.people.acting import Acting, require
from qrecords.people.errors import PeopleError
from qrecords.people.permissions import Action
from qrecords.people.stating import state
from qrecords.proof.identifiers import following
from qrecords.steps.errors import StepError
from qrecords.workshop.errors import RegisterFieldError, WorkshopError
from qrecords.workshop.importing import bearings, gauges, orders, people
from qrecords.workshop.importing.fates import Fate, Row, What, Wrong, counted
from qrecords.workshop.importing.text import FileChangedError, Sheet, read_sheet
from qrecords.workshop.models import Site

Plan = Callable[[Sequence[Row], uuid.UUID], list[Fate]]
Write = Callable[[Acting, uuid.UUID, Mapping[str, object], Callable[[str], uuid.UUID]], bool]


@dataclass(frozen=True)
class Kind:
    """One kind of sheet: whose right it is, its columns, what its rows would do, and doing it."""

    name: str
    right: Action
    columns: Sequence[str]
    required: Sequence[str]
    plan: Plan
    write: Write


KINDS: Mapping[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("work orders", Action.REGISTER, orders.COLUMNS, orders.REQUIRED, orders.plan, orders.write),
        Kind("bearings", Action.REGISTER, bearings.COLUMNS, bearings.REQUIRED, bearings.plan, bearings.write),
        Kind("gauges", Action.EQUIP, gauges.COLUMNS, gauges.REQUIRED, gauges.plan, gauges.write),
        Kind("people", Action.PEOPLE, people.COLUMNS, people.REQUIRED, people.plan, people.write),
    )
}


@dataclass(frozen=True)
class Told:
    """A sheet with what becomes of each of its rows, in the order of the file."""

    sheet: Sheet
    fates: tuple[Fate, ...]

    @property
    def counts(self) -> dict[str, int]:
        return counted(self.fates)


def dry_run(kind: Kind, raw: bytes, site: uuid.UUID) -> Told:
    """What each row would do; nothing is written. SheetUnreadableError for what is no sheet of this kind."""
    sheet = read_sheet(raw, kind.columns, kind.required)
    fates = kind.plan([row for row in sheet.rows if row.line not in sheet.overlong], site)
    allowed = f"{len(kind.columns)} columns at most, as the first line names them"
    long_ = [
        Fate(row, What.REFUSED, wrong=(Wrong("line", "", allowed),))
        for row in sheet.rows
        if row.line in sheet.overlong
    ]
    return Told(sheet, tuple(sorted((*fates, *long_), key=lambda fate: fate.row.line)))


def take_in(
    *, acting: Acting, kind: Kind, site: uuid.UUID, import_id: uuid.UUID, raw: bytes, sha256: str
) -> Told:
    """Write what is new in exactly the file whose rows were told: FileChangedError for another one. What was
    refused, differs or is twice is not written, and told again."""
    told = dry_run(kind, raw, site)
    if told.sheet.sha256 != sha256:
        raise FileChangedError(sha256, told.sheet.sha256)
    _begin(acting, kind, site, import_id, told)
    fates = [_written(acting, kind, site, import_id, told.sheet, fate) for fate in told.fates]
    return Told(told.sheet, tuple(fates))


@atomic()
def _begin(acting: Acting, kind: Kind, site: uuid.UUID, import_id: uuid.UUID, told: Told) -> None:
    """The act itself: who takes in which file, by its hash."""
    require(acting, kind.right, site)
    said = {
        "sheet": kind.name,
        "sha256": told.sheet.sha256,
        "bytes": told.sheet.size,
        "rows": len(told.sheet.rows),
    }
    about = ("import", import_id)
    state(acting, "import", id=import_id, site=site, about=about, said=said, seen={"fates": told.counts})


def _written(
    acting: Acting, kind: Kind, site: uuid.UUID, import_id: uuid.UUID, sheet: Sheet, fate: Fate
) -> Fate:
    if fate.what != What.NEW:
        return fate

    def new_id(what: str) -> uuid.UUID:
        return following(import_id, f"{sheet.sha256} line {fate.row.line} {what}")

    try:
        return fate.become(What.WRITTEN if _one(acting, kind, site, fate, new_id) else What.SAME)
    except RegisterFieldError as error:
        return fate.become(What.REFUSED, wrong=(Wrong(error.field, error.value, error.allowed),))
    except (PeopleError, WorkshopError, StepError, LedgerError) as error:
        return fate.become(What.REFUSED, wrong=(Wrong("line", "", str(error)),))


@atomic()
def _one(acting: Acting, kind: Kind, site: uuid.UUID, fate: Fate, new_id: Callable[[str], uuid.UUID]) -> bool:
    """One import of a site after the other, row by row, so that two of the same file write nothing twice."""
    Site.objects.select_for_update().get(id=site)
    return kind.write(acting, site, fate.values, new_id)
