"""How a row of the table of findings and decisions is written: what may be decided before the ring is on and
after, by whom, and what has to be proven first."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum

from qrecords.steps.case import Case
from qrecords.steps.findings import Finding
from qrecords.steps.procedure import Procedure

FITTER, INSPECTOR, ENGINEER = "fitter", "inspector", "engineer"
QUALITY, SAFETY = "quality manager", "safety officer"
EITHER = (INSPECTOR, ENGINEER)
"""What an inspector may decide, the engineer may too."""
MEASURE_AGAIN, REWORK, ACCEPT = "measure again", "rework", "accept"
CONCESSION, QUARANTINE, SCRAP, NOTE = "concession", "quarantine", "scrap", "note"
KINDS = (MEASURE_AGAIN, REWORK, ACCEPT, NOTE, CONCESSION, QUARANTINE, SCRAP)
"""The decisions there are: each an act of authority with its entry."""
REDO = "redo"
"""What the fitter does again within the procedure: no decision, but new answers beside the old ones."""
LOOKED = "looked"


class Customer(StrEnum):
    """Whether the customer agrees by a letter."""

    NOT_ASKED = ""
    CRITICAL = "critical"
    """Where the drawing calls the place critical."""
    ALWAYS = "always"


@dataclass(frozen=True)
class Way:
    """One thing that may be done about a finding, by people of these roles. `first` are proofs that have to
    stand in the record, `states` what the decider himself says he saw."""

    kind: str
    by: tuple[str, ...]
    first: tuple[str, ...] = ()
    states: tuple[str, ...] = ()
    customer: Customer = Customer.NOT_ASKED

    def asks_customer(self, critical: bool) -> bool:
        return self.customer == Customer.ALWAYS or (self.customer == Customer.CRITICAL and critical)


@dataclass(frozen=True)
class Row:
    """One row of the table: `before` while the ring is not on, `after` once it is. `remeasured`: a rework is
    proved by the inspector's own measurement."""

    id: str
    before: tuple[Way, ...]
    after: tuple[Way, ...]
    source: str = "common practice, no source; ISO 9001:2015 8.7, from memory"
    remeasured: bool = False

    def ways(self, *, on: bool) -> tuple[Way, ...]:
        return self.after if on else self.before


@dataclass(frozen=True)
class RowOf:
    """Where the row hangs on the finding: `choose` gives the id of one `among` these."""

    among: tuple[str, ...]
    choose: Callable[[Finding, Case], str]


def kinds_of(ways: Iterable[Way]) -> tuple[str, ...]:
    """The decisions among some ways; what the fitter does again and what is looked at are none."""
    return tuple(way.kind for way in ways if way.kind in KINDS)


def may(kind: str, row: Row, procedure: Procedure, *, on: bool) -> tuple[str, ...]:
    """The roles that may take this decision under a procedure: those of the row, of which a procedure may
    leave out some and add none."""
    by = next((way.by for way in row.ways(on=on) if way.kind == kind), ())
    narrowed = procedure.may_decide.get(kind)
    return by if narrowed is None else tuple(role for role in by if role in narrowed)
