"""The OpenAPI document, and what is said at an address that is none."""

from functools import cache
from typing import Any, cast

from drf_spectacular.generators import SchemaGenerator
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api.door import Resource
from qrecords.api.errors import UnknownAddressError
from qrecords.api.fields import Answer
from qrecords.api.operations import Operation
from qrecords.people.permissions import Action


@cache
def openapi() -> dict[str, Any]:
    """The document of everything under /api/v1/, made once."""
    generator = SchemaGenerator(api_version="1")  # type: ignore[no-untyped-call]  # untyped library
    document = generator.get_schema(request=None, public=True)  # type: ignore[no-untyped-call]  # likewise
    return cast(dict[str, Any], document)


class AnyObject(Answer):
    """An OpenAPI 3 document."""


class OpenApi(Resource):
    authentication_classes = []
    operations = {"GET": Operation("read this document", (Action.PUBLIC,), AnyObject)}

    def get(self, request: Request) -> Response:
        """This document."""
        return Response(openapi())


class Nothing(Resource):
    """An address that is none."""

    authentication_classes = []
    schema = None  # type: ignore[assignment]  # how DRF leaves an address out of the document
    operations = {
        method: Operation("nothing", (Action.PUBLIC,)) for method in ("GET", "POST", "PUT", "DELETE")
    }

    def get(self, request: Request, rest: str) -> Response:
        raise UnknownAddressError("address", rest)

    post = put = delete = get
