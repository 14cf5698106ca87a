"""Rows of a site's own copy: what is understood, what goes with those around it, what is asked once."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from qrecords.engineering.bearings import internal_clearance
from qrecords.engineering.errors import TableRowError
from qrecords.engineering.limits import limits_of_size
from qrecords.engineering.own_rows import SHAPES, document_of, read_row
from qrecords.engineering.row_fits import far, fits
from qrecords.engineering.tables import BUILT_IN, Approval, unconfirmed_of

WHERE = {"place": "table 2, page 7", "copy": "copy 3, order PO-4471"}
CLEARANCE: dict[str, Any] = {
    "table": "radial_internal_clearance", "key": ["deep_groove_ball_cyl_bore", "3"], "over_mm": "50",
    "upto_mm": "65", "values": ["23", "43"], "standard": "ISO 5753-1", "edition": "2009", **WHERE,
}  # fmt: skip
IT6: dict[str, Any] = {
    "table": "it_grades", "key": ["6"], "over_mm": "50", "upto_mm": "80", "values": ["19"],
    "standard": "ISO 286-1", "edition": "2010", **WHERE,
}  # fmt: skip
BEARING: dict[str, Any] = {
    "table": "boundary_dimensions", "key": ["62", "12"], "over_mm": "60", "upto_mm": "60",
    "values": ["60", "110", "22", "1.5"], "standard": "ISO 15", "edition": "2011", **WHERE,
}  # fmt: skip


def test_every_built_in_row_can_be_said_and_goes_with_those_around_it() -> None:
    """The tables themselves show that no check is narrower than what stands in the standards."""
    for row in BUILT_IN.rows:
        said = read_row(document_of(row) | WHERE)
        assert (said.table, said.key, said.over_mm, said.upto_mm) == (
            row.table,
            row.key,
            row.over_mm,
            row.upto_mm,
        )
        assert [f"{value}" for value in said.values] == [f"{value}" for value in row.values]
        fits(said, BUILT_IN)
        assert far(said, BUILT_IN) is None


def test_a_document_gives_back_the_row_that_it_came_from() -> None:
    for document in (CLEARANCE, IT6, BEARING):
        assert document_of(read_row(document)) == document


def test_numbers_are_read_with_a_comma_or_a_point() -> None:
    assert read_row({**IT6, "values": ["19,5"]}).values == (Decimal("19.5"),)


@pytest.mark.parametrize(
    ("document", "changed", "field", "unit", "allowed"),
    [
        (CLEARANCE, {"table": "clearances"}, "table", "", "it_grades, hole_delta, shaft_fundamental"),
        (CLEARANCE, {"key": ["deep_groove_ball_cyl_bore"]}, "key", "", "2 parts: kind, group"),
        (CLEARANCE, {"key": ["deep_groove_ball_cyl_bore", "6"]}, "group", "", "2, N, 3, 4, 5"),
        (CLEARANCE, {"key": ["Deep groove!", "3"]}, "kind", "", "in letters and _"),
        (CLEARANCE, {"values": ["23"]}, "values", "µm", "least, most"),
        (CLEARANCE, {"values": ["23", "NaN"]}, "most", "µm", "0…50000 µm, in steps of 0.1 µm"),
        (CLEARANCE, {"values": ["-3", "43"]}, "least", "µm", "0…50000 µm"),
        (CLEARANCE, {"values": ["43", "23"]}, "most", "µm", "above the least, 43 µm"),
        (CLEARANCE, {"over_mm": "65", "upto_mm": "50"}, "upto_mm", "mm", "above 65 mm, where it begins"),
        (CLEARANCE, {"upto_mm": "4000"}, "upto_mm", "mm", "0…3150 mm"),
        (CLEARANCE, {"standard": ""}, "standard", "", "its name without the edition"),
        (CLEARANCE, {"standard": "ISO 5753-1:2009"}, "standard", "", "its name without the edition"),
        (CLEARANCE, {"edition": "9"}, "edition", "", "its year, as 2009"),
        (CLEARANCE, {"place": ""}, "place", "", "1 to 80 characters in one line"),
        (CLEARANCE, {"copy": "a\nb"}, "copy", "", "1 to 80 characters in one line"),
        (IT6, {"key": ["19"]}, "grade", "", "01, 0, 1, 2"),
        (IT6, {"values": ["0"]}, "tolerance", "µm", "above 0 µm"),
        (IT6, {"values": ["19.05"]}, "tolerance", "µm", "in steps of 0.1 µm"),
        (BEARING, {"upto_mm": "65"}, "upto_mm", "mm", "60 mm, the bore of 6212"),
        (BEARING, {"values": ["60", "55", "22", ""]}, "outside", "mm", "above the bore, 60 mm"),
        (BEARING, {"values": ["60", "110", "0", ""]}, "width", "mm", "above 0 mm"),
        (BEARING, {"values": ["60", "110", "22", "30"]}, "chamfer", "mm", "below 25 mm"),
    ],
)  # fmt: skip
def test_what_no_reader_of_the_table_would_understand_is_refused_by_field_value_unit_and_range(
    document: dict[str, Any], changed: dict[str, Any], field: str, unit: str, allowed: str
) -> None:
    with pytest.raises(TableRowError) as refused:
        read_row({**document, **changed})
    assert (refused.value.field, refused.value.unit) == (field, unit)
    assert allowed in refused.value.allowed


@pytest.mark.parametrize(
    ("document", "changed", "field", "allowed"),
    [
        (CLEARANCE, {"over_mm": "50", "upto_mm": "60"}, "over_mm", "over 50 to 65 mm, the row that is there"),
        (CLEARANCE, {"over_mm": "60", "upto_mm": "80"}, "over_mm", "over 50 to 65 mm"),
        (CLEARANCE, {"over_mm": "2000", "upto_mm": "2200"}, "over_mm", "or over 500 mm"),
        (IT6, {"values": ["12"]}, "tolerance", "from 13 µm, as grade 5 has"),
        (IT6, {"values": ["31"]}, "tolerance", "up to 30 µm, as grade 7 has"),
        (CLEARANCE, {"values": ["23", "62"]}, "most", "up to 61 µm, as group 4 has"),
        (CLEARANCE, {"values": ["7", "43"]}, "least", "from 8 µm, as group N has"),
    ],
)
def test_what_does_not_go_with_the_rows_around_it_is_refused(
    document: dict[str, Any], changed: dict[str, Any], field: str, allowed: str
) -> None:
    with pytest.raises(TableRowError) as refused:
        fits(read_row({**document, **changed}), BUILT_IN)
    assert refused.value.field == field
    assert allowed in refused.value.allowed


def test_a_table_may_grow_at_its_end_and_by_a_column_that_nobody_holds() -> None:
    longer = read_row({**CLEARANCE, "over_mm": "500", "upto_mm": "560", "values": ["160", "260"]})
    fits(longer, BUILT_IN)
    assert internal_clearance("deep groove ball", 520, "C3", BUILT_IN.overlaid([longer])).min_um == 160
    column = {"table": "shaft_fundamental_deviations", "key": ["zc", "all", "ei"], "values": ["480"]}
    new = read_row({**IT6, **column, "over_mm": "50", "upto_mm": "65"})
    fits(new, BUILT_IN)
    assert limits_of_size(60, "zc7", BUILT_IN.overlaid([new])).lower_um == 480


def test_a_second_column_for_the_same_grades_is_refused() -> None:
    column = {"table": "shaft_fundamental_deviations", "key": ["m", "5-6", "ei"], "values": ["11"]}
    with pytest.raises(TableRowError, match="5, 6 stand under all"):
        fits(read_row({**IT6, **column}), BUILT_IN)


@pytest.mark.parametrize(
    ("document", "values", "field", "allowed"),
    [
        (IT6, ["25"], "tolerance", "16…22 µm, near 19 µm"),
        (CLEARANCE, ["9", "43"], "least", "near 23 µm, which stands now"),
        (BEARING, ["60", "110", "28", "1.5"], "width", "22 mm"),
    ],
)
def test_a_value_further_off_than_the_rows_beside_it_is_asked_back(
    document: dict[str, Any], values: list[str], field: str, allowed: str
) -> None:
    found = far(read_row({**document, "values": values}), BUILT_IN)
    assert found is not None
    assert found.field == field
    assert allowed in found.allowed


def test_a_row_of_the_sites_own_copy_says_so_and_is_not_counted_as_unconfirmed() -> None:
    approval = Approval("0197aaaa-0000-7000-8000-000000000001", "ab" * 32, "2026-11-30")
    own = replace(read_row(CLEARANCE), approval=approval)
    found = internal_clearance("deep groove ball", 60, "C3", BUILT_IN.overlaid([own]))
    (told,) = found.unconfirmed
    assert told.startswith(f"own copy {approval.entry} {approval.by} 2026-11-30; ISO 5753-1:2009 radial_")
    assert told.endswith("; table 2, page 7; copy 3, order PO-4471")
    assert unconfirmed_of(found.unconfirmed) == ()
    assert unconfirmed_of(internal_clearance("deep groove ball", 60, "C3").unconfirmed)


def test_who_approved_a_row_is_part_of_the_digest_and_without_it_old_digests_stay() -> None:
    row = read_row(CLEARANCE)
    first, second = (replace(row, approval=Approval(name, "ab" * 32, "2026-11-30")) for name in ("a", "b"))
    assert BUILT_IN.overlaid([first]).digest != BUILT_IN.overlaid([second]).digest
    assert set(SHAPES) == {each.table for each in BUILT_IN.rows}
