"""Every step there is, in the order of the work. A procedure chooses among them."""

from collections.abc import Mapping

from qrecords.steps import (
    bore,
    clearance,
    demagnetisation,
    heating,
    identification,
    measurement,
    preparation,
    protection,
    running,
    seating,
    shoulder_gap,
)
from qrecords.steps.step import Step

STEPS: Mapping[str, Step] = {
    step.id: step
    for step in (
        identification.STEP,
        preparation.STEP,
        measurement.STEP,
        bore.STEP,
        clearance.BEFORE,
        heating.STEP,
        demagnetisation.STEP,
        seating.STEP,
        shoulder_gap.STEP,
        clearance.AFTER,
        running.STEP,
        protection.STEP,
    )
}
