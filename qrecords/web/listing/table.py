"""A list as a page shows it: columns that can be sorted, one word to filter by, choices, pages, CSV.

A page names its `Columns` once; `listing` reads the address, asks for one page of rows and a count, and gives
what `registers/list.html` shows. The address holds everything, so it can be kept, sent and printed.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import or_
from typing import Any
from urllib.parse import urlencode

from django.db.models import Q, QuerySet
from django.db.models.expressions import OrderBy
from django.http import HttpRequest, HttpResponse

from qrecords.web.listing.export import csv_response

PAGE = 50


@dataclass(frozen=True)
class Column:
    """One column: `text` of a row; `order` what it is sorted by ('' cannot be sorted); `href` of a row."""

    head: str
    text: Callable[[Any], str]
    order: str = ""
    href: Callable[[Any], str] | None = None
    number: bool = False
    strong: bool = False
    mark: Callable[[Any], str] | None = None
    """The class of a cell that needs somebody: `late`, `soon` or ''."""
    filed: Callable[[Any], str] | None = None
    """What a file has where the page words it: a day that sorts."""


@dataclass(frozen=True)
class Choice:
    """A filter with its few words: `name` in the address, `field` it filters."""

    name: str
    caption: str
    field: str
    options: Sequence[tuple[str, str]]


@dataclass(frozen=True)
class Columns:
    """What a list shows and how it may be asked. `searched` are the fields the filter word may stand in;
    `default` is the order without a wish, a unique field last so that pages never overlap."""

    columns: Sequence[Column]
    searched: Sequence[str]
    default: Sequence[str | OrderBy]
    choices: Sequence[Choice] = ()


@dataclass(frozen=True)
class Head:
    """A column's head: the address that sorts by it, and how it is sorted now: '', ascending, descending."""

    text: str
    href: str
    sorted: str
    number: bool


@dataclass(frozen=True)
class Cell:
    """One cell; `head` is its column's, for a page too narrow for columns."""

    text: str
    head: str
    href: str = ""
    number: bool = False
    strong: bool = False
    mark: str = ""

    @property
    def brief(self) -> bool:
        """A day, a work order, a designation: short enough never to be broken."""
        return len(self.text) <= BRIEF


BRIEF = 13


@dataclass(frozen=True)
class Chosen:
    """A choice with what stands in the address."""

    choice: Choice
    value: str


@dataclass(frozen=True)
class Page:
    """One page of rows: the numbers of the first and last shown, of `total`, and where the others are."""

    rows: Sequence[Any]
    total: int
    first: int
    last: int
    export: str
    earlier: str = ""
    later: str = ""


@dataclass(frozen=True)
class Listing:
    """One page of a list, ready to show, with the wishes it answers."""

    page: Page
    heads: tuple[Head, ...]
    rows: tuple[tuple[Cell, ...], ...]
    q: str
    sort: str
    choices: tuple[Chosen, ...]


def ordered(request: HttpRequest, columns: Columns, rows: "QuerySet[Any]") -> "QuerySet[Any]":
    """The rows as filtered and sorted by the address; an unknown wish is no wish."""
    word = request.GET.get("q", "").strip()[:60]
    if word and columns.searched:
        rows = rows.filter(reduce(or_, (Q(**{f"{field}__icontains": word}) for field in columns.searched)))
    for choice in columns.choices:
        value = request.GET.get(choice.name, "")
        if value in {option for option, _words in choice.options}:
            rows = rows.filter(**{choice.field: value})
    wish = request.GET.get("sort", "")
    known = {column.order for column in columns.columns if column.order}
    order = [wish] if wish.removeprefix("-") in known else []
    return rows.order_by(*order, *columns.default)


def page_of(request: HttpRequest, rows: "QuerySet[Any]") -> Page:
    """The page that the address asks for; two queries."""
    total = rows.count()
    number = number_of(request, total)
    first = (number - 1) * PAGE
    shown = list(rows[first : first + PAGE])
    return Page(
        rows=shown,
        total=total,
        first=first + 1 if shown else 0,
        last=first + len(shown),
        export=address(request, {"as": "csv", "page": ""}),
        earlier=address(request, {"page": str(number - 1)}) if number > 1 else "",
        later=address(request, {"page": str(number + 1)}) if first + PAGE < total else "",
    )


def listing(request: HttpRequest, columns: Columns, rows: "QuerySet[Any]") -> Listing:
    """One page of the list; two queries."""
    page = page_of(request, ordered(request, columns, rows))
    return Listing(
        page=page,
        heads=tuple(head_of(request, column) for column in columns.columns),
        rows=tuple(tuple(cell_of(column, row) for column in columns.columns) for row in page.rows),
        q=request.GET.get("q", "").strip()[:60],
        sort=request.GET.get("sort", ""),
        choices=tuple(Chosen(choice, request.GET.get(choice.name, "")) for choice in columns.choices),
    )


def exported(request: HttpRequest, columns: Columns, rows: "QuerySet[Any]", name: str) -> HttpResponse | None:
    """The whole filtered list as CSV where the address asks for it, else None."""
    if request.GET.get("as") != "csv":
        return None
    return csv_response(name, _csv(columns, ordered(request, columns, rows)))


def _csv(columns: Columns, rows: "QuerySet[Any]") -> Iterator[list[str]]:
    yield [column.head for column in columns.columns]
    for row in rows.iterator(500):
        yield [(column.filed or column.text)(row) for column in columns.columns]


def address(request: HttpRequest, changes: Mapping[str, str]) -> str:
    """This page's address with some of its wishes changed; an empty one is left out."""
    wishes = {name: value for name, value in request.GET.items() if name != "as"} | dict(changes)
    return "?" + urlencode({name: value for name, value in wishes.items() if value})


def number_of(request: HttpRequest, total: int) -> int:
    """The page asked for; the last one where there are not so many."""
    asked = request.GET.get("page", "1")
    number = int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 7 else 1
    return min(max(number, 1), max(-(-total // PAGE), 1))


def head_of(request: HttpRequest, column: Column) -> Head:
    wish = request.GET.get("sort", "")
    now = "" if not column.order or wish.removeprefix("-") != column.order else wish
    turned = f"-{column.order}" if now == column.order else column.order
    return Head(
        text=column.head,
        href=address(request, {"sort": turned, "page": ""}) if column.order else "",
        sorted="" if not now else "descending" if now.startswith("-") else "ascending",
        number=column.number,
    )


def cell_of(column: Column, row: Any) -> Cell:
    return Cell(
        text=column.text(row),
        head=column.head,
        href=column.href(row) if column.href else "",
        number=column.number,
        strong=column.strong,
        mark=column.mark(row) if column.mark else "",
    )
