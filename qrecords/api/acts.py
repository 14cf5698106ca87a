"""What can be done on one mounting: for each act its rights, its body, and the one call it makes.

The address of an act and the batch both read this table.
"""

from collections.abc import Mapping
from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from qrecords.api.errors import UnknownAddressError
from qrecords.api.facts import LARGEST, MEDIA, SHA256, SHOT, Act, Authority, Fact, Said
from qrecords.api.fields import LONGEST_TEXT, Body, Flag, Text, Whole
from qrecords.api.log_bodies import LogSaying
from qrecords.api.paper_acts import HAND_OVER, MARKS, SHEET, OnPaper, from_paper
from qrecords.api.point_acts import POINT
from qrecords.mountings.actions import attaching, finishing, recording, tapping
from qrecords.mountings.actions.recording import Given, Typed
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting
from qrecords.people.permissions import Action
from qrecords.signoff import actions as signoff
from qrecords.signoff.amending import amend
from qrecords.steps.acts import LogSaid
from qrecords.steps.answers import Absent, State
from qrecords.steps.points import POINT_ID
from qrecords.steps.runs import EVENTS, TAPS
from qrecords.steps.shown import WRITTEN, read_extent
from qrecords.steps.standard import STEPS


class WithReason(Authority):
    """Why it is withdrawn, opened by mistake and not yet heated; or what has to be amended, and why."""

    reason = Text()


class Typing(Body):
    """One field: what was typed with its unit (`sure` confirms a doubt), or a state with its reason."""

    typed = Text(required=False, allow_blank=True, max_length=None)
    unit = Text(required=False, allow_blank=True, max_length=60)
    sure = Flag(required=False)
    state = serializers.ChoiceField([state.value for state in State], required=False)
    reason = Text(required=False)

    def to_internal_value(self, data: Any) -> Given:
        said = super().to_internal_value(data)
        absent, typed = {"state", "reason"} & set(said), {"typed", "unit", "sure"} & set(said)
        if (absent and typed) or not ("typed" in said or absent == {"state", "reason"}):
            raise serializers.ValidationError("either typed (with unit and sure), or state with reason")
        if absent:
            return Absent(State(said["state"]), said["reason"].strip())
        return Typed(said["typed"], said.get("unit", ""), said.get("sure", False))


_TYPED = {
    "typed": {"type": "string"},
    "unit": {"type": "string", "maxLength": 60},
    "sure": {"type": "boolean"},
}
_ABSENT = {
    "state": {"enum": [state.value for state in State]},
    "reason": {"type": "string", "minLength": 1, "maxLength": LONGEST_TEXT},
}
_EITHER = [
    {"type": "object", "properties": _TYPED, "required": ["typed"], "additionalProperties": False},
    {"type": "object", "properties": _ABSENT, "required": ["state", "reason"], "additionalProperties": False},
]


@extend_schema_field({"type": "object", "minProperties": 1, "additionalProperties": {"oneOf": _EITHER}})
class Typings(serializers.DictField):
    """Fields by their keys, as `journal.A.60` or `gap.90`."""

    child = Typing()


class Capture(Fact):
    """What was said of one step, field by field."""

    fields = Typings(  # type: ignore[assignment]  # the body names it so, DRF keeps them apart
        allow_empty=False
    )
    reason = Text(required=False, allow_blank=True)
    check = Flag(required=False)
    paper = OnPaper(required=False)


class Tap(Fact):
    """One tap. *heater on* names the leaf of the release it relies on, or the code read back."""

    what = serializers.ChoiceField(TAPS + EVENTS)
    release = serializers.RegexField(SHA256, required=False, allow_blank=True)
    code = Text(required=False, allow_blank=True, max_length=20)
    after = Text(required=False, allow_blank=True, max_length=36)
    """The newest tap the device knew, blank for none: the same tap made elsewhere since is refused."""
    paper = OnPaper(required=False)


class Photo(Fact):
    """A photo exists: which shot, which bytes. The bytes follow by PUT, before or after."""

    shot = serializers.RegexField(SHOT)
    sha256 = serializers.RegexField(SHA256)
    size = Whole(least=0, most=LARGEST, unit="bytes")
    media = serializers.RegexField(MEDIA)
    camera = Flag()


class HeatingLog(Fact):
    """The heater wrote a log: which bytes, and what they do not say. The bytes follow by PUT, before or
    after. `instead_of` names the entry of the log that it takes the place of, with a reason."""

    sha256 = serializers.RegexField(SHA256)
    size = Whole(least=0, most=LARGEST, unit="bytes")
    media = serializers.RegexField(MEDIA)
    log = LogSaying(required=False)
    instead_of = serializers.UUIDField(required=False)
    reason = Text(required=False, allow_blank=True)


class Looked(Fact):
    """A query looked at and explained."""

    digest = serializers.RegexField(SHA256)
    explanation = Text()


class Seeing(Authority):
    """An act that rests on what was seen: `shown` of the case, as it was read."""

    shown = serializers.RegexField(WRITTEN)


class Inspecting(Seeing):
    """`alone`: of who stands in for the inspector, why none is there."""

    alone = Text(required=False, allow_blank=True, max_length=200)


class Release(Inspecting):
    hold = serializers.RegexField(POINT_ID, help_text="fit, cold, or a hold point of the procedure")


class ReleaseHere(Release):
    """The inspector's own name and password, on the device of whoever is signed in. `marking` is what he
    reads off the ring, where it is still to be read: an entry of its own, with the id `reading_id`, and with
    `marking_reason` where it takes the place of another reading."""

    name = Text(max_length=60)
    password = Text(max_length=200)
    marking = Text(required=False, allow_blank=True, max_length=80)
    reading_id = serializers.UUIDField(required=False)
    marking_reason = Text(required=False, allow_blank=True)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        if attrs.get("marking") and "reading_id" not in attrs:
            raise serializers.ValidationError({"reading_id": ["a marking needs the id of its own entry"]})
        return attrs


class Telephone(Authority):
    """The code heard by telephone, with the lowest and the highest reading (whole size, nm)."""

    code = Text(max_length=20)
    lowest_nm = Whole(least=0, most=LARGEST, unit="nm")
    highest_nm = Whole(least=0, most=LARGEST, unit="nm")
    alone = Text(required=False, allow_blank=True, max_length=200)


class Item(Body):
    about = Text(max_length=200)
    reason = Text()


class Return(Authority):
    items = Item(many=True, allow_empty=False)


def _capture(acting: Acting, mounting: Mounting, said: Said) -> object:
    if said["step"] not in STEPS:
        raise UnknownAddressError("step", said["step"])
    return recording.record(
        acting=acting,
        mounting=mounting,
        entry_id=said["entry_id"],
        step_id=said["step"],
        given=said["fields"],
        check=said.get("check", False),
        reason=said.get("reason", ""),
        later=said.get("later", False),
        paper=from_paper(said),
    )


def _tap(acting: Acting, mounting: Mounting, said: Said) -> object:
    return tapping.tap(
        acting=acting,
        mounting=mounting,
        entry_id=said["entry_id"],
        what=said["what"],
        release=said.get("release", ""),
        code=said.get("code", ""),
        after=said.get("after"),
        paper=from_paper(said),
    )


def _undo(acting: Acting, mounting: Mounting, said: Said) -> object:
    return tapping.undo(acting=acting, mounting=mounting, entry_id=said["entry_id"], tap_id=said["tap"])


def _announce(acting: Acting, mounting: Mounting, said: Said) -> object:
    names = ("entry_id", "shot", "sha256", "size", "media", "camera")
    return attaching.announce_file(acting=acting, mounting=mounting, **{name: said[name] for name in names})


def _hand_in(acting: Acting, mounting: Mounting, said: Said) -> object:
    told = said.get("log", {})
    return attaching.hand_in_log(
        acting=acting,
        mounting=mounting,
        entry_id=said["entry_id"],
        sha256=said["sha256"],
        size=said["size"],
        media=said["media"],
        said=LogSaid(
            told.get("columns", {}), told.get("unit", ""), told.get("probe", ""), told.get("heating", 0)
        ),
        instead_of=said.get("instead_of"),
        reason=said.get("reason", ""),
    )


def _looked(acting: Acting, mounting: Mounting, said: Said) -> object:
    return signoff.close_query(
        acting=acting,
        mounting=mounting,
        entry_id=said["entry_id"],
        digest=said["digest"],
        explanation=said["explanation"],
    )


def _ready(acting: Acting, mounting: Mounting, said: Said) -> object:
    shown = read_extent(said["shown"])
    return finishing.ready(acting=acting, mounting=mounting, entry_id=said["entry_id"], shown=shown)


def _release(acting: Acting, mounting: Mounting, said: Said) -> object:
    return signoff.release(
        acting=acting,
        mounting=mounting,
        entry_id=said["entry_id"],
        hold=said["hold"],
        shown=read_extent(said["shown"]),
        alone=said.get("alone", ""),
    )


def _release_here(acting: Acting, mounting: Mounting, said: Said) -> object:
    return signoff.release_here(
        acting=acting,
        mounting=mounting,
        entry_id=said["entry_id"],
        hold=said["hold"],
        shown=read_extent(said["shown"]),
        reading_id=said.get("reading_id", said["entry_id"]),
        marking=said.get("marking", ""),
        marking_reason=said.get("marking_reason", ""),
        alone=said.get("alone", ""),
    )


def _telephone(acting: Acting, mounting: Mounting, said: Said) -> object:
    return signoff.release_by_telephone(
        acting=acting,
        mounting=mounting,
        entry_id=said["entry_id"],
        code=said["code"],
        lowest_nm=said["lowest_nm"],
        highest_nm=said["highest_nm"],
        alone=said.get("alone", ""),
    )


def _return(acting: Acting, mounting: Mounting, said: Said) -> object:
    items = [(item["about"], item["reason"]) for item in said["items"]]
    return signoff.give_back(acting=acting, mounting=mounting, entry_id=said["entry_id"], items=items)


def _withdraw(acting: Acting, mounting: Mounting, said: Said) -> object:
    return finishing.withdraw(
        acting=acting, mounting=mounting, entry_id=said["entry_id"], reason=said["reason"]
    )


def _amend(acting: Acting, mounting: Mounting, said: Said) -> object:
    return amend(acting=acting, mounting=mounting, entry_id=said["entry_id"], reason=said["reason"])


def _sign(acting: Acting, mounting: Mounting, said: Said) -> object:
    shown, alone = read_extent(said["shown"]), said.get("alone", "")
    return signoff.sign(acting=acting, mounting=mounting, entry_id=said["entry_id"], shown=shown, alone=alone)


CAPTURE = Act("record a capture", "capture", (Action.RECORD, Action.CHECK), Capture, _capture, "step")
TAP = Act("tap", "tap", (Action.TAP,), Tap, _tap)
UNDO = Act("undo a tap", "tap", (Action.TAP,), Fact, _undo, "tap")
PHOTO = Act("announce a photo", "attachment", (Action.ATTACH,), Photo, _announce)
LOG = Act("hand in a heating log", "attachment", (Action.ATTACH,), HeatingLog, _hand_in)
LOOKED = Act("close a query", "looked", (Action.CLOSE_QUERY,), Looked, _looked)
WITHDRAW = Act("withdraw a mounting", "withdrawal", (Action.WITHDRAW,), WithReason, _withdraw)
READY = Act("ready for inspection", "signature", (Action.READY,), Seeing, _ready)
RELEASE = Act("release a hold", "release", (Action.RELEASE,), Release, _release)
RELEASE_HERE = Act("release here", "release", (Action.SIGNED_IN,), ReleaseHere, _release_here)
TELEPHONE = Act("release by telephone", "release", (Action.RELEASE,), Telephone, _telephone)
RETURN = Act("return to the fitter", "return", (Action.RETURN,), Return, _return)
AMEND = Act("open for an amendment", "amendment", (Action.AMEND,), WithReason, _amend)
SIGN = Act("sign off", "signature", (Action.SIGN,), Inspecting, _sign)
BATCHED: Mapping[str, Act] = {
    "capture": CAPTURE,
    "tap": TAP,
    "undo": UNDO,
    "photo": PHOTO,
    "log": LOG,
    "looked": LOOKED,
    "paper sheet": SHEET,
    "hand over": HAND_OVER,
    "marks": MARKS,
    "point": POINT,
}
"""What a batch may hold: facts. Acts of authority are done one by one, by a person who is there."""
