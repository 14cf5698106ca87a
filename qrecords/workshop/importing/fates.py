"""What becomes of a row: new, the same as here, differing from it, refused, or twice in the file."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any


class What(StrEnum):
    NEW = "new"
    SAME = "same as here"
    DIFFERS = "differs"
    REFUSED = "refused"
    DUPLICATE = "twice in the file"
    WRITTEN = "written"


@dataclass(frozen=True)
class Wrong:
    """A cell that cannot be: which field, what stands there, in which unit, what may."""

    field: str
    value: str
    allowed: str
    unit: str = ""


@dataclass(frozen=True)
class Difference:
    """A field that says another thing here than in the file."""

    field: str
    here: str
    file: str


@dataclass(frozen=True)
class Row:
    """One row of the sheet: its line in the file and its cells by column, untouched but for their ends."""

    line: int
    cells: Mapping[str, str]

    def cell(self, column: str) -> str:
        return self.cells.get(column, "")


@dataclass(frozen=True)
class Fate:
    """What becomes of one row. `first`: the line that says the same, of one that is twice in the file.
    `values`: what is written of a new one, as read."""

    row: Row
    what: What
    wrong: tuple[Wrong, ...] = ()
    differs: tuple[Difference, ...] = ()
    first: int = 0
    values: Mapping[str, Any] = field(default_factory=dict)

    def become(self, what: What, **more: Any) -> "Fate":
        return replace(self, what=what, **more)


def refused(row: Row, wrong: Sequence[Wrong]) -> Fate:
    return Fate(row, What.REFUSED, wrong=tuple(wrong))


def compared(row: Row, pairs: Mapping[str, tuple[str, str]], values: Mapping[str, Any]) -> Fate:
    """The same, or differing, from what is here: column → (here, file). What the file leaves empty, it does
    not say."""
    found = [Difference(name, here, told) for name, (here, told) in pairs.items() if told and told != here]
    return Fate(row, What.DIFFERS if found else What.SAME, differs=tuple(found), values=values)


def counted(fates: Sequence[Fate]) -> dict[str, int]:
    """How many rows of each fate, those that there are."""
    return {what.value: n for what in What if (n := sum(fate.what == what for fate in fates))}
