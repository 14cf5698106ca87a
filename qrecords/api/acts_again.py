"""Looking again at what was signed with reduced independence; and which part went into a mounting."""

from rest_framework import serializers

from qrecords.api.acts import Seeing
from qrecords.api.facts import Act, Fact, Said
from qrecords.api.fields import Text
from qrecords.mountings.actions.parts import use_part
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting
from qrecords.people.permissions import Action
from qrecords.signoff import reviewing
from qrecords.steps.shown import read_extent
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import Part


class LookAgain(Seeing):
    agreed = serializers.BooleanField()
    words = Text(required=False, allow_blank=True, max_length=400)


def _look_again(acting: Acting, mounting: Mounting, said: Said) -> object:
    return reviewing.review(
        acting=acting,
        mounting=mounting,
        entry_id=said["entry_id"],
        agreed=said["agreed"],
        words=said.get("words", ""),
        shown=read_extent(said["shown"]),
    )


class UsePart(Fact):
    part = serializers.UUIDField()
    place = Text(required=False, allow_blank=True, max_length=80)


def _use_part(acting: Acting, mounting: Mounting, said: Said) -> object:
    part = Part.objects.filter(id=said["part"], site=mounting.site).first()
    if part is None:
        raise UnknownObjectError("part", said["part"])
    return use_part(
        acting=acting, mounting=mounting, entry_id=said["entry_id"], part=part, place=said.get("place", "")
    )


USE_PART = Act("use a part", "part used", (Action.RECORD,), UsePart, _use_part)
LOOK_AGAIN = Act("look again", "re-review", (Action.REVIEW,), LookAgain, _look_again)
