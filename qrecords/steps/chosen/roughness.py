"""Row 9: the roughness of the seat, by comparator or stylus."""

import re

from qrecords.steps.case import Case
from qrecords.steps.fields import Choice, Field, Quantity, Words
from qrecords.steps.limits import Bounds, limit_rule
from qrecords.steps.rules import ENGINEER, Stage
from qrecords.steps.step import Step

STEP_ID = "roughness"
SOURCE = "DIN 5425, from memory"
SMALL_MM = 80
BY_GRADE = {5: (400, 800), 6: (800, 1600)}
"""Grade of the seat → largest Ra in nm up to 80 mm, and above."""


def _smoothness(case: Case) -> Bounds | None:
    """By grade and size of the seat; none for a drawing that names no class, or a coarser one."""
    grade = re.search(r"\d+$", case.requirement.shaft_class)
    limits = BY_GRADE.get(max(5, int(grade[0]))) if grade else None
    if limits is None:
        return None
    return Bounds(None, limits[case.requirement.nominal_mm > SMALL_MM], SOURCE, (SOURCE,))


STEP = Step(
    id=STEP_ID,
    version=1,
    row=9,
    stage=Stage.MEASURE,
    task="measure",
    fields=(
        Field("ra", Quantity("length", ("um",), 50, 6_300)),
        Field("ra_by", Choice(("comparator", "stylus")), optional=True),
        Field("ra_instrument", Words(40), optional=True),
    ),
    rules=(
        limit_rule(
            "seat-roughness",
            Stage.MEASURE,
            STEP_ID,
            "ra",
            "nm",
            SOURCE,
            _smoothness,
            may=ENGINEER,
            hold="fit",
        ),
    ),
)
