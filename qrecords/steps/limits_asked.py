"""The limits that a drawing and its bearing come to by some tables: to see what another row would change."""

from collections.abc import Callable, Mapping
from typing import Any

from qrecords.engineering.bearings import internal_clearance
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.growth import least_clearance, recommended_clearance
from qrecords.engineering.limits import limits_of_size
from qrecords.engineering.tables import Tables
from qrecords.steps.errors import DocumentError
from qrecords.steps.requirement import FORMS, Requirement, read_requirement

Span = tuple[int | None, int | None]
"""Lower and upper in nm; None where that end has no limit."""


def limits_asked(document: Mapping[str, Any], tables: Tables) -> dict[str, Span]:
    """Every limit of a requirement that these tables give, by name; none for a document they do not read."""
    try:
        asked = read_requirement(document, tables)
    except DocumentError:
        return {}
    ways: Mapping[str, Callable[[Requirement, Tables], Span]] = {
        "journal": lambda asked, _: (asked.journal.lower_nm, asked.journal.upper_nm),
        "bore": lambda asked, _: (asked.bore.lower_nm, asked.bore.upper_nm),
        "clearance": _clearance,
        "form": _form,
        "sliding": _sliding,
    }
    return {name: span for name, way in ways.items() if (span := _known(way, asked, tables)) is not None}


def changed(
    document: Mapping[str, Any], now: Tables, then: Tables
) -> dict[str, tuple[Span | None, Span | None]]:
    """The limits that differ, each as by one set of tables and as by the other."""
    before, after = (limits_asked(document, tables) for tables in (now, then))
    names = dict.fromkeys((*before, *after))
    return {n: (before.get(n), after.get(n)) for n in names if before.get(n) != after.get(n)}


def _known(way: Callable[[Requirement, Tables], Span], asked: Requirement, tables: Tables) -> Span | None:
    try:
        return way(asked, tables)
    except EngineeringError:
        return None


def _clearance(asked: Requirement, tables: Tables) -> Span:
    found = internal_clearance(asked.clearance_kind, asked.nominal_mm, asked.clearance_group, tables)
    return round(found.min_um * 1000), round(found.max_um * 1000)


def _form(asked: Requirement, tables: Tables) -> Span:
    """The drawing's own, the wider where it tells roundness and taper apart; else half of IT5."""
    own = [asked.form_limit_nm(form) for form in FORMS]
    told = [limit for limit in own if limit is not None]
    if len(told) == len(own):
        return None, max(told)
    it5 = limits_of_size(asked.nominal_mm, "h5", tables)
    return None, (it5.upper_nm - it5.lower_nm) // 2


def _sliding(asked: Requirement, tables: Tables) -> Span:
    """The clearances to slide on with that a heating plan is made for: must reach, aim."""
    found = (clearance(asked.nominal_mm, tables) for clearance in (least_clearance, recommended_clearance))
    least, aim = (round(each.value * 1000) for each in found)
    return least, aim
