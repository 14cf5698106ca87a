"""Lists that go on: newest first, continued after a named row, with a fixed number of queries."""

import uuid
from collections.abc import Sequence
from typing import Any, TypeVar

from django.db.models import Model, Q, QuerySet
from django.utils.http import urlencode
from rest_framework import serializers
from rest_framework.request import Request

from qrecords.api.errors import UnknownAddressError
from qrecords.api.fields import Answer, Body

Row = TypeVar("Row", bound=Model)
LAST = 2**53


class AfterRow(Body):
    """Where a list goes on whose rows have numbers."""

    after = serializers.IntegerField(
        required=False,
        min_value=0,
        max_value=LAST,
        error_messages=dict.fromkeys(
            ("invalid", "min_value", "max_value", "max_string_length"), f"a whole number, 0…{LAST}"
        ),
    )


def after(
    rows: QuerySet[Row], moment: str, reachable: QuerySet[Row], last: uuid.UUID | None
) -> QuerySet[Row]:
    """The rows that come after `last`, ordered by a moment (newest first) and id. One query more for `last`;
    UnknownAddressError if it is not among the reachable."""
    if last is None:
        return rows
    at = reachable.filter(pk=last).values_list(moment, flat=True).first()
    if at is None:
        raise UnknownAddressError("row to go on after", last)
    return rows.filter(Q(**{f"{moment}__lt": at}) | Q(**{moment: at, "pk__lt": last}))


def page(request: Request, answer: type[Answer], found: Sequence[Any], size: int) -> dict[str, Any]:
    """One page from up to `size` + 1 rows: the one too many says that there is more."""
    shown, more = found[:size], len(found) > size
    asked = {key: value for key, value in request.query_params.items() if key != "after"}
    query = urlencode({**asked, "after": shown[-1].pk}) if more else ""
    return {
        "results": answer(shown, many=True).data,
        "next": f"{request.path}?{query}" if more else None,
    }
