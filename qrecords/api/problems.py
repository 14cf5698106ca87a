"""Errors as problem documents (RFC 9457)."""

import logging
from collections.abc import Mapping, Sequence
from http import HTTPStatus
from typing import Any

from django.core.exceptions import PermissionDenied as DjangoDenied
from django.db import OperationalError
from django.http import Http404
from rest_framework import exceptions
from rest_framework.response import Response

from qrecords.api.errors import ApiError
from qrecords.engineering.errors import EngineeringError
from qrecords.evidence.errors import FileRefusedError
from qrecords.ledger.errors import LedgerError
from qrecords.mountings.errors import FieldsError, MountingError, RefusedError
from qrecords.people.errors import PeopleError
from qrecords.proof.errors import CanonicalError, IdentifierError
from qrecords.refusals import status_of_code
from qrecords.signoff.errors import SignoffError
from qrecords.steps.errors import FieldError, SlipError, StepError
from qrecords.workshop.errors import WorkshopError

LOG = logging.getLogger("qrecords.api")
OURS = (
    ApiError,
    MountingError,
    SignoffError,
    PeopleError,
    WorkshopError,
    StepError,
    EngineeringError,
    LedgerError,
    FileRefusedError,
    IdentifierError,
)
CONTENT_TYPE = "application/problem+json"


def problem(error: Exception, context: Mapping[str, Any]) -> Response:
    """The answer to an error of a call."""
    document = document_of(error)
    status = document["status"]
    response = Response(document, status=status, content_type=CONTENT_TYPE)
    if isinstance(error, exceptions.APIException) and (header := getattr(error, "auth_header", "")):
        response["WWW-Authenticate"] = header
    if status == HTTPStatus.TOO_MANY_REQUESTS or status == HTTPStatus.SERVICE_UNAVAILABLE:
        response["Retry-After"] = str(getattr(error, "wait_s", 1))
    return response


def document_of(error: Exception) -> dict[str, Any]:
    """The problem document of any error; what nobody foresaw is logged and said without a trace."""
    if isinstance(error, OURS):
        return _ours(error)
    if isinstance(error, CanonicalError):
        return _document("malformed", str(error))
    if isinstance(error, Http404):
        return _document("not-found", "nothing here")
    if isinstance(error, exceptions.ValidationError):
        return _document("malformed", "the request is not as the document says", fields=_places(error.detail))
    if isinstance(error, exceptions.APIException):
        return _framework(error)
    if isinstance(error, DjangoDenied):
        return _document("csrf", "the session's CSRF token is missing or wrong", status=403)
    if isinstance(error, OperationalError):
        LOG.warning("the database was busy: %s", error)
        return _document("busy", "the record is busy; send the same again")
    LOG.exception("unforeseen error", exc_info=error)
    return _document("internal", "something went wrong here; nothing was recorded", status=500)


def _document(
    code: str,
    detail: str,
    facts: Mapping[str, Any] | None = None,
    *,
    status: int | None = None,
    fields: Any = None,
) -> dict[str, Any]:
    status = status or status_of_code(code)
    document: dict[str, Any] = {
        "type": f"urn:qrecords:{code}",
        "title": HTTPStatus(status).phrase,
        "status": status,
        "detail": detail[:1000],
        "code": code,
        "facts": {name: _plain(value) for name, value in (facts or {}).items()},
    }
    return document if fields is None else document | {"fields": fields}


def _ours(error: Any) -> dict[str, Any]:
    code = str(error.code).replace("_", "-")
    match error:
        case FieldsError():
            fields = [_field(key, one) for key, one in error.errors.items()]
            return _document(code, str(error), fields=fields)
        case FieldError():
            return _document(code, str(error), fields=[_field(error.field, error)])
        case RefusedError():
            return _document(code, str(error), {"act": error.act, **error.refusal.facts})
        case FileRefusedError():
            return _document(code, str(error), error.facts)
    facts = {
        name: value for name, value in vars(error).items() if not name.startswith("_") and name != "code"
    }
    return _document(code, str(error), facts)


def _field(key: str, error: FieldError) -> dict[str, str]:
    """Which field, what was typed, in which unit, and what would be right."""
    return {
        "field": key,
        "code": error.code,
        "typed": error.typed,
        "unit": error.unit,
        "allowed": error.allowed,
        "why": error.why,
        "meant": error.meant if isinstance(error, SlipError) else "",
        "meant_unit": error.meant_unit if isinstance(error, SlipError) else "",
    }


def _places(detail: Any, place: str = "") -> list[dict[str, str]]:
    """Each fault of the request's form with its place in it."""
    if isinstance(detail, Mapping):
        parts = [_places(item, f"{place}.{key}" if place else str(key)) for key, item in detail.items()]
    elif isinstance(detail, Sequence) and not isinstance(detail, str):
        nested = any(isinstance(item, Mapping | list) for item in detail)
        parts = [
            _places(item, f"{place}[{at}]" if nested else place) for at, item in enumerate(detail) if item
        ]
    else:
        return [{"field": place, "code": "malformed", "why": str(detail)[:200]}]
    return [fault for part in parts for fault in part]


def _framework(error: exceptions.APIException) -> dict[str, Any]:
    codes = {
        exceptions.ParseError: "malformed",
        exceptions.NotAuthenticated: "not-signed-in",
        exceptions.AuthenticationFailed: "token",
        exceptions.MethodNotAllowed: "method",
        exceptions.UnsupportedMediaType: "media-type",
        exceptions.PermissionDenied: "csrf",
    }
    code = codes.get(type(error), "not-found" if error.status_code == HTTPStatus.NOT_FOUND else "refused")
    return _document(code, str(error.detail), status=error.status_code)


def _plain(value: Any) -> Any:
    """A fact as JSON holds it, never longer than is worth reading."""
    if value is None or isinstance(value, bool | int):
        return value
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [_plain(item) for item in value]
    return str(value)[:500]
