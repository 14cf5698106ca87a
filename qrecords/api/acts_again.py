"""Looking again at what was signed with reduced independence."""

from rest_framework import serializers

from qrecords.api.acts import Seeing
from qrecords.api.facts import Act, Said
from qrecords.api.fields import Text
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting
from qrecords.people.permissions import Action
from qrecords.signoff import reviewing
from qrecords.steps.shown import read_extent


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


LOOK_AGAIN = Act("look again", "re-review", (Action.REVIEW,), LookAgain, _look_again)
