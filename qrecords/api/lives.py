"""What comes with bearings, what becomes of them, and moves: bodies, rows, and the one call of each."""

import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from rest_framework import serializers

from qrecords.api.facts import Fact
from qrecords.api.fields import Answer, Body, Text, Whole
from qrecords.api.registers import AtSite, Register, Registered
from qrecords.api.rows import one
from qrecords.mountings.actions import bearing_life as life
from qrecords.mountings.models import BearingEvent, Mounting
from qrecords.people.acting import Acting
from qrecords.people.permissions import Action
from qrecords.people.queries import Reach
from qrecords.steps.bearing_life import KINDS, METHODS, Event
from qrecords.steps.damage import BY_ID, UNKNOWN
from qrecords.workshop import material_actions as materials
from qrecords.workshop.errors import UnknownObjectError
from qrecords.workshop.models import Bearing, Delivery, Journal, Machine, Move, Part


class DeliveryLine(Body):
    designation = Text(max_length=60)
    lot = Text(max_length=40, required=False, allow_blank=True)
    quantity = Whole(least=1, most=materials.MOST_PIECES, unit="pieces")


class DeliveryBody(AtSite):
    supplier = Text(max_length=80)
    note = Text(max_length=60)
    order = Text(max_length=40, required=False, allow_blank=True)
    on = serializers.DateField()
    lines = DeliveryLine(many=True, allow_empty=False)


class DeliveryRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    supplier = serializers.CharField()
    note = serializers.CharField()
    order = serializers.CharField(allow_blank=True)
    on = serializers.DateField()
    lines = serializers.ListField(child=serializers.DictField())


class PartBody(AtSite):
    kind = serializers.ChoiceField(materials.PART_KINDS)
    name = Text(max_length=80)
    lot = Text(max_length=60)
    supplier = Text(max_length=80, required=False, allow_blank=True)
    delivery = Text(max_length=60, required=False, allow_blank=True)
    use_by = serializers.DateField(required=False)


class PartRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    kind = serializers.CharField()
    name = serializers.CharField()
    lot = serializers.CharField()
    supplier = serializers.CharField(allow_blank=True)
    delivery = serializers.CharField(allow_blank=True)
    use_by = serializers.DateField(allow_null=True)


class MoveBody(Registered):
    """Either `shaft` and `to_machine`, or `to_place` and perhaps `to_owner`."""

    machine = serializers.UUIDField()
    on = serializers.DateField()
    shaft = Text(max_length=40, required=False)
    to_machine = serializers.UUIDField(required=False)
    to_place = Text(max_length=120, required=False)
    to_owner = Text(max_length=120, required=False, allow_blank=True)
    reason = Text(max_length=400, required=False, allow_blank=True)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        if ("shaft" in attrs) != ("to_machine" in attrs) or ("shaft" in attrs) == ("to_place" in attrs):
            raise serializers.ValidationError({"to_place": ["either to_place, or shaft and to_machine"]})
        return attrs


class MoveRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    machine = serializers.UUIDField(source="machine_id")
    shaft = serializers.CharField(allow_blank=True)
    to_machine = serializers.UUIDField(source="to_machine_id", allow_null=True)
    to_place = serializers.CharField(allow_blank=True)
    to_owner = serializers.CharField(allow_blank=True)
    on = serializers.DateField()
    reason = serializers.CharField(allow_blank=True)


class EventRow(Answer):
    """What became of a bearing: `document` is what was said."""

    id = serializers.UUIDField()
    what = serializers.CharField()
    on = serializers.DateField()
    mounting = serializers.UUIDField(source="mounting_id", allow_null=True)
    for_mounting = serializers.UUIDField(source="for_mounting_id", allow_null=True)
    journal = serializers.UUIDField(source="journal_id", allow_null=True)
    delivery = serializers.UUIDField(source="delivery_id", allow_null=True)
    damage = serializers.CharField(allow_blank=True)
    document = serializers.DictField()


class BearingNow(Answer):
    """Where a bearing is now, and what became of it besides its mountings, oldest first."""

    where = serializers.CharField()
    mounting = serializers.UUIDField(allow_null=True)
    number = serializers.CharField(allow_blank=True)
    events = EventRow(many=True)


def _rest(said: Mapping[str, Any]) -> dict[str, Any]:
    left = ("entry_id", "zone", "site", "at_device", "device", "counter", "known", "password")
    return {name: value for name, value in said.items() if name not in left}


def _delivery(acting: Acting, site: uuid.UUID, reach: Reach, said: Mapping[str, Any]) -> object:
    told = {"order": "", **_rest(said)}
    return materials.deliver(acting=acting, site=site, delivery_id=said["entry_id"], **told)


def _part(acting: Acting, site: uuid.UUID, reach: Reach, said: Mapping[str, Any]) -> object:
    return materials.register_part(acting=acting, site=site, part_id=said["entry_id"], **_rest(said))


def _move(acting: Acting, site: None, reach: Reach, said: Mapping[str, Any]) -> object:
    told = _rest(said) | {"machine": one(Machine, said["machine"], reach), "move_id": said["entry_id"]}
    if "shaft" in said:
        told["to_machine"] = one(Machine, said["to_machine"], reach)
        return materials.move_shaft(acting=acting, **{k: v for k, v in told.items() if k != "to_owner"})
    return materials.move_machine(acting=acting, **told)


DELIVERIES = Register(
    "delivery", "delivery", Action.REGISTER, Delivery.objects.all, DeliveryRow, DeliveryBody, _delivery,
    {"note": "note__iexact", "order": "order__iexact", "supplier": "supplier__icontains"},
)  # fmt: skip
PARTS = Register(
    "part", "part", Action.REGISTER, Part.objects.all, PartRow, PartBody, _part,
    {"kind": "kind__iexact", "lot": "lot__iexact"},
)  # fmt: skip
MOVES = Register("move", "move", Action.REGISTER, Move.objects.all, MoveRow, MoveBody, _move)


class OnDay(Fact):
    on = serializers.DateField()


class DamageSeen(OnDay):
    """What was seen: a row of the table of damages, and it in words."""

    damage = serializers.ChoiceField(("", *BY_ID, UNKNOWN), required=False)
    looks = Text(max_length=400, required=False, allow_blank=True)


class Removal(DamageSeen):
    why = Text(max_length=400)
    method = serializers.ChoiceField(METHODS)
    kept = Text(max_length=80, required=False, allow_blank=True)
    by = Text(max_length=80, required=False, allow_blank=True)
    journal = serializers.UUIDField(required=False)
    for_mounting = serializers.UUIDField(required=False)


class Failure(DamageSeen):
    what = Text(max_length=400)
    by = Text(max_length=80, required=False, allow_blank=True)
    ran = Text(max_length=40, required=False, allow_blank=True)


class Aside(OnDay):
    why = Text(max_length=400)
    kept = Text(max_length=80, required=False, allow_blank=True)


class BearingDecision(OnDay):
    why = Text(max_length=400)
    password = Text(max_length=200, required=False)


class CameWith(OnDay):
    delivery = serializers.UUIDField()


Said = Mapping[str, Any]


@dataclass(frozen=True, eq=False)
class LifeAct:
    """One thing that can be said of a bearing."""

    name: str
    event: Event
    right: Action
    body: type[OnDay]
    do: Callable[..., BearingEvent]

    @property
    def kind(self) -> str:
        return KINDS[self.event]


def _seen(said: Said) -> dict[str, Any]:
    told = {name: value for name, value in _rest(said).items() if name not in ("damage", "looks")}
    return told | {"seen": life.Seen(said.get("damage", ""), said.get("looks", ""))}


def _remove(bearing: Bearing, said: Said, **acting: Any) -> BearingEvent:
    told = _seen(said)
    for name, model in (("journal", Journal), ("for_mounting", Mounting)):
        if name in told:
            row = model._default_manager.filter(id=told[name], site=bearing.site).first()
            if row is None:
                raise UnknownObjectError(name.replace("_", " "), told[name])
            told[name] = row
    return life.remove(bearing=bearing, **acting, **told)


def _fail(bearing: Bearing, said: Said, **acting: Any) -> BearingEvent:
    return life.fail(bearing=bearing, **acting, **_seen(said))


def _came_with(bearing: Bearing, said: Said, **acting: Any) -> BearingEvent:
    row = Delivery.objects.filter(id=said["delivery"], site=bearing.site).first()
    if row is None:
        raise UnknownObjectError("delivery", said["delivery"])
    return life.delivered(bearing=bearing, **acting, **_rest(said) | {"delivery": row})


def _plain(act: Callable[..., BearingEvent]) -> Callable[..., BearingEvent]:
    return lambda bearing, said, **acting: act(bearing=bearing, **acting, **_rest(said))


ACTS: Mapping[str, LifeAct] = {
    "removals": LifeAct("remove a bearing", Event.REMOVED, Action.REGISTER, Removal, _remove),
    "failures": LifeAct("report a failure", Event.FAILED, Action.REGISTER, Failure, _fail),
    "quarantines": LifeAct(
        "set a bearing aside", Event.QUARANTINED, Action.REGISTER, Aside, _plain(life.set_aside)
    ),
    "deliveries": LifeAct(
        "name the delivery of a bearing", Event.DELIVERED, Action.REGISTER, CameWith, _came_with
    ),
    "clearances": LifeAct(
        "end a quarantine", Event.CLEARED, Action.ACCEPT, BearingDecision, _plain(life.clear)
    ),
    "scrapping": LifeAct(
        "scrap a bearing", Event.SCRAPPED, Action.SCRAP, BearingDecision, _plain(life.scrap)
    ),
}
"""Address below a bearing → what it says."""
