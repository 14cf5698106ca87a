"""A list whose rows are held in memory, as the tables of the standards are, shown as every other list is."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from django.http import HttpRequest, HttpResponse

from qrecords.web.listing.export import csv_response
from qrecords.web.listing.table import (
    PAGE,
    Chosen,
    Columns,
    Listing,
    Page,
    address,
    cell_of,
    head_of,
    number_of,
)

Keys = Mapping[str, Callable[[Any], Any]]
"""By the name of a column's order or a choice's field: what a row is sorted or chosen by."""


def held(request: HttpRequest, columns: Columns, rows: Sequence[Any], keys: Keys) -> list[Any]:
    """The rows as filtered and sorted by the address; an unknown wish is no wish."""
    word = request.GET.get("q", "").strip()[:60].casefold()
    found = [row for row in rows if word in " ".join(c.text(row) for c in columns.columns).casefold()]
    for choice in columns.choices:
        value = request.GET.get(choice.name, "")
        if value in {option for option, _words in choice.options}:
            found = [row for row in found if keys[choice.field](row) == value]
    wish = request.GET.get("sort", "")
    if wish.removeprefix("-") in {column.order for column in columns.columns if column.order}:
        found.sort(key=keys[wish.removeprefix("-")], reverse=wish.startswith("-"))
    return found


def held_listing(request: HttpRequest, columns: Columns, rows: Sequence[Any], keys: Keys) -> Listing:
    """One page of the list; no query."""
    found = held(request, columns, rows, keys)
    number = number_of(request, len(found))
    first = (number - 1) * PAGE
    shown = found[first : first + PAGE]
    page = Page(
        rows=shown,
        total=len(found),
        first=first + 1 if shown else 0,
        last=first + len(shown),
        export=address(request, {"as": "csv", "page": ""}),
        earlier=address(request, {"page": str(number - 1)}) if number > 1 else "",
        later=address(request, {"page": str(number + 1)}) if first + PAGE < len(found) else "",
    )
    return Listing(
        page=page,
        heads=tuple(head_of(request, column) for column in columns.columns),
        rows=tuple(tuple(cell_of(column, row) for column in columns.columns) for row in shown),
        q=request.GET.get("q", "").strip()[:60],
        sort=request.GET.get("sort", ""),
        choices=tuple(Chosen(choice, request.GET.get(choice.name, "")) for choice in columns.choices),
    )


def held_export(
    request: HttpRequest, columns: Columns, rows: Sequence[Any], keys: Keys, name: str
) -> HttpResponse | None:
    """The whole filtered list as CSV where the address asks for it, else None."""
    if request.GET.get("as") != "csv":
        return None
    found = held(request, columns, rows, keys)
    lines = [[(column.filed or column.text)(row) for column in columns.columns] for row in found]
    return csv_response(name, [[column.head for column in columns.columns], *lines])
