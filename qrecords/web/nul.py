"""No NUL: a character that no person types and that not every database stores is refused at the door."""

import re
from collections.abc import Callable, Iterable

from django.conf import settings
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.utils.translation import gettext

NUL = "\0"
ESCAPED = re.compile(rb"(?<!\\)(?:\\\\)*\\u0000")
"""The escape of RFC 8259 section 7; after an even number of backslashes it only looks like it."""


def refuse_nul(get_response: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware: 400 if address, query string, cookies, form fields or a JSON body hold the character."""

    def refusing(request: HttpRequest) -> HttpResponse:
        return _refusal(request) if _holds_nul(request) else get_response(request)

    return refusing


def _holds_nul(request: HttpRequest) -> bool:
    if any(NUL in text for text in (request.path_info, *_texts(request.GET.lists()))):
        return True
    if any(NUL in text for text in request.COOKIES.values()):
        return True
    if _is_api(request):
        return ESCAPED.search(_json_body(request)) is not None
    return any(NUL in text for text in _texts(request.POST.lists()))


def _texts(lists: Iterable[tuple[str, list[str]]]) -> Iterable[str]:
    for name, values in lists:
        yield name
        yield from values


def _json_body(request: HttpRequest) -> bytes:
    """The body of a JSON request; nothing of one over the bound, which is refused for its length later."""
    length = request.META.get("CONTENT_LENGTH") or "0"
    bound = settings.DATA_UPLOAD_MAX_MEMORY_SIZE or 0
    if "json" not in (request.content_type or "") or not length.isdecimal() or int(length) > bound:
        return b""
    return request.body.replace(b"\0", b"")  # so that UTF-16 reads like UTF-8


def _is_api(request: HttpRequest) -> bool:
    return request.path_info.startswith("/api/")


def _refusal(request: HttpRequest) -> HttpResponse:
    words = gettext("A NUL character cannot be recorded: take it out and send again.")
    if not _is_api(request):
        return HttpResponse(words, status=400, content_type="text/plain; charset=utf-8")
    document = {
        "type": "urn:qrecords:malformed",
        "title": "Bad Request",
        "status": 400,
        "detail": words,
        "code": "malformed",
        "facts": {},
    }
    return JsonResponse(document, status=400, content_type="application/problem+json")
