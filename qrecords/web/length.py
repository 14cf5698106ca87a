"""How long a form may be: asked by what the request says of itself, before a byte of it is read or kept."""

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

CHUNK_BYTES = 65_536
READ_ON_BYTES = 30_000_000
"""So much of what is refused is read and dropped, for browsers show an answer only to what they have sent to
its end; a little more than one photo of the largest size."""


def refuse_long(get_response: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware: 413 with words for a form longer than its sender may send. The API bounds its own bodies,
    after it knows who calls."""

    def refusing(request: HttpRequest) -> HttpResponse:
        sent = _length(request)
        if request.path_info.startswith("/api/") or sent <= settings.LONGEST_FORM or sent <= _most(request):
            return get_response(request)
        return _refusal(request, sent)

    return refusing


def _length(request: HttpRequest) -> int:
    """What the request says; one that says nothing has no body, so the server sees to it."""
    told = request.META.get("CONTENT_LENGTH") or "0"
    return int(told) if told.isdecimal() else 0


def _most(request: HttpRequest) -> int:
    """Photos come in forms of several parts, from people who are signed in."""
    with_photos = request.content_type == "multipart/form-data"
    return (
        settings.LONGEST_PHOTO_FORM
        if with_photos and request.user.is_authenticated
        else settings.LONGEST_FORM
    )


def _refusal(request: HttpRequest, sent: int) -> HttpResponse:
    most = _most(request)
    for _ in range(0, min(sent, READ_ON_BYTES), CHUNK_BYTES):
        request.read(CHUNK_BYTES)
    megabytes = {"sent": -(-sent // 1_000_000), "most": most // 1_000_000}
    return render(request, "too_long.html", megabytes, status=413)
