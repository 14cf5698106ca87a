"""ISO 15:2011 boundary dimensions of the series 60, 62, 63, 64.

Source: three separately made public copies, their rows typed from them into `iso_15_copies.csv`: MecaTool
(iso15-2011.boundary-dimensions.json @14e38240, ISO 15:2011 tables 4, 6, 7 and 8; names the dimension
series), Uni-rolling-bearing (ball.json @6d0ebffe) and BOLTS (bearings.blt @0d37d331). The package's table
was made from the same three: this finds a slip of our table against each of them, not one that they share.
What no copy holds is held against the other rows only, and the table has to call it unconfirmed.
"""

from collections import defaultdict
from itertools import pairwise

import pytest

from qrecords.engineering.bearings import BOUNDARY_DIMENSIONS, boundary_dimensions
from qrecords.engineering.designation import parse_designation
from qrecords.engineering.errors import DesignationError
from qrecords.engineering.tables import BUILT_IN, Row
from tests.published import example, lines

ROWS: dict[str, Row] = {
    "".join(key): BUILT_IN.all_of(BOUNDARY_DIMENSIONS, key)[0] for key in BUILT_IN.keys(BOUNDARY_DIMENSIONS)
}
SERIES = {"10": "60", "02": "62", "03": "63", "04": "64"}  # dimension series of ISO 15 → DIN 623-1
COPIES = lines("iso_15_copies.csv")
IN_NO_COPY = {"6228", "6424"}
# Uni-rolling-bearing prints the 64 series as narrower rings; ISO 15 table 8 as MecaTool copies it stands.
DISSENT = {
    "6403": (52, 15), "6404": (60, 17), "6405": (70, 20),
    "6406": (80, 21), "6407": (90, 24), "6408": (100, 25),
}  # fmt: skip


def designation(line: dict[str, str]) -> str:
    """What our table calls the row of a copy."""
    if line["copy"] != "MecaTool":
        return line["named"]
    series = SERIES[line["named"]]
    bore = int(line["d_mm"])
    return next(name for name, row in ROWS.items() if row.key[0] == series and row.values[0] == bore)


def held() -> dict[str, list[dict[str, str]]]:
    """The copied rows of each designation."""
    found = defaultdict(list)
    for line in COPIES:
        found[designation(line)].append(line)
    return found


def differs(line: dict[str, str]) -> bool:
    """Whether a copy prints another size than ours, in what it prints."""
    ours = boundary_dimensions(parse_designation(designation(line)))
    pairs = (
        (line["d_mm"], ours.bore_mm),
        (line["D_mm"], ours.outside_mm),
        (line["B_mm"], ours.width_mm),
        (line["rs_min_mm"], ours.chamfer_mm),
    )
    return any(float(printed) != held_mm for printed, held_mm in pairs if printed)


@pytest.mark.parametrize("copy", ["MecaTool", "Uni-rolling-bearing", "BOLTS"])
def test_every_row_of_every_copy(copy: str) -> None:
    differing = {
        designation(line): (int(line["D_mm"]), int(line["B_mm"]))
        for line in COPIES
        if line["copy"] == copy and differs(line)
    }
    assert differing == (DISSENT if copy == "Uni-rolling-bearing" else {})


def test_what_is_in_no_copy_is_said_to_be_unconfirmed_and_nothing_else_is() -> None:
    assert {name for name in ROWS if name not in held()} == IN_NO_COPY
    assert {name for name in ROWS if boundary_dimensions(parse_designation(name)).unconfirmed} == IN_NO_COPY
    assert len(ROWS) == 137


def test_the_sources_a_row_names_are_the_copies_that_agree_with_it() -> None:
    agreeing = {
        name: {line["copy"] for line in copied if not differs(line)} for name, copied in held().items()
    }
    for name, row in ROWS.items():
        named = {part.split("(")[0].strip() for part in row.sources.split(";") if "D only" not in part}
        assert named - {"", "from memory"} == agreeing.get(name, set()), name


def test_every_row_agrees_with_the_bore_code_of_its_designation() -> None:
    for name, row in ROWS.items():
        assert parse_designation(name).bore_mm == row.values[0], name


@pytest.mark.parametrize("series", SERIES.values())
def test_within_a_series_no_ring_is_smaller_than_that_of_a_smaller_bore(series: str) -> None:
    sizes = sorted(row.values[:3] for row in ROWS.values() if row.key[0] == series)
    for (_, outside, width), (_, next_outside, next_width) in pairwise(sizes):
        assert outside < next_outside and width <= next_width


def test_within_a_bore_the_heavier_series_is_larger_and_wider() -> None:
    of_bore = defaultdict(list)
    for row in ROWS.values():
        bore, outside, width = row.values[:3]
        assert bore < outside and width < outside - bore
        of_bore[bore].append((row.key[0], outside, width))
    for rings in of_bore.values():
        for (_, outside, width), (_, next_outside, next_width) in pairwise(rings):
            assert outside < next_outside and width <= next_width


def test_the_rings_of_the_worked_examples_are_those_of_the_table() -> None:
    for name, identity in (("6212", "E13"), ("6204", "E14")):
        given, ours = example(identity)["inputs"], boundary_dimensions(parse_designation(name))
        assert (given["d_mm"], given["D_mm"], given["B_mm"]) == (ours.bore_mm, ours.outside_mm, ours.width_mm)


def test_cylindrical_roller_bearings_share_the_dimensions_of_their_series_and_say_it_is_from_memory() -> None:
    found = boundary_dimensions(parse_designation("NU 318"))
    assert (found.bore_mm, found.outside_mm, found.width_mm) == (90, 190, 43)
    assert "DIN 616" in found.unconfirmed[0]


@pytest.mark.parametrize("text", ["22320", "30314", "608", "62/500"])
def test_where_no_row_is_held_the_dimensions_are_refused_by_name(text: str) -> None:
    with pytest.raises(DesignationError):
        boundary_dimensions(parse_designation(text))
