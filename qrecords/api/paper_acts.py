"""Acts of paper, of the change of shift and of what is drawn on a copy of a photo."""

import uuid
from typing import Any

from rest_framework import serializers

from qrecords.api.errors import UnknownAddressError
from qrecords.api.facts import LARGEST, MEDIA, SHA256, Act, Fact, Said
from qrecords.api.fields import Answer, AsSent, Body, Flag, Text, Whole
from qrecords.ledger.envelope import File
from qrecords.mountings.actions import handing, marking, papering
from qrecords.mountings.actions.papering import FromPaper
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting
from qrecords.people.models import Person
from qrecords.people.permissions import Action
from qrecords.steps.paper import SHEET_SHOT


class OnPaper(Body):
    """It was entered from a sheet of paper: which, day and time as written there (YYYY-MM-DD HH:MM, seconds
    where they stand there), and of *heater on* the release as it is named there by hand."""

    sheet = serializers.UUIDField()
    written = Text(required=False, allow_blank=True, max_length=20)
    reference = Text(required=False, allow_blank=True, max_length=80)


def from_paper(said: Said) -> FromPaper | None:
    told = said.get("paper")
    return FromPaper(**told) if told else None


class SheetPhoto(Body):
    """A photo of the sheet; its bytes follow by PUT, as those of any photo."""

    sha256 = serializers.RegexField(SHA256)
    size = Whole(least=0, most=LARGEST, unit="bytes")
    media = serializers.RegexField(MEDIA)


class PaperSheet(Fact):
    """A sheet of paper: who wrote it, the day it was begun, photos of it."""

    by = serializers.UUIDField()
    day = Text(max_length=10)
    photos = SheetPhoto(many=True, allow_empty=True)
    camera = Flag(required=False)


class HandOver(Fact):
    """To whom the work goes at the change of shift, and what the next one has to know."""

    to = serializers.UUIDField()
    note = Text(required=False, allow_blank=True, max_length=200)


class Drawn(Body):
    """An arrow (from, to), a circle (at, radius) or words (at, text), in thousandths of the upright picture's
    width and height; the reader says what it may be."""

    kind = serializers.ChoiceField(("arrow", "circle", "text"))
    at = serializers.ListField(child=AsSent(), required=False, max_length=4)
    to = serializers.ListField(child=AsSent(), required=False, max_length=4)
    radius = AsSent(required=False)
    text = Text(required=False, max_length=200)

    def get_fields(self) -> dict[str, Any]:
        return super().get_fields() | {
            "from": serializers.ListField(child=AsSent(), required=False, max_length=4)
        }


class Marks(Fact):
    """What is drawn on a copy of a photo. `instead_of` names the drawing it takes the place of, with a
    reason; without marks it takes that one away."""

    sha256 = serializers.RegexField(SHA256)
    marks = Drawn(many=True)
    instead_of = serializers.UUIDField(required=False)
    reason = Text(required=False, allow_blank=True)


class SheetRead(Answer):
    """A sheet of paper handed in: captures and taps that name it were entered from it."""

    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    by = serializers.UUIDField()
    day = serializers.CharField()
    at = serializers.DateTimeField()
    photos = serializers.ListField(child=serializers.CharField())


class PaperRead(Answer):
    """It was entered from paper: the sheet, day and time as written there, a release named by hand."""

    sheet = serializers.UUIDField()
    written = serializers.CharField(allow_blank=True)
    reference = serializers.CharField(allow_blank=True)


class HandedOver(Answer):
    to = serializers.UUIDField()
    note = serializers.CharField(allow_blank=True)
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()


class MarksRead(Answer):
    """Drawn on a copy of a photo; `replaced` where another drawing took its place."""

    sha256 = serializers.CharField()
    marks = serializers.ListField(child=serializers.DictField())
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()
    after_signature = serializers.BooleanField()
    replaced = serializers.BooleanField()


def _person(id: uuid.UUID) -> Person:
    found = Person.objects.filter(id=id).first()
    if found is None:
        raise UnknownAddressError("person", str(id))
    return found


def _sheet(acting: Acting, mounting: Mounting, said: Said) -> object:
    return papering.file_sheet(
        acting=acting,
        mounting=mounting,
        entry_id=said["entry_id"],
        by=_person(said["by"]),
        day=said["day"],
        photos=[File(photo["sha256"], photo["size"], photo["media"], SHEET_SHOT) for photo in said["photos"]],
        camera=said.get("camera", False),
    )


def _hand_over(acting: Acting, mounting: Mounting, said: Said) -> object:
    return handing.hand_over(
        acting=acting,
        mounting=mounting,
        entry_id=said["entry_id"],
        to=_person(said["to"]),
        note=said.get("note", ""),
    )


def _marks(acting: Acting, mounting: Mounting, said: Said) -> object:
    return marking.mark_photo(
        acting=acting,
        mounting=mounting,
        entry_id=said["entry_id"],
        sha256=said["sha256"],
        marks=said["marks"],
        instead_of=said.get("instead_of"),
        reason=said.get("reason", ""),
    )


SHEET = Act("hand in a paper sheet", "paper sheet", (Action.RECORD,), PaperSheet, _sheet)
HAND_OVER = Act("hand over", "hand over", (Action.RECORD,), HandOver, _hand_over)
MARKS = Act("draw on a photo", "photo marks", (Action.ATTACH,), Marks, _marks)
