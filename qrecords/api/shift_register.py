"""The starts of shifts: what each person had at hand, and the climate."""

import uuid
from collections.abc import Mapping
from typing import Any

from rest_framework import serializers

from qrecords.api.fields import Answer, Body, Flag, Moment, Text
from qrecords.api.registers import AtSite, Register
from qrecords.people.acting import Acting
from qrecords.people.permissions import Action
from qrecords.people.queries import Reach
from qrecords.steps.shift import BY_ID
from qrecords.workshop.models import ShiftStart
from qrecords.workshop.shifts import MOST_PIECES, read_climate, start_shift


class Climate(Body):
    """A number of the climate as it was typed, with its unit; `sure` confirms a doubt."""

    typed = Text(max_length=40)
    unit = Text(max_length=10)
    sure = Flag(required=False)


class ShiftBody(AtSite):
    """What is at hand for the shift: ids of pieces, and the climate as typed."""

    at_device = Moment(required=False)
    gear = serializers.ListField(child=serializers.UUIDField(), max_length=MOST_PIECES)
    air = Climate(required=False)
    humidity = Climate(required=False)


class ShiftRow(Answer):
    id = serializers.UUIDField()
    site = serializers.UUIDField()
    person = serializers.UUIDField()
    at = serializers.DateTimeField()
    gear = serializers.ListField(child=serializers.UUIDField(), source="document.gear")
    climate = serializers.DictField(source="document.climate")


def _shift(acting: Acting, site: uuid.UUID, reach: Reach, said: Mapping[str, Any]) -> object:
    typed = {name: said[name] for name in BY_ID if name in said}
    climate = read_climate(
        {name: (each["typed"], each["unit"]) for name, each in typed.items()},
        frozenset(name for name, each in typed.items() if each.get("sure")),
    )
    return start_shift(
        acting=acting, site=site, shift_id=said["entry_id"], gear=said["gear"], climate=climate
    )


SHIFTS = Register(
    "shift",
    "shift start",
    Action.RECORD,
    ShiftStart.objects.all,
    ShiftRow,
    ShiftBody,
    _shift,
)
