"""Registers filled from a sheet: what its rows would do, and taking in exactly that file."""

import base64
import binascii
import uuid
from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api.door import Resource, acting_of, reach_of, site_of
from qrecords.api.facts import SHA256
from qrecords.api.fields import Answer, Body, Text
from qrecords.api.operations import Operation, Operations
from qrecords.api.registers import AtSite
from qrecords.ledger.errors import DifferentContentError
from qrecords.ledger.models import Entry
from qrecords.people.errors import NotAllowedError
from qrecords.people.permissions import Action
from qrecords.workshop.importing.taking_in import KINDS, Kind, Told, dry_run, take_in
from qrecords.workshop.importing.text import MOST_BYTES

LONGEST = MOST_BYTES * 4 // 3 + 4


class Base64(Text):
    """The bytes of the file in base 64."""

    def to_internal_value(self, data: Any) -> Any:
        try:
            return base64.b64decode(super().to_internal_value(data), validate=True)
        except (binascii.Error, ValueError):
            raise serializers.ValidationError("bytes in base 64") from None


class LookBody(Body):
    site = serializers.UUIDField(required=False)
    content = Base64(max_length=LONGEST)


class TakeBody(AtSite):
    """`sha256` of the file whose rows were told."""

    content = Base64(max_length=LONGEST)
    sha256 = serializers.RegexField(SHA256)


class WrongCell(Answer):
    field = serializers.CharField()
    value = serializers.CharField(allow_blank=True)
    unit = serializers.CharField(allow_blank=True)
    allowed = serializers.CharField()


class DifferingCell(Answer):
    field = serializers.CharField()
    here = serializers.CharField(allow_blank=True)
    file = serializers.CharField()


class RowFate(Answer):
    """`first`: of a row that stands twice in the file, the line that says the same; else 0."""

    line = serializers.IntegerField(source="row.line")
    fate = serializers.CharField(source="what")
    wrong = WrongCell(many=True)
    differs = DifferingCell(many=True)
    first = serializers.IntegerField()


class SheetFates(Answer):
    sha256 = serializers.CharField()
    counts = serializers.DictField(child=serializers.IntegerField())
    rows = RowFate(many=True)


def _answer(told: Told) -> Response:
    answer = {"sha256": told.sheet.sha256, "counts": told.counts, "rows": told.fates}
    return Response(SheetFates(answer).data)


class _OfKind(Resource):
    kind: Kind | None = None
    take = False

    def own_operations(self) -> Operations:
        kind = self.kind
        if kind is None:
            return {}
        verb = "take in" if self.take else "look at a sheet of"
        body = TakeBody if self.take else LookBody
        return {"POST": Operation(f"{verb} {kind.name}", (kind.right,), SheetFates, body)}

    @property
    def right(self) -> Action:
        assert self.kind is not None  # noqa: S101 - every address names its kind
        return self.kind.right


class LookAtSheet(_OfKind):
    def post(self, request: Request) -> Response:
        """What each row would do. Nothing is written."""
        assert self.kind is not None  # noqa: S101 - every address names its kind
        said = self.said(request)
        site, where = site_of(request, self.right, said), reach_of(request, self.right)
        if not where.everywhere and site not in where.sites:
            raise NotAllowedError(self.right, site)
        return _answer(dry_run(self.kind, said["content"], site))


class TakeInSheet(_OfKind):
    take = True

    def post(self, request: Request) -> Response:
        """Write what is new in exactly the file whose rows were told; sent again, nothing comes twice."""
        assert self.kind is not None  # noqa: S101 - every address names its kind
        said = self.said(request)
        _refuse_used(said["entry_id"])
        told = take_in(
            acting=acting_of(request, said),
            kind=self.kind,
            site=site_of(request, self.right, said),
            import_id=said["entry_id"],
            raw=said["content"],
            sha256=said["sha256"],
        )
        return _answer(told)


def _refuse_used(entry_id: uuid.UUID) -> None:
    """An id that was used for anything else is no import's."""
    kind = Entry.objects.filter(id=entry_id).values_list("kind", flat=True).first()
    if kind not in (None, "import"):
        raise DifferentContentError(entry_id)


BY_API = {name.replace(" ", "-"): KINDS[name] for name in ("work orders", "bearings", "gauges")}
"""People are enrolled on their pages, by a person who is there."""
