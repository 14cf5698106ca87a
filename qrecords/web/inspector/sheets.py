"""A certificate cut into A4 sheets: blocks of known height, tables that go on, nothing cut off or left out.

Heights are estimates on the safe side, in mm; a browser test holds that no sheet runs over.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Any

BODY_MM = 228.3
"""What the frame leaves above a title block whose title takes one line."""
TITLE_LINE_MM = 4.2
APART_MM = 2.2


@dataclass(frozen=True)
class Block:
    """One part of a sheet: `kind` names its template in its folder, `content` is what that shows.

    A table has `rows` with their heights and may go on over several sheets; `height_mm` is then its head.
    """

    kind: str
    height_mm: float
    content: Any = None
    rows: tuple[Any, ...] = ()
    rows_mm: tuple[float, ...] = ()
    goes_on: bool = False
    folder: str = "certificate"

    @property
    def template(self) -> str:
        return f"{self.folder}/{self.kind}.html"


@dataclass(frozen=True)
class Table:
    """The heading of a findings table and what applies to all of it."""

    title: str
    note: str


@dataclass(frozen=True)
class Sheet:
    """One A4 sheet: its number, of how many, and its blocks."""

    number: int
    of: int
    blocks: tuple[Block, ...]


def text_mm(text: str, letters: int, line_mm: float) -> float:
    """The height of running text of so many letters a line."""
    return max(1, sum(ceil(max(1, len(line)) / letters) for line in text.splitlines() or [""])) * line_mm


def body_mm(title: str) -> float:
    """What is left above a title block with this title."""
    return BODY_MM - text_mm(title, 54, TITLE_LINE_MM) + TITLE_LINE_MM


def cut(blocks: Iterable[Block], body: float = BODY_MM) -> tuple[Sheet, ...]:
    """The blocks in their order on as few sheets of this height as hold them; photos that the sheet has no
    room for any more let what follows them go before."""
    sheets: list[list[Block]] = [[]]
    left = body
    for block in _photos_put_off(blocks, body):
        for part in _parts(block, left, body, begun=bool(sheets[-1])):
            if part.height_mm + sum(part.rows_mm) > left and sheets[-1]:
                sheets.append([])
                left = body
            sheets[-1].append(part)
            left -= part.height_mm + sum(part.rows_mm) + APART_MM
    return tuple(Sheet(n, len(sheets), tuple(each)) for n, each in enumerate(sheets, start=1))


def _photos_put_off(blocks: Iterable[Block], body: float) -> Iterator[Block]:
    """The same blocks; photos for which there is no room stand after the words that still fit."""
    left, waiting = body, list[Block]()
    for block in blocks:
        needed = block.height_mm + sum(block.rows_mm)
        if block.kind == "photos" and needed > left > 0:
            waiting.append(block)
            continue
        if waiting and (needed > left or block.rows):
            yield from waiting
            waiting.clear()
        yield block
        left -= needed + APART_MM
    yield from waiting


def _parts(block: Block, left: float, body: float, *, begun: bool) -> Sequence[Block]:
    """A table cut where the sheets end; anything else whole."""
    if not block.rows:
        return [block]
    parts: list[Block] = []
    start = 0
    room = left - block.height_mm
    while start < len(block.rows):
        taken, used = 0, 0.0
        while start + taken < len(block.rows) and used + block.rows_mm[start + taken] <= room:
            used += block.rows_mm[start + taken]
            taken += 1
        if begun and not parts and taken < min(FEWEST_ROWS, len(block.rows)):
            taken = 0  # better whole on the next sheet than a head with a row or two
        if taken == 0 and (parts or not begun):
            taken = 1
        if taken:
            rows = block.rows[start : start + taken]
            heights = block.rows_mm[start : start + taken]
            parts.append(replace(block, rows=rows, rows_mm=heights, goes_on=start > 0))
        start += taken
        room, begun = body - block.height_mm, False
    return _without_widow(parts)


FEWEST_ROWS = 3
"""A table that goes on has at least these on its first sheet and brings as many over to its last."""


def _without_widow(parts: list[Block]) -> list[Block]:
    if len(parts) < 2 or len(parts[-1].rows) >= FEWEST_ROWS or len(parts[-2].rows) <= FEWEST_ROWS:
        return parts
    before, last = parts[-2:]
    moved = FEWEST_ROWS - len(last.rows)
    stays = replace(before, rows=before.rows[:-moved], rows_mm=before.rows_mm[:-moved])
    rows, rows_mm = before.rows[-moved:] + last.rows, before.rows_mm[-moved:] + last.rows_mm
    return [*parts[:-2], stays, replace(last, rows=rows, rows_mm=rows_mm)]
