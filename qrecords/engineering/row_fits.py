"""Whether a row goes with the rows around it: ranges without gap, limits in their order, no slip."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from .errors import FarRowError, TableRowError
from .limits import GRADES, covers
from .own_rows import CLEARANCES, MM, SHAPES
from .tables import BUILT_IN, Row, Tables


def fits(row: Row, tables: Tables) -> None:
    """TableRowError where the range leaves a gap or overlaps, where a column is held twice, or where limits
    are out of their order among the classes, groups or grades beside it."""
    _joins(row, tables)
    _held_once(row, tables)
    _in_order(row, tables)


def leaves_no_gap(row: Row, tables: Tables) -> None:
    """TableRowError where a row that only the site has stands between others, so that without it a gap would
    be left. A row that was laid over a built-in one leaves that one."""
    built_in = {(r.over_mm, r.upto_mm) for r in BUILT_IN.all_of(row.table, row.key)}
    beside = {(r.over_mm, r.upto_mm) for r in tables.all_of(row.table, row.key)} | built_in
    below, above = (any(end == row.over_mm for _, end in beside), any(e == row.upto_mm for e, _ in beside))
    if below and above and (row.over_mm, row.upto_mm) not in built_in:
        allowed = f"the row over {row.upto_mm:f} mm withdrawn first, or that up to {row.over_mm:f} mm"
        raise TableRowError("over_mm", f"{row.over_mm:f}…{row.upto_mm:f}", MM, allowed)


def _joins(row: Row, tables: Tables) -> None:
    """The range of a row that is there, or one that carries on where the last ends or the first begins."""
    there = [r for r in tables.all_of(row.table, row.key) if r.over_mm != r.upto_mm]
    ranges = {(r.over_mm, r.upto_mm) for r in there}
    if not ranges or (row.over_mm, row.upto_mm) in ranges:
        return
    first, last = min(low for low, _ in ranges), max(high for _, high in ranges)
    if row.upto_mm == first or row.over_mm == last:
        return
    near = next(((a, b) for a, b in sorted(ranges) if row.over_mm < b), None)
    inside = f"over {near[0]:f} to {near[1]:f} mm, the row that is there; " if near else ""
    allowed = f"{inside}or a row up to {first:f} mm, or over {last:f} mm"
    raise TableRowError("over_mm", f"{row.over_mm:f}…{row.upto_mm:f}", MM, allowed)


def _held_once(row: Row, tables: Tables) -> None:
    """Two columns of one letter for the same grade and size would leave open which of them holds."""
    if "deviations" not in row.table or tables.all_of(row.table, row.key):
        return
    for key in tables.keys(row.table):
        twice = [g for g in GRADES if key[0] == row.key[0] and covers(key[1], g) and covers(row.key[1], g)]
        if twice and any(_overlap(row, other) for other in tables.all_of(row.table, key)):
            allowed = f"grades that no column of {key[0]} holds; {', '.join(twice)} stand under {key[1]}"
            raise TableRowError("grades", row.key[1], "", allowed)


def _overlap(one: Row, other: Row) -> bool:
    return one.over_mm < other.upto_mm and other.over_mm < one.upto_mm


_RANKED: Mapping[str, Sequence[str]] = {
    "it_grades": GRADES,
    "radial_internal_clearance": CLEARANCES,
}
"""Tables whose columns grow from one to the next at every size: every value of them."""


def _in_order(row: Row, tables: Tables) -> None:
    ranks = _RANKED.get(row.table)
    if ranks is None:
        return
    shape, at = SHAPES[row.table], ranks.index(row.key[-1])
    for side, others in ((1, ranks[at + 1 :]), (-1, ranks[:at][::-1])):
        for rank in others:
            other = tables.row(row.table, (*row.key[:-1], rank), row.upto_mm)
            if other is None or other.over_mm != row.over_mm:
                continue
            for name, mine, its in zip(shape.values, row.values, other.values, strict=True):
                if (its - mine) * side < 0:
                    word = "up to" if side > 0 else "from"
                    allowed = f"{word} {its:f} {shape.unit}, as {shape.key[-1][0]} {rank} has"
                    raise TableRowError(name, f"{mine:f}", shape.unit, allowed)
            break


def far(row: Row, tables: Tables) -> FarRowError | None:
    """A value further from the row that stands there than the rows beside that differ from it: asked for
    once. Where none stands there, further from the nearest row than two of its steps."""
    rows = sorted(tables.all_of(row.table, row.key), key=lambda r: r.upto_mm)
    if not rows:
        return None
    standing = next((r for r in rows if (r.over_mm, r.upto_mm) == (row.over_mm, row.upto_mm)), None)
    near = standing or min(rows, key=lambda r: abs(r.upto_mm - row.upto_mm))
    at = rows.index(near)
    beside = rows[max(at - 1, 0) : at + 2]
    times = 1 if standing else 2
    shape = SHAPES[row.table]
    for n, name in enumerate(shape.values):
        step = max([abs(r.values[n] - near.values[n]) for r in beside if r is not near], default=Decimal(0))
        room = times * max(step, Decimal(1))
        value, there = row.values[n], near.values[n]
        if not value.is_nan() and not there.is_nan() and abs(value - there) > room:
            unit = shape.unit
            allowed = f"{there - room:f}…{there + room:f} {unit}, near {there:f} {unit}, which stands now"
            return FarRowError(name, f"{value:f}", shape.unit, allowed)
    return None
