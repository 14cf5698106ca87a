"""Decisions at the API, and the papers that they rest on."""

from rest_framework import serializers

from qrecords.api.errors import UnknownAddressError
from qrecords.api.facts import LARGEST, MEDIA, SHA256, Act, Authority, Fact, Said
from qrecords.api.fields import Text, Whole
from qrecords.mountings.actions import attaching
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting
from qrecords.people.permissions import Action
from qrecords.signoff import actions as signoff
from qrecords.signoff.drawings import put_drawing_right
from qrecords.steps.decision_rows import STATES
from qrecords.steps.granting import Saying
from qrecords.steps.papers import PAPERS
from qrecords.workshop.models import JournalRequirement


class Decide(Authority):
    """One decision about findings with one cause. An acceptance may hold until a day, name the customer's
    letter, and state what the decider saw himself, as `ways` of the finding ask for."""

    decision = serializers.ChoiceField(sorted(signoff.DECISIONS))
    digests = serializers.ListField(child=serializers.RegexField(SHA256), allow_empty=False, max_length=200)
    reason = Text()
    conditions = Text(required=False, allow_blank=True)
    expires = serializers.DateField(required=False)
    letter = serializers.RegexField(SHA256, required=False)
    states = serializers.ListField(child=serializers.ChoiceField(STATES), required=False, max_length=20)


class Paper(Fact):
    """A paper that decisions rest on: which kind, which bytes. The bytes, a PDF or a photograph, follow by
    PUT, before or after."""

    paper = serializers.ChoiceField(PAPERS)
    sha256 = serializers.RegexField(SHA256)
    size = Whole(least=0, most=LARGEST, unit="bytes")
    media = serializers.RegexField(MEDIA)


def _decide(acting: Acting, mounting: Mounting, said: Said) -> object:
    return signoff.decide(
        acting=acting,
        mounting=mounting,
        entry_id=said["entry_id"],
        kind=said["decision"],
        digests=said["digests"],
        reason=said["reason"],
        conditions=said.get("conditions", ""),
        saying=Saying(said.get("expires"), said.get("letter", ""), frozenset(said.get("states", ()))),
    )


def _paper(acting: Acting, mounting: Mounting, said: Said) -> object:
    names = ("entry_id", "sha256", "size", "media")
    return attaching.hand_in_paper(
        acting=acting, mounting=mounting, kind=said["paper"], **{name: said[name] for name in names}
    )


class RightDrawing(Authority):
    """Another drawing revision was the right one: `requirement` is its id among those of the journal."""

    requirement = serializers.UUIDField()
    reason = Text()


def _right_drawing(acting: Acting, mounting: Mounting, said: Said) -> object:
    rows = JournalRequirement.objects.filter(journal=mounting.journal_id)
    found = rows.filter(id=said["requirement"]).first()
    if found is None:
        raise UnknownAddressError("drawing revision of this journal", said["requirement"])
    return put_drawing_right(
        acting=acting,
        mounting=mounting,
        entry_id=said["entry_id"],
        requirement=found,
        reason=said["reason"],
    )


DECIDE = Act("decide", "decision", tuple(signoff.DECISIONS.values()), Decide, _decide)
PAPER = Act("hand in a paper", "attachment", (Action.ATTACH,), Paper, _paper)
RIGHT_DRAWING = Act(
    "judge again by the right drawing", "drawing", (Action.JUDGE_AGAIN,), RightDrawing, _right_drawing
)
