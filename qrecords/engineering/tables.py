"""Tables of the standards, row by row, each knowing its standard, edition and whether anybody confirmed it.

The built-in tables are CSV files in `data/`, read when first asked for. `confirmed` means found in
separately made public copies; an unconfirmed row is from memory and has to be compared with the
reader's own copy of the standard before anyone relies on it. A site lays rows approved from its own copy
over these with `overlaid`.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from typing import NamedTuple

# csv, hashlib, json and pathlib are imported where a table is read: the package itself has to load in 50 ms.


OWN_COPY = "own copy "
"""How a text begins that tells of a row from the site's own copy, among those of rows nobody confirmed."""


class OwnCopy(NamedTuple):
    """What a result tells of a row from the site's own copy: the entry that approved it, the hash of that
    person's version, the day, the row in words, and its place in which copy."""

    approval: str
    by: str
    on: str
    row: str
    sources: str


def own_copies_of(told: Iterable[str]) -> tuple[OwnCopy, ...]:
    """Of what results tell of their rows, those of the site's own copy."""
    return tuple(_own_copy(text.removeprefix(OWN_COPY)) for text in told if text.startswith(OWN_COPY))


def _own_copy(text: str) -> OwnCopy:
    who, row, sources = text.split("; ", 2)
    approval, by, on = who.split(" ")
    return OwnCopy(approval, by, on, row, sources)


def unconfirmed_of(told: Iterable[str]) -> tuple[str, ...]:
    """Of what results tell of their rows, the part that nobody confirmed."""
    return tuple(text for text in told if not text.startswith(OWN_COPY))


@dataclass(frozen=True, slots=True)
class Approval:
    """Who put a row of the site's own copy in force: the entry, the hash of the person's version, the day."""

    entry: str
    by: str
    on: str


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table: for sizes over `over_mm` up to and including `upto_mm`, these `values`.

    `key` names what the row is of within its table, `values` are µm (mm in `boundary_dimensions`, where
    `over_mm` and `upto_mm` both are the bore). What they mean stands at the reader of each table below.
    """

    table: str
    key: tuple[str, ...]
    over_mm: Decimal
    upto_mm: Decimal
    values: tuple[Decimal, ...]
    standard: str
    edition: str
    confirmed: bool
    sources: str
    approval: Approval | None = None
    """Of a row that a site took from its own copy; `sources` then says where it stands there."""

    @property
    def cited(self) -> str:
        """Standard and edition, as a finding quotes it."""
        return f"{self.standard}:{self.edition}"

    @property
    def where(self) -> str:
        """The row in words, for a list of what is unconfirmed."""
        return f"{self.cited} {self.table} {' '.join(self.key)} over {self.over_mm} to {self.upto_mm} mm"

    @property
    def told(self) -> tuple[str, ...]:
        """What everything that rests on this row has to say of it: that nobody confirmed it, or that it is of
        the site's own copy; of a row that public copies confirm nothing."""
        if self.approval is not None:
            by = f"{self.approval.entry} {self.approval.by} {self.approval.on}"
            return (f"{OWN_COPY}{by}; {self.where}; {self.sources}",)
        return () if self.confirmed else (self.where,)


@dataclass(frozen=True, eq=False)
class Tables:
    """A set of table rows, read when first needed, known by its digest."""

    source: Callable[[], tuple[Row, ...]]
    stands_for: str = ""
    """The digest that was pinned, where the set it names is not known to this program any more."""

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        """All rows."""
        return self.source()

    @cached_property
    def _by_key(self) -> dict[tuple[str, tuple[str, ...]], list[Row]]:
        index: dict[tuple[str, tuple[str, ...]], list[Row]] = {}
        for row in self.rows:
            index.setdefault((row.table, row.key), []).append(row)
        return index

    @cached_property
    def _keys(self) -> dict[str, tuple[tuple[str, ...], ...]]:
        tables = dict.fromkeys(table for table, _key in self._by_key)
        return {table: tuple(key for name, key in self._by_key if name == table) for table in tables}

    @cached_property
    def digest(self) -> str:
        """SHA-256 (hex) over every row in a fixed order and form: two equal sets have one digest."""
        import hashlib
        import json

        lines = sorted(
            json.dumps(
                [
                    *(r.table, r.key, str(r.over_mm), str(r.upto_mm), [str(v) for v in r.values]),
                    *(r.standard, r.edition, r.confirmed, r.sources),
                    *(() if r.approval is None else (r.approval.entry, r.approval.by, r.approval.on)),
                ],
                ensure_ascii=False,
            )
            for r in self.rows
        )
        return hashlib.sha256("\n".join(lines).encode()).hexdigest()

    def row(self, table: str, key: tuple[str, ...], size_mm: Decimal) -> Row | None:
        """The row of `key` whose range holds the size (a size on a boundary belongs to the lower range)."""
        for row in self._by_key.get((table, key), ()):
            if row.over_mm < size_mm <= row.upto_mm or row.over_mm == row.upto_mm == size_mm:
                return row
        return None

    def all_of(self, table: str, key: tuple[str, ...]) -> tuple[Row, ...]:
        """Every row of one key, in the order of the table."""
        return tuple(self._by_key.get((table, key), ()))

    def keys(self, table: str) -> tuple[tuple[str, ...], ...]:
        """The keys of one table, in the order of the table."""
        return self._keys.get(table, ())

    def overlaid(self, rows: Iterable[Row]) -> "Tables":
        """These tables with rows put over those of the same table, key and range (new ones are added)."""
        new = tuple(rows)
        replaced = {(r.table, r.key, r.over_mm, r.upto_mm) for r in new}
        kept = tuple(r for r in self.rows if (r.table, r.key, r.over_mm, r.upto_mm) not in replaced)
        return Tables(lambda: kept + new)


def _lines(name: str) -> Iterator[dict[str, str]]:
    import csv
    from pathlib import Path

    with (Path(__file__).parent / "data" / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


def _row(
    table: str, standard: str, line: dict[str, str], key: tuple[str, ...], values: tuple[str, ...]
) -> Row:
    name, edition = standard.split(":")
    return Row(
        table=table,
        key=key,
        over_mm=Decimal(line["over_mm"]),
        upto_mm=Decimal(line["upto_mm"]),
        values=tuple(Decimal(value) for value in values),
        standard=name,
        edition=edition,
        confirmed=line["confidence"] == "confirmed",
        sources=line.get("sources") or _counted(line),
    )


def _counted(line: dict[str, str]) -> str:
    """Tables without a list of sources give only their number; a row from memory has none."""
    return f"at least {line['min_sources']} copies" if "min_sources" in line else "from memory"


def _grades() -> Iterator[Row]:
    """it_grades, key (grade,): the tolerance. hole_delta, key (grade,): the delta added to K … S."""
    for table in ("it_grades", "hole_delta"):
        for line in _lines(table):
            for column, value in line.items():
                if column.startswith("IT") and value:
                    yield _row(table, "ISO 286-1:2010", line, (column[2:],), (value,))


def _deviations() -> Iterator[Row]:
    """Fundamental deviations, key (letter, grades, kind): kind es, ei, ES, EI or sym (± half the tolerance).

    In hole_fundamental_deviations the second value is 1 where the delta of the grade is added.
    """
    for line in _lines("shaft_fundamental_deviations"):
        key = (line["letter"], line["grades"], line["kind"])
        yield _row("shaft_fundamental_deviations", "ISO 286-1:2010", line, key, (line["value_um"] or "0",))
    for line in _lines("hole_fundamental_deviations"):
        key = (line["letter"], line["grades"], line["kind"])
        values = (line["base_um"] or "0", line["add_delta"])
        yield _row("hole_fundamental_deviations", "ISO 286-1:2010", line, key, values)


def _bearings() -> Iterator[Row]:
    """ISO 492 key (class,): lower, upper. ISO 5753-1 key (kind, group): min, max.

    ISO 15 key (series, bore code, /22 for 22 mm and 22 for 110 mm): bore, outside diameter, width, smallest
    chamfer (NaN where unknown).
    """
    for line in _lines("bearing_bore_tolerance"):
        values = (line["ddmp_lower_um"], line["ddmp_upper_um"])
        yield _row("bearing_bore_tolerance", "ISO 492:2014", line, (line["class"],), values)
    for line in _lines("bearing_od_tolerance"):
        values = (line["dDmp_lower_um"], line["dDmp_upper_um"])
        yield _row("bearing_od_tolerance", "ISO 492:2014", line, (line["class"],), values)
    for line in _lines("radial_internal_clearance"):
        if line["min_um"]:
            group, limits = (line["bearing_type"], line["group"]), (line["min_um"], line["max_um"])
            yield _row("radial_internal_clearance", "ISO 5753-1:2009", line, group, limits)
    for line in _lines("boundary_dimensions"):
        bore = {**line, "over_mm": line["d_mm"], "upto_mm": line["d_mm"]}
        sizes = (line["d_mm"], line["D_mm"], line["B_mm"], line["rs_min_mm"] or "NaN")
        key = (line["designation_series"], line["bore_code"])
        yield _row("boundary_dimensions", "ISO 15:2011", bore, key, sizes)


def _built_in() -> tuple[Row, ...]:
    return (*_grades(), *_deviations(), *_bearings())


BUILT_IN = Tables(_built_in)
