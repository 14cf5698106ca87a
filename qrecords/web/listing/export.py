"""Rows as CSV, streamed: memory does not grow with the list."""

from collections.abc import Iterable, Sequence
from typing import cast

from django.http import HttpResponse, StreamingHttpResponse

from qrecords.tracing.everything.cells import lines


def csv_response(name: str, rows: Iterable[Sequence[str]]) -> HttpResponse:
    """A download of this name; the first row is the head."""
    answer = StreamingHttpResponse(lines(rows), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{name}.csv"'
    return cast(HttpResponse, answer)  # views promise an HttpResponse; a streamed one answers in its place
