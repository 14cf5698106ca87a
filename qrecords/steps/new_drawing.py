"""A drawing as it comes in: what an old entry may still hold is asked back while somebody can mend it."""

from collections.abc import Mapping
from typing import Any

from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.limits import shaft_classes
from qrecords.engineering.tables import BUILT_IN, Tables
from qrecords.engineering.units import parse_number
from qrecords.steps.designated import as_designated, one_of_the_tables
from qrecords.steps.errors import DocumentError
from qrecords.steps.proportions import in_proportion
from qrecords.steps.requirement import (
    BORE_SOURCE,
    FORMS,
    GAP_UM,
    MOST_UM,
    SHOWN,
    TAKEN_FROM,
    Requirement,
    bounded,
    read_requirement,
)
from qrecords.steps.windows import usual_windows


def read_new_requirement(document: Mapping[str, Any], tables: Tables = BUILT_IN) -> Requirement:
    """The requirement as a new drawing brings it. What an old entry may still hold is asked back here: the
    class of a hole on a shaft, a clearance table that does not exist, and what contradicts the designation
    or the other sizes without saying where it is written."""
    shaft_class = str(document.get("shaft_class", ""))
    if shaft_class[:1].isupper():
        nominal = bounded("nominal_mm", document.get("nominal_mm", ""))
        there = ", ".join(shaft_classes(nominal, shaft_class, tables)) or "none of this letter"
        why = f"{shaft_class!r} is the class of a hole; on a shaft of {nominal} mm there are: {there}"
        raise DocumentError("requirement", "shaft_class", why)
    _plain_numbers(document)
    asked = read_requirement(document, tables)
    if asked.stabilised_c is not None:
        bounded("stabilised_c", asked.stabilised_c)
    _forms(asked)
    if asked.gap_nm is not None and not GAP_UM[0] <= asked.gap_nm / 1000 <= GAP_UM[1]:
        why = f"{document['gap_um']} µm is not possible; allowed: {GAP_UM[0]}…{GAP_UM[1]} µm"
        raise DocumentError("requirement", "gap_um", why)
    if asked.own_bore and not asked.bore.source:
        why = "limits that are not those of the class want where they are written"
        raise DocumentError("requirement", BORE_SOURCE, why)
    _taken_from(asked)
    one_of_the_tables(document)
    as_designated(document, tables)
    in_proportion(asked)
    usual_windows(asked, tables)
    return asked


PLAIN = ("limits_um", "bore_um", "interference_um", "form_um", *FORMS.values(), "gap_um", "clearance_min_um")
"""Fields that hold micrometres."""


def _forms(asked: Requirement) -> None:
    """DocumentError for a form limit that no form can keep."""
    given = {"form_um": asked.form_nm, "roundness_um": asked.roundness_nm, "taper_um": asked.taper_nm}
    for field, limit_nm in given.items():
        if limit_nm is not None and limit_nm <= 0:
            why = f"{asked.document[field]} µm is not possible; allowed: above 0, up to {MOST_UM} µm"
            raise DocumentError("requirement", field, why)


def _plain_numbers(document: Mapping[str, Any]) -> None:
    """DocumentError for micrometres that are no plain number or finer than the record keeps them."""
    for field in PLAIN:
        given = document.get(field)
        for value in given if isinstance(given, list | tuple) else () if given in (None, "") else (given,):
            told, allowed = repr(str(value)[:SHOWN]), f"allowed: −{MOST_UM}…{MOST_UM} µm in steps of 0.001 µm"
            try:
                exact = parse_number(str(value))
            except EngineeringError:
                raise DocumentError("requirement", field, f"{told} is not a number; {allowed}") from None
            if exact * 1000 % 1:
                raise DocumentError("requirement", field, f"{told} µm is finer than is kept; {allowed}")


def _taken_from(asked: Requirement) -> None:
    """DocumentError for sizes, a mass or a raceway that do not say where they were taken from."""
    if asked.size_source not in TAKEN_FROM:
        why = f"{asked.size_source[:SHOWN]!r} is not one of {', '.join(TAKEN_FROM)}"
        raise DocumentError("requirement", "size_source", why)
    told = (
        ("mass_from", asked.mass_kg, asked.mass_from),
        ("raceway_from", asked.raceway_mm, asked.raceway_from),
    )
    for field, value, origin in told:
        allowed = f"allowed: {', '.join(TAKEN_FROM[1:])}"
        if value is not None and not origin:
            raise DocumentError("requirement", field, f"of {value}, is not given; {allowed}")
        if origin and origin not in TAKEN_FROM[1:]:
            raise DocumentError("requirement", field, f"{origin[:SHOWN]!r} is not possible; {allowed}")
