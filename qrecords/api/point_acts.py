"""Acts at the points of the contract: who was told, who came or stayed away, who looked; and a waiver."""

from typing import Any

from rest_framework import serializers

from qrecords.api.facts import Act, Authority, Fact, Said
from qrecords.api.fields import Answer, Moment, Text
from qrecords.mountings.actions.pointing import AtPoint, say_at_point
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting
from qrecords.people.permissions import Action
from qrecords.steps.point_acts import POINT_ACTS, WAIVED
from qrecords.steps.points import POINT_ID


class PointSaid(Fact):
    """What happened at a point of the procedure: notified (who, when, how), came, did not come, looked at
    (a review), looked in (surveillance), or taken back (which entry, why)."""

    point = serializers.RegexField(POINT_ID)
    what = serializers.ChoiceField([what for what in POINT_ACTS if what != WAIVED])
    who = Text(required=False, allow_blank=True, max_length=80)
    how = Text(required=False, allow_blank=True, max_length=200)
    at = Moment(required=False, help_text="when it happened, if not now")
    instead_of = serializers.UUIDField(required=False)
    reason = Text(required=False, allow_blank=True, max_length=400)


class PointWaived(Authority):
    """A witness point is waived: by whom, and why."""

    point = serializers.RegexField(POINT_ID)
    who = Text(max_length=80)
    how = Text(required=False, allow_blank=True, max_length=200)
    reason = Text(max_length=400)


class PointRead(Answer):
    """What was said at a point; `told` when it was, if not when it was said; `taken_back` why it is none."""

    point = serializers.CharField()
    what = serializers.CharField()
    who = serializers.CharField(allow_blank=True)
    how = serializers.CharField(allow_blank=True)
    told = serializers.DateTimeField(allow_null=True)
    at = serializers.DateTimeField()
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    reason = serializers.CharField(allow_blank=True)
    taken_back = serializers.CharField(allow_blank=True)


def _point(acting: Acting, mounting: Mounting, said: Said) -> object:
    return _say(acting, mounting, said, said["what"])


def _waived(acting: Acting, mounting: Mounting, said: Said) -> object:
    return _say(acting, mounting, said, WAIVED)


def _say(acting: Acting, mounting: Mounting, said: Said, what: str) -> object:
    more: dict[str, Any] = {name: said.get(name, "") for name in ("who", "how", "reason")}
    at_point = AtPoint(what=what, at=said.get("at"), instead_of=said.get("instead_of"), **more)
    return say_at_point(
        acting=acting, mounting=mounting, entry_id=said["entry_id"], point=said["point"], said=at_point
    )


POINT = Act("say what happened at a point", "point", (Action.POINT,), PointSaid, _point)
WAIVER = Act("say that a point is waived", "point", (Action.WAIVE,), PointWaived, _waived)
