"""One search box: mountings by rank, bearings not mounted yet, equipment."""

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from qrecords.api import door
from qrecords.api.door import Resource, person_of
from qrecords.api.fields import Answer, Body, Text
from qrecords.api.forms import Line
from qrecords.api.operations import Operation
from qrecords.api.registers import BearingRow
from qrecords.people.permissions import Action
from qrecords.tracing.search import search


class Question(Body):
    q = Text(max_length=500, allow_blank=True, trim_whitespace=True)


class Word(Answer):
    """A word and how it was read; `doubt`: it looks like a workshop mark misread."""

    text = serializers.CharField()
    doubt = serializers.BooleanField()
    read_as = serializers.CharField(allow_blank=True)


class Agrees(Answer):
    word = serializers.CharField()
    kind = serializers.CharField()
    whole = serializers.BooleanField()
    lacks = serializers.CharField(allow_blank=True)


class Candidate(Answer):
    """A mounting that could be meant, with the words for it and those it has nothing of."""

    mounting = Line()
    agree = Agrees(many=True)
    differ = serializers.ListField(child=serializers.CharField())


class Piece(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    kind = serializers.CharField()
    mark = serializers.CharField()


class Found(Answer):
    words = Word(many=True)
    candidates = Candidate(many=True)
    in_stock = BearingRow(many=True)
    equipment = Piece(many=True)
    more = serializers.BooleanField()
    left_out = serializers.ListField(child=serializers.CharField())


class Search(Resource):
    operations = {"GET": Operation("search", (Action.TRACE,), Found, query=Question)}

    def get(self, request: Request) -> Response:
        """What has some of the words, best first. A word in double quotes may hold spaces."""
        found = search(person_of(request), self.asked(request)["q"], door.now())
        read_as = dict(found.read_as)
        words = [
            {"text": word.text, "doubt": word.doubt, "read_as": read_as.get(word.text, "")}
            for word in found.words
        ]
        rest = ("candidates", "in_stock", "equipment", "more", "left_out")
        return Response(Found({"words": words} | {name: getattr(found, name) for name in rest}).data)
