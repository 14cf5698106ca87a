"""The register of the tables: which there are, their rows, where each is from, what another would change."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any
from urllib.parse import urlencode

from django.urls import reverse
from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.engineering.own_rows import SHAPES
from qrecords.engineering.tables import Row, Tables
from qrecords.web.doubts import key_in_words
from qrecords.web.listing.held import Keys
from qrecords.web.listing.table import Choice, Column, Columns
from qrecords.web.showing import FIGURES
from qrecords.wording.figures import ELLIPSIS, with_unit

TITLES: Mapping[str, str] = {
    "it_grades": _("Standard tolerances"),
    "hole_delta": _("Additions for holes"),
    "shaft_fundamental_deviations": _("Fundamental deviations of shafts"),
    "hole_fundamental_deviations": _("Fundamental deviations of holes"),
    "bearing_bore_tolerance": _("Bore of bearings"),
    "bearing_od_tolerance": _("Outside diameter of bearings"),
    "radial_internal_clearance": _("Radial internal clearance"),
    "boundary_dimensions": _("Boundary dimensions"),
}
VALUES: Mapping[str, str] = {
    "tolerance": _("tolerance"),
    "delta": _("addition Δ"),
    "deviation": _("fundamental deviation"),
    "add_delta": _("Δ of the grade is added: 1, else 0"),
    "lower": _("lower limit"),
    "upper": _("upper limit"),
    "least": _("least"),
    "most": _("most"),
    "bore": _("bore d"),
    "outside": _("outside diameter D"),
    "width": _("width B"),
    "chamfer": _("smallest chamfer r"),
}
PARTS: Mapping[str, str] = {
    "grade": _("grade"),
    "letter": _("letter"),
    "grades": _("for the grades"),
    "kind": _("kind"),
    "class": _("class"),
    "group": _("group"),
    "series": _("series"),
    "bore code": _("bore code"),
}
OWN, CONFIRMED, UNCONFIRMED = "own", "confirmed", "unconfirmed"


def standing(row: Row) -> str:
    """Whether a row is of the site's own copy, confirmed by public ones, or neither."""
    return OWN if row.approval else CONFIRMED if row.confirmed else UNCONFIRMED


def standing_words(row: Row) -> str:
    words = {OWN: _("own copy"), CONFIRMED: _("confirmed"), UNCONFIRMED: _("unconfirmed")}
    return gettext(words[standing(row)])


@dataclass(frozen=True)
class TableLine:
    """One table with how many of its rows stand how."""

    title: str
    href: str
    standard: str
    rows: int
    confirmed: int
    unconfirmed: int
    own: int


def table_lines(tables: Tables, site: str) -> tuple[TableLine, ...]:
    """Every table that there is, in the order of their use."""
    by_table: dict[str, list[Row]] = {name: [] for name in SHAPES}
    for row in tables.rows:
        by_table[row.table].append(row)
    return tuple(
        TableLine(
            title=gettext(TITLES[name]),
            href=f"{reverse('table', args=[name])}{site}",
            standard=", ".join(dict.fromkeys(row.cited for row in rows)),
            rows=len(rows),
            confirmed=sum(standing(row) == CONFIRMED for row in rows),
            unconfirmed=sum(standing(row) == UNCONFIRMED for row in rows),
            own=sum(standing(row) == OWN for row in rows),
        )
        for name, rows in by_table.items()
    )


def rows_of(tables: Tables, table: str) -> list[Row]:
    """The rows of one table by key and size."""
    keys = {key: n for n, key in enumerate(tables.keys(table))}
    rows = [row for key in keys for row in tables.all_of(table, key)]
    return sorted(rows, key=lambda row: (keys[row.key], row.upto_mm))


def size_words(over: object, upto: object) -> str:
    size = f"{upto}" if over == upto else f"{over}{ELLIPSIS}{upto}"
    return with_unit(size, "mm")


def value_words(row: Row) -> list[tuple[str, str]]:
    """Each value by its name, with the unit of the table."""
    shape = SHAPES[row.table]
    return [
        (gettext(VALUES[name]), _figure(value, "" if name == "add_delta" else shape.unit))
        for name, value in zip(shape.values, row.values, strict=True)
    ]


def _figure(value: Any, unit: str) -> str:
    if value.is_nan():
        return gettext("not known")
    figure = FIGURES.plain(value.normalize() if value else value)
    return with_unit(figure, unit) if unit else figure


def place_query(row: Row) -> str:
    """The place of a row, as addresses name it."""
    place = {"key": list(row.key), "over": f"{row.over_mm:f}", "upto": f"{row.upto_mm:f}"}
    return urlencode(place, doseq=True)


def columns_of(table: str, site: str) -> Columns:
    """What a list of rows shows: its key, its sizes, its values, where from and how sure."""
    names = SHAPES[table].values

    def page(row: Row) -> str:
        return f"{reverse('table-row', args=[table])}?{place_query(row)}{site.replace('?', '&')}"

    def value(nth: int) -> Column:
        caption = gettext(VALUES[names[nth]])
        return Column(caption, lambda row: value_words(row)[nth][1], f"value{nth}", number=True)

    options = [
        (CONFIRMED, gettext("confirmed")),
        (UNCONFIRMED, gettext("unconfirmed")),
        (OWN, gettext("own copy")),
    ]
    return Columns(
        columns=(
            Column(gettext("of"), lambda r: key_in_words(list(r.key)), "key", href=page, strong=True),
            Column(gettext("sizes over…up to"), _sizes, "size", number=True),
            *(value(nth) for nth in range(len(names))),
            Column(gettext("standard"), lambda r: r.cited, "standard"),
            Column(gettext("stands"), standing_words, "stands", mark=_mark),
        ),
        searched=(),
        default=(),
        choices=(Choice("stands", gettext("stands"), "stands_key", options),),
    )


def _sizes(row: Row) -> str:
    return size_words(row.over_mm, row.upto_mm)


def _mark(row: Row) -> str:
    return "unconfirmed" if standing(row) == UNCONFIRMED else ""


def _value(nth: int, row: Row) -> tuple[bool, Any]:
    """Values in their order, what is not known last."""
    value = row.values[nth]
    return value.is_nan(), 0 if value.is_nan() else value


KEYS: Keys = {
    "key": lambda row: row.key,
    "size": lambda row: row.upto_mm,
    "standard": lambda row: row.cited,
    "stands": standing_words,
    "stands_key": standing,
    **{f"value{nth}": partial(_value, nth) for nth in range(4)},
}


def beside(row: Row, there: Row | None) -> Sequence[tuple[str, str, str]]:
    """Each value by its name: as it stands now, and as proposed."""
    now: Iterable[str] = [gettext("none")] * len(row.values)
    if there is not None:
        now = [value for _name, value in value_words(there)]
    return [(name, old, new) for (name, new), old in zip(value_words(row), now, strict=True)]
