"""Sizes of a new drawing against each other: 10× and 25.4× are asked about, no row of ISO 15 is."""

from decimal import Decimal

import pytest

from qrecords.engineering.tables import BUILT_IN
from qrecords.steps.errors import DocumentError
from qrecords.steps.new_drawing import read_new_requirement
from tests.cast import REQUIREMENT

UNKNOWN = {
    **REQUIREMENT,
    "designation": "XQ 77",
    "mass_kg": "0.78",
    "mass_from": "measured",
    "seat_width_mm": "40",
}
ROWS = [row for row in BUILT_IN.rows if row.table == "boundary_dimensions"]
SOURCES = {"outside_mm": "outside_source", "width_mm": "width_source", "mass_kg": "mass_source",
           "seat_width_mm": "seat_width_source"}  # fmt: skip
FACTORS = ("10", "0.1", "25.4", "0.0393700787")


def test_sizes_that_fit_each_other_are_asked_nothing() -> None:
    assert read_new_requirement(UNKNOWN).width_mm == 22


@pytest.mark.parametrize("field", SOURCES)
@pytest.mark.parametrize("factor", FACTORS)
def test_a_size_ten_or_25_4_times_off_is_asked_back_until_its_source_is_named(
    field: str, factor: str
) -> None:
    slipped = {**UNKNOWN, field: f"{Decimal(UNKNOWN[field]) * Decimal(factor):.6f}"}
    with pytest.raises(DocumentError) as refused:
        read_new_requirement(slipped)
    assert refused.value.field == field
    impossible = field == "outside_mm" and Decimal(factor) < 1  # smaller than its bore
    too_small = field == "width_mm" and factor == "0.0393700787"  # under 1 mm
    if not impossible and not too_small:
        assert read_new_requirement({**slipped, SOURCES[field]: "drawing TH-9, note 2"})


@pytest.mark.parametrize("row", ROWS, ids=lambda row: " ".join(row.key))
def test_no_row_of_iso_15_is_out_of_proportion(row: object) -> None:
    d, big, b, _chamfer = row.values  # type: ignore[attr-defined]
    sizes = {"nominal_mm": f"{d}", "outside_mm": f"{big}", "width_mm": f"{b}", "seat_width_mm": f"{b}"}
    read_new_requirement({**UNKNOWN, "mass_kg": "", "shaft_class": "k6", **sizes})
