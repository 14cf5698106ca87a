"""What look-backs take and answer."""

from typing import Any

from rest_framework import serializers

from qrecords.api.facts import Authority
from qrecords.api.fields import Answer, AsSent, Body, Moment, Text
from qrecords.steps.new_look_back import SUBJECTS
from qrecords.steps.suspect import MOST_POINTS


class Point(Body):
    """At `size` it reads `error` too high, with the standard uncertainty `u`: in base units."""

    size = AsSent()
    error = AsSent()
    u = AsSent()


class LookBackDocument(Body):
    """`of`: id of the piece or person, else lot, batch or drawing as it is written. Points belong to a piece;
    `revision` and `right` to a drawing."""

    subject = serializers.ChoiceField(SUBJECTS)
    of = Text(max_length=80)
    since = Moment()
    until = Moment()
    points = serializers.ListField(child=Point(), max_length=MOST_POINTS, required=False)
    revision = Text(max_length=80, required=False)
    right = Text(max_length=80, required=False)

    def to_internal_value(self, data: Any) -> Any:
        read = super().to_internal_value(data)
        return {**read, "since": read["since"].isoformat(), "until": read["until"].isoformat()}


class OpenBody(Authority):
    site = serializers.UUIDField(required=False)
    document = LookBackDocument()
    reason = Text(max_length=400)


class GiveBody(Authority):
    mounting = serializers.UUIDField()
    owner = serializers.UUIDField()
    due = serializers.DateField()
    what = Text(max_length=400)


class AnswerBody(Authority):
    action = serializers.UUIDField()
    how = Text(max_length=400)


class EndBody(Authority):
    reason = Text(max_length=400)


class LookBackRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    document = serializers.DictField()
    why = serializers.CharField()
    opened_by = serializers.UUIDField()
    opened_at = serializers.DateTimeField()
    nonconforming = serializers.IntegerField(source="nonconforming_count")
    not_proven = serializers.IntegerField(source="not_proven_count")
    in_doubt = serializers.IntegerField(source="in_doubt_count")
    conforming = serializers.IntegerField(source="conforming_count")
    actions_open = serializers.IntegerField(source="waiting")
    closed = serializers.BooleanField(source="is_closed")


class LookBackPage(Answer):
    results = LookBackRow(many=True)
    next = serializers.CharField(allow_null=True)


class LookBackQuery(Body):
    after = serializers.UUIDField(required=False)


class ActionRow(Answer):
    id = serializers.UUIDField()
    owner = serializers.UUIDField()
    due = serializers.DateField()
    what = serializers.CharField()
    how = serializers.CharField(allow_blank=True, help_text="how it was closed; empty while it is open")


class JudgedRow(Answer):
    """One mounting of a look-back; `changed` is what is found otherwise."""

    id = serializers.IntegerField()
    mounting = serializers.UUIDField(source="mounting_id")
    number = serializers.CharField(source="mounting.number")
    owner = serializers.CharField(source="mounting.journal.machine.owner")
    machine = serializers.CharField(source="mounting.journal.machine.name")
    verdict = serializers.CharField(help_text="conforming, not proven, nonconforming or in doubt")
    entry = serializers.UUIDField()
    at = serializers.DateTimeField()
    changed = serializers.ListField(child=serializers.DictField(), source="document")
    actions = ActionRow(many=True)


class JudgedPage(Answer):
    results = JudgedRow(many=True)
    next = serializers.CharField(allow_null=True)
