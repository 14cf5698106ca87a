"""Blocks of a certificate over its sheets: no row is lost, no heading left alone."""

from collections.abc import Sequence

from qrecords.web.inspector.sheets import APART_MM, BODY_MM, Block, cut


def table(rows: Sequence[float], head_mm: float = 10) -> Block:
    return Block("findings", head_mm, rows=tuple(range(len(rows))), rows_mm=tuple(rows))


def used_mm(blocks: Sequence[Block]) -> float:
    return sum(b.height_mm + sum(b.rows_mm) + APART_MM for b in blocks) - APART_MM


def test_a_long_table_goes_on_over_the_sheets_and_loses_no_row() -> None:
    sheets = cut([Block("head", 30), table([6.0] * 100), Block("safety", 8)])
    rows = [row for sheet in sheets for block in sheet.blocks for row in block.rows]
    assert rows == list(range(100))
    assert all(used_mm(sheet.blocks) <= BODY_MM for sheet in sheets)
    assert [sheet.number for sheet in sheets] == list(range(1, sheets[0].of + 1))


def test_a_block_that_does_not_fit_any_more_begins_the_next_sheet() -> None:
    sheets = cut([Block("head", BODY_MM - 20), Block("photos", 33)])
    assert [[block.kind for block in sheet.blocks] for sheet in sheets] == [["head"], ["photos"]]


def test_no_table_ends_a_sheet_with_its_heading_alone() -> None:
    sheets = cut([Block("head", BODY_MM - 12), table([6.0] * 3)])
    assert [[block.kind for block in sheet.blocks] for sheet in sheets] == [["head"], ["findings"]]


def test_a_table_does_not_begin_at_the_foot_of_a_sheet_with_a_row_or_two() -> None:
    sheets = cut([Block("head", BODY_MM - 30), table([6.0] * 9)])
    assert [block.kind for block in sheets[0].blocks] == ["head"]
    assert len(sheets[1].blocks[0].rows) == 9


def test_no_sheet_ends_a_table_with_one_lone_row() -> None:
    sheets = cut([table([6.0] * 37)])
    assert [len(sheet.blocks[0].rows) for sheet in sheets] == [34, 3]
