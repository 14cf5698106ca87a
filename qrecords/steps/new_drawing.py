"""A drawing as it comes in: what an old entry may still hold is asked back while somebody can mend it."""

from collections.abc import Mapping
from typing import Any

from qrecords.engineering.limits import shaft_classes
from qrecords.steps.designated import as_designated, one_of_the_tables
from qrecords.steps.errors import DocumentError
from qrecords.steps.proportions import in_proportion
from qrecords.steps.requirement import MOST_UM, TAKEN_FROM, Requirement, bounded, read_requirement
from qrecords.steps.windows import usual_windows


def read_new_requirement(document: Mapping[str, Any]) -> Requirement:
    """The requirement as a new drawing brings it. What an old entry may still hold is asked back here: the
    class of a hole on a shaft, a clearance table that does not exist, and what contradicts the designation
    or the other sizes without saying where it is written."""
    shaft_class = str(document.get("shaft_class", ""))
    if shaft_class[:1].isupper():
        nominal = bounded("nominal_mm", document.get("nominal_mm", ""))
        there = ", ".join(shaft_classes(nominal, shaft_class)) or "none of this letter"
        why = f"{shaft_class!r} is the class of a hole; on a shaft of {nominal} mm there are: {there}"
        raise DocumentError("requirement", "shaft_class", why)
    asked = read_requirement(document)
    if asked.stabilised_c is not None:
        bounded("stabilised_c", asked.stabilised_c)
    if asked.form_nm is not None and asked.form_nm <= 0:
        why = f"{document['form_um']} µm is not possible; allowed: above 0, up to {MOST_UM} µm"
        raise DocumentError("requirement", "form_um", why)
    _taken_from(asked)
    one_of_the_tables(document)
    as_designated(document)
    in_proportion(asked)
    usual_windows(asked)
    return asked


def _taken_from(asked: Requirement) -> None:
    """DocumentError for a mass or a raceway that does not say whether a drawing or a measurement gave it."""
    told = (
        ("mass_from", asked.mass_kg, asked.mass_from),
        ("raceway_from", asked.raceway_mm, asked.raceway_from),
    )
    for field, value, origin in told:
        if value is not None and not origin:
            why = f"of {value}, is not given; allowed: {', '.join(TAKEN_FROM[1:])}"
            raise DocumentError("requirement", field, why)
