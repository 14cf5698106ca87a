"""The forms of what is asked and answered about the tables of the standards."""

from rest_framework import serializers

from qrecords.api.fields import Answer, AsTyped, Body, Text
from qrecords.api.forms import OWN_COPY, UNCONFIRMED, OwnRow
from qrecords.api.registers import AtSite
from qrecords.engineering.own_rows import SHAPES


class TablesQuery(Body):
    site = serializers.UUIDField(required=False)


class RowsQuery(TablesQuery):
    """Which table; its rows are given by key and size."""

    table = serializers.ChoiceField(list(SHAPES))


class TableLine(Answer):
    table = serializers.CharField()
    unit = serializers.CharField()
    key = serializers.ListField(child=serializers.CharField(), help_text="what the parts of a key are")
    values = serializers.ListField(child=serializers.CharField(), help_text="what the values of a row are")
    standards = serializers.ListField(child=serializers.CharField())
    rows = serializers.IntegerField()
    unconfirmed = serializers.IntegerField()


class TablesAnswer(Answer):
    digest = serializers.CharField(help_text="SHA-256 of the whole set: what a mounting opened now would pin")
    tables = TableLine(many=True)


class TableRowAnswer(Answer):
    key = serializers.ListField(child=serializers.CharField())
    over_mm = serializers.CharField()
    upto_mm = serializers.CharField()
    values = serializers.ListField(child=serializers.CharField(allow_blank=True))
    standard = serializers.CharField()
    edition = serializers.CharField()
    unconfirmed = serializers.ListField(child=serializers.CharField(), help_text=UNCONFIRMED)
    own_copy = OwnRow(many=True, help_text=OWN_COPY)


class RowsAnswer(Answer):
    digest = serializers.CharField()
    rows = TableRowAnswer(many=True)


class ProposedAnswer(Answer):
    id = serializers.UUIDField()
    document = serializers.DictField()
    reason = serializers.CharField()
    proposed_by = serializers.UUIDField()
    proposed_at = serializers.DateTimeField()
    stands = serializers.CharField(help_text="proposed, in force, replaced, refused or withdrawn")


class ProposedRows(Answer):
    rows = ProposedAnswer(many=True)


class RowDocument(Body):
    """A row as the site's own copy has it; numbers are text as typed, in mm and the unit of the table."""

    table = serializers.ChoiceField(list(SHAPES))
    key = serializers.ListField(child=Text(max_length=48), max_length=3)
    over_mm = AsTyped()
    upto_mm = AsTyped()
    values = serializers.ListField(child=AsTyped(allow_blank=True), max_length=4)
    standard = Text(max_length=40)
    edition = Text(max_length=10)
    place = Text(max_length=80)
    copy = Text(max_length=80)


class ProposalBody(AtSite):
    document = RowDocument()
    reason = Text(max_length=400)
    sure = serializers.BooleanField(required=False, help_text="read again: it stands so in our copy")
