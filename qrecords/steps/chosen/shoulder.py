"""Rows 6 and 7: fillet radius against the ring's chamfer, height and run-out of the shoulder."""

from collections.abc import Mapping

from qrecords.engineering.bearings import bore_class
from qrecords.engineering.errors import EngineeringError
from qrecords.engineering.limits import limits_of_size
from qrecords.steps.case import Case
from qrecords.steps.fields import Choice, Field, Gear, Quantity, Words
from qrecords.steps.limits import Bounds, limit_rule
from qrecords.steps.measurement import LENGTHS
from qrecords.steps.rules import ENGINEER, Stage, standing
from qrecords.steps.step import Step

STEP_ID = "shoulder"
BY_CHAMFER: Mapping[int, tuple[int, int]] = {
    1_100_000: (1_000_000, 3_500_000),
    1_500_000: (1_500_000, 4_250_000),
    2_000_000: (2_000_000, 5_000_000),
    2_100_000: (2_000_000, 6_000_000),
    3_000_000: (2_500_000, 7_000_000),
    4_000_000: (3_000_000, 9_000_000),
    5_000_000: (4_000_000, 11_000_000),
    6_000_000: (5_000_000, 14_000_000),
    7_500_000: (6_000_000, 18_000_000),
}
"""Least chamfer of the ring, nm → largest fillet of the shaft, least height of the shoulder (JIS B 1566)."""
SMALLEST = BY_CHAMFER[min(BY_CHAMFER)]
SOURCE = "JIS B 1566, from memory"
GRADE_OF_CLASS: Mapping[str, str] = {"6": "h4", "5": "h3", "4": "h3", "2": "h3"}
"""IT5 for the normal class, IT4 for class 6, IT3 for 5 and better (textbook, from memory)."""


def _row(chamfer_nm: int) -> tuple[int, int] | None:
    """Of the chamfer, else of the next smaller one in the table; None below the table."""
    return BY_CHAMFER[max(under)] if (under := [c for c in BY_CHAMFER if c <= chamfer_nm]) else None


def _fillet(case: Case) -> Bounds | None:
    """At most what the table has for this chamfer; below the table the chamfer itself, and never more than
    the table begins with. A seat with an undercut has no
    fillet for the ring to ride on."""
    chamfer, undercut = case.value_of(STEP_ID, "chamfer"), case.value_of(STEP_ID, "undercut")
    if undercut is not None and undercut.word == "yes":
        return None
    rests = tuple(standing(case, STEP_ID, "chamfer", "undercut"))
    if chamfer is None:
        return Bounds(None, None, rests=rests, lacking="chamfer")
    row = _row(chamfer.base)
    most = row[0] if row else min(chamfer.base, SMALLEST[0])
    return Bounds(None, most, SOURCE, (SOURCE,), rests)


def _height(case: Case) -> Bounds | None:
    """Not known of a chamfer below the table."""
    chamfer = case.value_of(STEP_ID, "chamfer")
    row = _row(chamfer.base) if chamfer else None
    if row is None:
        return None
    return Bounds(row[1], None, SOURCE, (SOURCE,), tuple(standing(case, STEP_ID, "chamfer")))


def face_runout(case: Case) -> Bounds | None:
    """What the face that the ring is pressed against may run out, by the class of the bearing."""
    asked = case.requirement
    grade = GRADE_OF_CLASS.get(bore_class(asked.bore_class), "h5")
    try:
        found = limits_of_size(asked.nominal_mm, grade, case.tables)
    except EngineeringError:
        return None
    source = f"IT{grade[1:]}, textbook, from memory; {found.source}"
    return Bounds(None, found.upper_nm - found.lower_nm, source, found.unconfirmed)


STEP = Step(
    id=STEP_ID,
    version=1,
    row=6,
    stage=Stage.MEASURE,
    task="measure",
    fields=(
        Field("chamfer", Quantity("length", LENGTHS, 300_000, 9_000_000)),
        Field("undercut", Choice(("no", "yes")), optional=True),
        Field("fillet_radius", Quantity("length", LENGTHS, 200_000, 6_000_000)),
        Field("radius_gauge", Words(40), optional=True),
        Field("height", Quantity("length", LENGTHS, 1_000_000, 20_000_000)),
        Field("runout", Quantity("length", ("um", "mm", "in"), 0, 60_000)),
        Field("dial", Gear(("dial indicator",), ("runout",)), optional=True),
    ),
    rules=(
        limit_rule(
            "fillet-radius",
            Stage.MEASURE,
            STEP_ID,
            "fillet_radius",
            "nm",
            SOURCE,
            _fillet,
            may=ENGINEER,
            row="fillet",
            hold="fit",
            version=2,
        ),
        limit_rule(
            "shoulder-height",
            Stage.MEASURE,
            STEP_ID,
            "height",
            "nm",
            SOURCE,
            _height,
            may=ENGINEER,
            row="fillet",
            hold="fit",
            version=2,
        ),
        limit_rule(
            "shoulder-runout",
            Stage.MEASURE,
            STEP_ID,
            "runout",
            "nm",
            "textbook, from memory: IT5, IT4, IT3 by class",
            face_runout,
            may=ENGINEER,
            hold="fit",
        ),
    ),
)
