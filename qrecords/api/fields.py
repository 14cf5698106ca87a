"""Fields and bodies of requests: strict, so that nothing a client sends is silently dropped."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.utils.dateparse import parse_datetime
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from qrecords.engineering.errors import shortened

LONGEST_TEXT = 4000
FIRST_YEAR, LAST_YEAR = 2000, 2100


class Text(serializers.CharField):
    """Text as it was typed, untouched: a JSON number is refused, its digits are not the typist's."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**({"max_length": LONGEST_TEXT, "trim_whitespace": False} | options))

    def to_internal_value(self, data: Any) -> str:
        if not isinstance(data, str):
            self.fail("invalid")
        return super().to_internal_value(data)


class Flag(serializers.BooleanField):
    """true or false, not a word for it."""

    def to_internal_value(self, data: Any) -> bool:
        if not isinstance(data, bool):
            self.fail("invalid", input=data)
        return data


class Whole(serializers.IntegerField):
    """A whole number as JSON writes it, from `least` to `most`; what it may be is said in `unit`."""

    def __init__(self, *, least: int, most: int, unit: str = "", **options: Any) -> None:
        super().__init__(min_value=least, max_value=most, **options)
        self.least, self.most, self.unit = least, most, unit

    def to_internal_value(self, data: Any) -> int:
        is_whole = isinstance(data, int) and not isinstance(data, bool)
        if not is_whole or not self.least <= data <= self.most:
            allowed = f"a whole number, {self.least}…{self.most} {self.unit}".rstrip()
            raise serializers.ValidationError(f"{shortened(str(data))!r} is not possible; allowed: {allowed}")
        return int(data)


@extend_schema_field(OpenApiTypes.INT)
class AsSent(serializers.Field[int | str, Any, Any, Any]):
    """A whole number of a document. What is none goes on as text: the reader says what it may be."""

    def to_internal_value(self, data: Any) -> int | str:
        if isinstance(data, bool) or not isinstance(data, int | float | str):
            raise serializers.ValidationError("a whole number")
        return data if isinstance(data, int) else str(data)


class AsTyped(Text):
    """A number as the drawing writes it; the document's reader says what it may be."""

    def __init__(self, **options: Any) -> None:
        super().__init__(**({"max_length": None, "allow_blank": True} | options))


@extend_schema_field(OpenApiTypes.DATETIME)
class Moment(serializers.Field[datetime, str, str, Any]):
    """A moment with its zone, ISO 8601; a device whose clock is far off leaves it out."""

    default_error_messages = {"invalid": "a moment with its zone, as 2026-03-04T05:06:07.089Z"}

    def to_internal_value(self, data: Any) -> datetime:
        try:
            told = parse_datetime(data) if isinstance(data, str) else None
        except ValueError:
            told = None
        if told is None or told.tzinfo is None or not FIRST_YEAR <= told.year < LAST_YEAR:
            self.fail("invalid")
        return told

    def to_representation(self, value: datetime) -> str:
        return value.isoformat()


class Body(serializers.Serializer[Any]):
    """What a request may say. A key that is not known is refused: it may be a misspelt one."""

    def to_internal_value(self, data: Any) -> Any:
        if isinstance(data, Mapping):
            unknown = {str(key)[:60]: ["not known here"] for key in data if key not in self.fields}
            if unknown:
                raise serializers.ValidationError(unknown)
        return super().to_internal_value(data)


class Answer(serializers.Serializer[Any]):
    """What a response says. Whatever is written here goes out, nothing else."""
