"""Reading request bodies: JSON within a bound, and photographs as a stream that nobody holds in memory."""

import json
from collections.abc import Mapping
from typing import IO, Any

from django.conf import settings
from rest_framework.exceptions import ParseError
from rest_framework.parsers import BaseParser

from qrecords.api.errors import TooLargeError

CHUNK_BYTES = 65_536


class JsonBody(BaseParser):
    """JSON in UTF-8, no longer than DATA_UPLOAD_MAX_MEMORY_SIZE, without what no record can hold."""

    media_type = "application/json"

    def parse(
        self, stream: IO[Any], media_type: str | None = None, context: Mapping[str, Any] | None = None
    ) -> Any:
        limit = settings.DATA_UPLOAD_MAX_MEMORY_SIZE
        raw = stream.read(limit + 1)
        if len(raw) > limit:
            raise TooLargeError(limit)
        try:
            value = json.loads(raw.decode(), parse_constant=_no_constant)
            # Half a surrogate pair has no UTF-8, a null character no place in a database column.
            whole = json.dumps(value, ensure_ascii=False).encode()
        except (ValueError, RecursionError) as error:
            raise ParseError(f"no JSON in UTF-8: {str(error)[:120]}") from error
        if b"\\u0000" in whole:
            raise ParseError("a text holds a null character")
        return value


def _no_constant(name: str) -> object:
    raise ValueError(f"{name} is no number")


class PhotoBody(BaseParser):
    """Any bytes, chunk by chunk: what they are is decided by decoding them, never by their type header."""

    media_type = "*/*"

    def parse(
        self, stream: IO[Any], media_type: str | None = None, context: Mapping[str, Any] | None = None
    ) -> Any:
        return iter(lambda: stream.read(CHUNK_BYTES), b"")
