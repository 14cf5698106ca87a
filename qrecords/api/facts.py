"""What every fact and every act of authority carries at the API, and what an act on a mounting is."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from rest_framework import serializers

from qrecords.api.fields import Body, Moment, Text, Whole
from qrecords.ledger.envelope import Known
from qrecords.mountings.models import Mounting
from qrecords.people.acting import Acting
from qrecords.people.permissions import Action

SHA256 = re.compile(r"^[0-9a-f]{64}$")
MEDIA = re.compile(r"^[a-z]+/[a-z0-9.+-]{1,40}$")
ZONE = re.compile(r"^[A-Za-z0-9_+/-]{1,40}$")
SHOT = re.compile(r"^[a-z0-9_-]{1,40}$")
LARGEST = 2**53 - 1


class KnownLeaf(Body):
    """The newest leaf the sender had seen."""

    index = Whole(least=0, most=LARGEST)
    hash = serializers.RegexField(SHA256)

    def to_internal_value(self, data: Any) -> Known:
        return Known(**super().to_internal_value(data))


class Fact(Body):
    """What every recorded fact carries: its own id, made by the sender, and the device's circumstances."""

    entry_id = serializers.UUIDField()
    at_device = Moment(required=False)
    zone = serializers.RegexField(ZONE, required=False)
    device = Text(required=False, max_length=80)
    counter = Whole(least=0, most=LARGEST, required=False)
    known = KnownLeaf(required=False)


class Authority(Body):
    """What every act of authority carries. Its time is the server's; a password proves who acts."""

    entry_id = serializers.UUIDField()
    zone = serializers.RegexField(ZONE, required=False)
    password = Text(required=False, max_length=200)
    known = KnownLeaf(required=False)


Said = Mapping[str, Any]


@dataclass(frozen=True)
class Act:
    """One thing that can be done on a mounting. `kind` is that of the entry it leaves."""

    name: str
    kind: str
    rights: tuple[Action, ...]
    body: type[Body]
    do: Callable[[Acting, Mounting, Said], object]
    named: str = ""
    """What the address of the act names beside the mounting: a step, a tap."""
