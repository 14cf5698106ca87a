"""The OpenAPI document, made from the operations: their bodies, answers, and the errors all of them share."""

from inspect import cleandoc
from typing import Any

from drf_spectacular.openapi import AutoSchema
from drf_spectacular.utils import OpenApiParameter, OpenApiResponse
from rest_framework import serializers

from qrecords.api.fields import Answer
from qrecords.api.operations import Operation


class Fault(Answer):
    """One field that gave no answer: what was typed, in which unit, and what would be right."""

    field = serializers.CharField()
    code = serializers.CharField()
    why = serializers.CharField(allow_blank=True)
    typed = serializers.CharField(required=False)
    unit = serializers.CharField(required=False)
    allowed = serializers.CharField(required=False)
    meant = serializers.CharField(required=False)
    meant_unit = serializers.CharField(required=False)


class Problem(Answer):
    """RFC 9457, with a stable code and its facts."""

    type = serializers.CharField()
    title = serializers.CharField()
    status = serializers.IntegerField()
    detail = serializers.CharField()
    code = serializers.CharField()
    facts = serializers.DictField()
    fields = Fault(many=True, required=False)  # type: ignore[assignment]  # the name of RFC errors, not DRF's


ERRORS = {
    400: "The request is not as this document says.",
    401: "Nobody is signed in, or name, password or token is not valid.",
    403: "Not allowed: by role, by token, or for lack of proof or independence.",
    404: "Not here, or not within reach.",
    405: "Not possible with this address.",
    409: "It has changed, is closed, or the same id says something else.",
    413: "Too large.",
    415: "Not of a kind that is read here.",
    422: "Asked back: facts say which value, unit and range.",
    429: "Too many failed sign-ins.",
    503: "Busy: send the same again.",
}


class Described(AutoSchema):
    """An operation as the document describes it."""

    @property
    def operation(self) -> Operation:
        found: Operation = self.view.operation_of(self.method)  # type: ignore[attr-defined]  # all are Resources
        return found

    def get_operation_id(self) -> str:
        return self.operation.name.replace(" ", "_")

    def get_tags(self) -> list[str]:
        return [self.path.removeprefix("/api/v1/").split("/")[0]]

    def get_description(self) -> str:  # type: ignore[override]  # as in drf-spectacular
        return cleandoc(getattr(self.view, self.method.lower()).__doc__ or "")

    def get_summary(self) -> str:
        return self.operation.name

    def get_request_serializer(self) -> Any:
        if self.operation.takes != "application/json":
            return {(self.operation.takes): {"type": "string", "format": "binary"}}
        return self.operation.body

    def get_override_parameters(self) -> list[Any]:
        return [self.operation.query] if self.operation.query else []

    def get_filter_backends(self) -> list[Any]:
        return []

    def _is_list_view(self, serializer: Any = None) -> bool:
        return False

    def get_response_serializers(self) -> Any:
        operation = self.operation
        if operation.gives != "application/json":
            good: dict[Any, Any] = {(operation.status, operation.gives): bytes}
        elif operation.answer is None:
            good = {204: None}
        elif operation.write:
            good = {
                201: operation.answer,
                200: OpenApiResponse(operation.answer, "The same was sent before."),
            }
        else:
            good = {operation.status: operation.answer}
        bad = {
            (status, "application/problem+json"): OpenApiResponse(Problem, text)
            for status, text in ERRORS.items()
        }
        return good | bad


__all__ = ["Described", "OpenApiParameter", "Problem"]
