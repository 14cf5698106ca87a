"""A new drawing's sizes against each other: what is ten or 25.4 times too big or too small is asked about,
until somebody says where it is written. House rules, all of them, wide enough for every row of ISO 15."""

from collections.abc import Sequence

from qrecords.engineering.cooling import Ring, mass_estimate
from qrecords.steps.designated import SOURCES
from qrecords.steps.errors import DocumentError
from qrecords.steps.requirement import Requirement

OUTSIDE_OF_BORE = (1.05, 4.5)
WIDTH_OF_SECTION = (0.1, 3.0)
"""B over D − d."""
SEAT_OF_WIDTH = (0.3, 8.0)
"""A seat may take a pair and its spacer."""
MASS_OF_ESTIMATE = (0.15, 4.0)
"""The inner ring of a separable bearing alone weighs about a quarter of the whole."""


def in_proportion(asked: Requirement) -> None:
    """DocumentError for the first size that is far from what the others let expect. One alone is told, since
    the others would be measured by it; where a source is named, somebody looked, and nothing is compared."""
    d, big, b = float(asked.nominal_mm), float(asked.outside_mm), float(asked.width_mm)
    _near(asked, ("outside_mm", "nominal_mm"), big, d, OUTSIDE_OF_BORE, "mm")
    _near(asked, ("width_mm", "outside_mm", "nominal_mm"), b, big - d, WIDTH_OF_SECTION, "mm")
    _near(asked, ("seat_width_mm", "width_mm"), float(asked.seat_width_mm), b, SEAT_OF_WIDTH, "mm")
    if asked.mass_kg is not None:
        estimate_kg = mass_estimate(Ring(d, big, b)).value
        sizes = ("mass_kg", "width_mm", "outside_mm", "nominal_mm")
        _near(asked, sizes, float(asked.mass_kg), estimate_kg, MASS_OF_ESTIMATE, "kg")


def _near(
    asked: Requirement,
    fields: Sequence[str],
    value: float,
    expected: float,
    ratios: tuple[float, float],
    unit: str,
) -> None:
    low, high = (ratio * expected for ratio in ratios)
    looked_up = any(str(asked.document.get(SOURCES[field]) or "").strip() for field in fields)
    if not low <= value <= high and not looked_up:
        why = (
            f"{value:g} {unit} is far from {low:.3g}…{high:.3g} {unit}, where the other sizes let expect it; "
            "mend it, or say where it is written"
        )
        raise DocumentError("requirement", fields[0], why)
