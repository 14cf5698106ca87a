"""A mounting in the interchange form, and the published schemas of that form and of the answer to it."""

import uuid
from collections.abc import Callable, Mapping
from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api.door import Resource, person_of
from qrecords.api.errors import UnknownAddressError
from qrecords.api.fields import Answer
from qrecords.api.operations import Operation
from qrecords.api.sealing import sealed_on
from qrecords.api.views.mountings import mounting_of
from qrecords.mountings.errors import SealedError
from qrecords.mountings.queries import case_with_document
from qrecords.people.permissions import Action
from qrecords.steps.interchange import answer_form, form

SCHEMAS: Mapping[str, Callable[[], dict[str, Any]]] = {
    form.NAME: form.case_schema,
    answer_form.NAME: answer_form.answer_schema,
}


class InterchangeForm(Answer):
    """The interchange form of a case, as the JSON Schema at /api/v1/schemas/mounting-case/ has it: what
    `manage.py judge` judges without a database. The answer to it is that of /api/v1/schemas/judgement/."""

    form = serializers.CharField()
    version = serializers.IntegerField()
    procedure = serializers.DictField()
    tables = serializers.DictField()
    entries = serializers.ListField(child=serializers.DictField())
    files = serializers.DictField()


class CaseDocument(Resource):
    operations = {"GET": Operation("read the case document", (Action.READ,), InterchangeForm)}

    def get(self, request: Request, mounting: uuid.UUID) -> Response:
        """Everything said of a mounting, entry by entry as it is stored, with its procedure and tables:
        judged elsewhere it gives the same findings. Refused (*sealed*) while the caller has something to
        read for himself first."""
        found = mounting_of(request, mounting)
        case, document = case_with_document(found)
        sealed, reader = sealed_on(request, found, case), str(person_of(request).id)
        if any(sealed.entry(entry["kind"], entry, reader) for entry in document["entries"]):
            raise SealedError(found.id)
        return Response(document)


class AnySchema(Answer):
    """A JSON Schema (2020-12)."""


class Schema(Resource):
    authentication_classes = []
    operations = {"GET": Operation("read a schema", (Action.PUBLIC,), AnySchema)}

    def get(self, request: Request, name: str) -> Response:
        """The JSON Schema of the case document (*mounting-case*) or of the answer to it (*judgement*)."""
        if name not in SCHEMAS:
            raise UnknownAddressError("schema", name)
        return Response(SCHEMAS[name]())
