"""The forms of what is asked and answered about procedures."""

from rest_framework import serializers

from qrecords.api.documents import ProcedureDocument
from qrecords.api.fields import Answer, Body, Moment, Text
from qrecords.api.registers import AtSite, Registered


class ProcedureRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    name = serializers.CharField()
    revision = serializers.CharField()
    contract = serializers.CharField(allow_blank=True, help_text="empty: the workshop's own")
    digest = serializers.CharField()
    document = serializers.DictField()
    valid_from = serializers.DateTimeField()


class InForceRow(Answer):
    id = serializers.UUIDField()
    name = serializers.CharField()
    revision = serializers.CharField()
    contract = serializers.CharField(allow_blank=True, help_text="empty: the workshop's own")
    digest = serializers.CharField()
    valid_from = serializers.DateTimeField()


class InForceRows(Answer):
    rows = InForceRow(many=True)


class FirstBody(AtSite):
    document = ProcedureDocument()
    password = Text(required=False, max_length=200)


class SiteQuery(Body):
    site = serializers.UUIDField(required=False)


class NameQuery(SiteQuery):
    name = Text(required=False, max_length=40)


class DraftBody(AtSite):
    document = ProcedureDocument()
    reason = Text(max_length=400)
    wanted_from = Moment(required=False, help_text="empty: as soon as two people have approved it")
    instead_of = serializers.UUIDField(required=False, help_text="the newest draft, which this one replaces")


class DecisionBody(Registered):
    reason = Text(required=False, max_length=400)
    password = Text(required=False, max_length=200)


class DecidedRow(Answer):
    id = serializers.UUIDField()
    what = serializers.CharField(help_text="approved, refused or withdrawn")
    by = serializers.UUIDField()
    at = serializers.DateTimeField()
    reason = serializers.CharField(allow_blank=True)


class DraftRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    name = serializers.CharField()
    revision = serializers.CharField()
    contract = serializers.CharField(allow_blank=True)
    digest = serializers.CharField()
    reason = serializers.CharField()
    by = serializers.UUIDField()
    at = serializers.DateTimeField()
    wanted_from = serializers.DateTimeField(allow_null=True)
    stands = serializers.CharField(
        help_text="draft; approved once; approved, waits for its day; in force; replaced; ended; refused; "
        "withdrawn"
    )
    acts = DecidedRow(many=True)


class DraftRows(Answer):
    rows = DraftRow(many=True)


class OneDraft(DraftRow):
    document = serializers.DictField()
    earlier = serializers.ListField(child=serializers.UUIDField(), help_text="its older drafts")


class ComparedQuery(Body):
    old = serializers.RegexField("^[0-9a-f]{64}$", help_text="SHA-256 of the document of a version")
    new = serializers.RegexField("^[0-9a-f]{64}$")


class ComparedLine(Answer):
    place = serializers.ListField(child=serializers.CharField(), help_text="as limits, house_cap_c")
    old = serializers.CharField(allow_null=True, help_text="null: said nothing")
    new = serializers.CharField(allow_null=True)
    changed = serializers.BooleanField()


class ComparedAnswer(Answer):
    lines = ComparedLine(many=True, help_text="every field of either, what changed first")


class FileAnswer(Answer):
    file = serializers.CharField(help_text="the readable text of the file")
