"""Bytes that came with a form: taken in, or filed as refused, whatever they are."""

import hashlib
from collections.abc import Callable, Iterable
from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest

from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.intake import TakenIn
from qrecords.mountings.actions.attaching import refuse_file
from qrecords.mountings.models import Mounting
from qrecords.web.door import acting_of


def taken_in(
    request: HttpRequest,
    mounting: Mounting,
    file: "UploadedFile[Any]",
    take: Callable[[Iterable[bytes]], TakenIn],
) -> TakenIn:
    """The file as `take` kept it, read and decoded before any transaction. What it refuses is filed by its
    digest first; FileRefusedError says why."""
    try:
        return take(file.chunks())
    except FileRefusedError as error:
        file.seek(0)
        digest = hashlib.sha256()
        for chunk in file.chunks():
            digest.update(chunk)
        refuse_file(acting=acting_of(request), mounting=mounting, sha256=digest.hexdigest(), error=error)
        raise
