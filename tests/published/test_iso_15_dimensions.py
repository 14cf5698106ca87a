"""ISO 15:2011 boundary dimensions of the series 60, 62, 63, 64.

Source: the table's rows were found in one to three separately made copies of ISO 15:2011, named in
its `sources` column. The sizes below were typed a second time, from memory and apart from the table: a slip
of the table has to be made twice to pass.
"""

import pytest

from qrecords.engineering.bearings import BOUNDARY_DIMENSIONS, boundary_dimensions
from qrecords.engineering.designation import parse_designation
from qrecords.engineering.errors import DesignationError
from qrecords.engineering.tables import BUILT_IN

# designation: d, D, B in mm
DAILY = {
    "62/28": (28, 58, 16),
    "6222": (110, 200, 38),
    "6000": (10, 26, 8),
    "6204": (20, 47, 14),
    "6205": (25, 52, 15),
    "6210": (50, 90, 20),
    "6212": (60, 110, 22),
    "6220": (100, 180, 34),
    "6308": (40, 90, 23),
    "6310": (50, 110, 27),
    "6312": (60, 130, 31),
    "6316": (80, 170, 39),
    "6403": (17, 62, 17),
}


@pytest.mark.parametrize(("text", "sizes"), DAILY.items())
def test_daily_sizes(text: str, sizes: tuple[int, int, int]) -> None:
    found = boundary_dimensions(parse_designation(text))
    assert (found.bore_mm, found.outside_mm, found.width_mm) == sizes
    assert found.source == "ISO 15:2011" and not found.unconfirmed


def test_a_row_nobody_confirmed_whole_says_so() -> None:
    assert boundary_dimensions(parse_designation("6228")).unconfirmed
    assert boundary_dimensions(parse_designation("6424")).unconfirmed


def test_every_row_agrees_with_the_bore_code_of_its_designation() -> None:
    rows = [
        row for key in BUILT_IN.keys(BOUNDARY_DIMENSIONS) for row in BUILT_IN.all_of(BOUNDARY_DIMENSIONS, key)
    ]
    assert len(rows) == 137
    for row in rows:
        series, code = row.key
        assert parse_designation(series + code).bore_mm == row.values[0], row.key


def test_within_a_bore_the_heavier_series_is_larger() -> None:
    for code in ("04", "08", "12", "16", "20"):
        sizes = [
            BUILT_IN.all_of(BOUNDARY_DIMENSIONS, (series, code))[0].values[1:3]
            for series in ("60", "62", "63")
        ]
        assert sizes == sorted(sizes)


def test_cylindrical_roller_bearings_share_the_dimensions_of_their_series_and_say_it_is_from_memory() -> None:
    found = boundary_dimensions(parse_designation("NU 318"))
    assert (found.bore_mm, found.outside_mm, found.width_mm) == (90, 190, 43)
    assert "DIN 616" in found.unconfirmed[0]


@pytest.mark.parametrize("text", ["22320", "30314", "608", "62/500"])
def test_where_no_row_is_held_the_dimensions_are_refused_by_name(text: str) -> None:
    with pytest.raises(DesignationError):
        boundary_dimensions(parse_designation(text))
