"""The certificate file that comes with the form of a calibration."""

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest
from django.utils.translation import gettext

from qrecords.evidence.errors import FileRefusedError
from qrecords.evidence.intake import TakenIn, take_in_paper
from qrecords.web.registers.asking import Ask, WrongFields, wrong

FIELD = "certificate_file"


def certificate_ask() -> Ask:
    return Ask(FIELD, gettext("certificate, the file"), "file", hint=gettext("a PDF or a photograph"))


def certificate_sent(request: HttpRequest) -> TakenIn | None:
    """The file that came, kept; WrongFields where it is no paper that can be kept."""
    file = request.FILES.get(FIELD)
    if file is None:
        return None
    try:
        return take_in_paper(file.chunks())
    except FileRefusedError as error:
        told = wrong(str(file.name), gettext("a whole PDF without a password, or a photograph, up to 10 MB"))
        raise WrongFields({FIELD: told}) from error


def file_named(
    taken: TakenIn | None, document: Mapping[str, Any], standing: Mapping[str, Any] | None
) -> dict[str, str]:
    """The file that a version names: what came now, else that of the same certificate before it."""
    if taken is not None:
        return {FIELD: taken.sha256}
    known = standing or {}
    same = known.get(FIELD) and known.get("certificate") == document.get("certificate")
    return {FIELD: str(known[FIELD])} if same else {}
