"""The registers: what each is, who may write it, and the one call that does."""

import uuid
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.db.models import QuerySet
from rest_framework import serializers

from qrecords.api.documents import EquipmentDocument, RequirementDocument
from qrecords.api.facts import ZONE, Fact
from qrecords.api.fields import Answer, Body, Flag, Moment, Text
from qrecords.api.rows import one
from qrecords.people.acting import Acting
from qrecords.people.permissions import Action
from qrecords.people.queries import Reach
from qrecords.proof.identifiers import following
from qrecords.steps import gear
from qrecords.workshop import actions
from qrecords.workshop.care_actions import SHIFT
from qrecords.workshop.models import Bearing, Equipment, Journal, Machine, Rebuild


class Registered(Body):
    """The entry's id becomes that of what is registered."""

    entry_id = serializers.UUIDField()
    zone = serializers.RegexField(ZONE, required=False)


class AtSite(Registered):
    site = serializers.UUIDField(required=False)


class MachineBody(AtSite):
    name = Text(max_length=120)
    owner = Text(max_length=120)
    scheme = serializers.ChoiceField(actions.SCHEMES, required=False)
    released_by = Text(max_length=120, required=False)
    mark = Text(max_length=7, required=False)


class RebuildBody(Registered):
    machine = serializers.UUIDField()
    work_order = Text(max_length=40)


class JournalBody(Registered):
    machine = serializers.UUIDField()
    shaft = Text(max_length=40)
    position = Text(max_length=40)


class RequirementBody(Registered):
    document = RequirementDocument()


class BearingBody(AtSite):
    designation = Text(max_length=60)
    serial = Text(max_length=40, required=False)
    lot = Text(max_length=40, required=False)
    date_code = Text(max_length=20, required=False)
    delivery = Text(max_length=60, required=False)


class CalibrationBody(Registered):
    document = EquipmentDocument()
    valid_from = Moment()


class TypedLength(Body):
    typed = Text(max_length=40)
    unit = serializers.ChoiceField(("um", "mm", "in"))
    sure = Flag(required=False)


class MasterCheckBody(Fact):
    """By how much it reads off its master: too low is negative."""

    master = serializers.UUIDField()
    when = serializers.ChoiceField(SHIFT)
    off = TypedLength()


class DamageBody(Fact):
    what = serializers.ChoiceField(gear.DAMAGES)
    note = Text(max_length=400, required=False, allow_blank=True)


class EquipmentBody(AtSite):
    kind = serializers.ChoiceField(gear.KINDS)
    mark = Text(max_length=30)
    document = EquipmentDocument()
    valid_from = Moment()


class MachineRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    name = serializers.CharField()
    owner = serializers.CharField()
    scheme = serializers.CharField()
    released_by = serializers.CharField(allow_blank=True)
    mark = serializers.CharField()


class RebuildRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    machine = serializers.UUIDField(source="machine_id")
    work_order = serializers.CharField()
    opened_at = serializers.DateTimeField()


class RequirementRow(Answer):
    id = serializers.UUIDField()
    drawing = serializers.CharField()
    revision = serializers.CharField()
    document = serializers.DictField()
    valid_from = serializers.DateTimeField()


class JournalRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    machine = serializers.UUIDField(source="machine_id")
    shaft = serializers.CharField()
    position = serializers.CharField()
    requirements = RequirementRow(many=True, source="requirements.all")


class BearingRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    designation = serializers.CharField()
    serial = serializers.CharField(allow_blank=True)
    lot = serializers.CharField(allow_blank=True)
    date_code = serializers.CharField(allow_blank=True)
    delivery = serializers.CharField(allow_blank=True)


class CalibrationRow(Answer):
    id = serializers.UUIDField()
    document = serializers.DictField()
    due = serializers.DateField(allow_null=True)
    valid_from = serializers.DateTimeField()


class EquipmentRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    kind = serializers.CharField()
    mark = serializers.CharField()
    versions = CalibrationRow(many=True, source="versions.all")


def _machine(acting: Acting, site: uuid.UUID, reach: Reach, said: Mapping[str, Any]) -> object:
    return actions.register_machine(acting=acting, site=site, machine_id=said["entry_id"], **_rest(said))


def _rebuild(acting: Acting, site: None, reach: Reach, said: Mapping[str, Any]) -> object:
    machine = one(Machine, said["machine"], reach)
    return actions.open_rebuild(
        acting=acting, rebuild_id=said["entry_id"], machine=machine, work_order=said["work_order"]
    )


def _journal(acting: Acting, site: None, reach: Reach, said: Mapping[str, Any]) -> object:
    machine = one(Machine, said["machine"], reach)
    return actions.register_journal(
        acting=acting,
        journal_id=said["entry_id"],
        machine=machine,
        shaft=said["shaft"],
        position=said["position"],
    )


def _bearing(acting: Acting, site: uuid.UUID, reach: Reach, said: Mapping[str, Any]) -> object:
    return actions.register_bearing(acting=acting, site=site, bearing_id=said["entry_id"], **_rest(said))


def _equipment(acting: Acting, site: uuid.UUID, reach: Reach, said: Mapping[str, Any]) -> object:
    entry_id = said["entry_id"]
    # The first calibration needs an id of its own, the same one when the same is sent again.
    version_id = following(entry_id, "first calibration")
    return actions.register_equipment(
        acting=acting, site=site, equipment_id=entry_id, version_id=version_id, **_rest(said)
    )


def _rest(said: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in said.items() if name not in ("entry_id", "zone", "site")}


@dataclass(frozen=True, eq=False)
class Register:
    """One register. `filters` are query names with the column each asks, letter case aside."""

    name: str
    kind: str
    right: Action
    rows: Callable[[], QuerySet[Any]]
    row: type[Answer]
    body: type[Registered]
    make: Callable[[Acting, Any, Reach, Mapping[str, Any]], object]
    filters: Mapping[str, str] = field(default_factory=dict)


MACHINES = Register(
    "machine",
    "machine",
    Action.REGISTER,
    Machine.objects.all,
    MachineRow,
    MachineBody,
    _machine,
    {"mark": "mark__iexact", "name": "name__icontains"},
)
REBUILDS = Register(
    "rebuild",
    "rebuild",
    Action.REGISTER,
    Rebuild.objects.all,
    RebuildRow,
    RebuildBody,
    _rebuild,
    {"work_order": "work_order__iexact"},
)
JOURNALS = Register(
    "journal",
    "journal",
    Action.REGISTER,
    lambda: Journal.objects.prefetch_related("requirements"),
    JournalRow,
    JournalBody,
    _journal,
    {"shaft": "shaft__iexact", "position": "position__iexact"},
)
BEARINGS = Register(
    "bearing",
    "bearing",
    Action.REGISTER,
    Bearing.objects.all,
    BearingRow,
    BearingBody,
    _bearing,
    {"designation": "designation__iexact", "serial": "serial__iexact", "lot": "lot__iexact"},
)
EQUIPMENT = Register(
    "equipment",
    "equipment",
    Action.EQUIP,
    lambda: Equipment.objects.prefetch_related("versions"),
    EquipmentRow,
    EquipmentBody,
    _equipment,
    {"kind": "kind__iexact", "mark": "mark__iexact"},
)
