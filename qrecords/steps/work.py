"""Every step there is, in the order of the work. A procedure chooses among them."""

from collections.abc import Iterator, Mapping
from importlib import import_module
from pkgutil import iter_modules

from qrecords.steps import (
    bore,
    chosen,
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
from qrecords.steps.case import Traits
from qrecords.steps.step import Step

_ALWAYS = (
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


def _chosen() -> Iterator[Step]:
    """The step of every module in `chosen/`: one that is added there is found."""
    for module in iter_modules(chosen.__path__):
        step: Step = import_module(f"{chosen.__name__}.{module.name}").STEP
        yield step


CHOSEN: Mapping[str, Traits] = {step.id: step.traits for step in _chosen()}
STEPS: Mapping[str, Step] = {
    step.id: step for step in sorted((*_ALWAYS, *_chosen()), key=lambda step: (step.row, step.id))
}
