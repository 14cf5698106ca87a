"""One item of a batch: a fact that was recorded earlier and is sent now, when nobody is there to be asked.

What can be read is filed by the act of its kind; what cannot is kept as *unread*, exactly as it was sent.
"""

import json
from collections.abc import Mapping
from typing import Any

from rest_framework import serializers
from rest_framework.request import Request

from qrecords.api.acts import BATCHED, CAPTURE
from qrecords.api.door import acting_of
from qrecords.api.errors import UnknownAddressError
from qrecords.api.facts import Act, Fact
from qrecords.api.fields import Body, Text
from qrecords.api.problems import document_of
from qrecords.api.receipts import Written, write
from qrecords.ledger.models import Entry
from qrecords.mountings.actions.keeping import UNREAD, keep_unread
from qrecords.mountings.errors import FieldsError, UnknownTapError
from qrecords.mountings.models import Mounting
from qrecords.mountings.stating import BY_RECEIPT
from qrecords.people.permissions import Action
from qrecords.steps.errors import FieldError, UnknownFieldError

Item = Mapping[str, Any]
UNREADABLE = (
    serializers.ValidationError,
    FieldError,
    FieldsError,
    UnknownAddressError,
    UnknownFieldError,
    UnknownTapError,
)
"""What stands in the way of reading an item, and is no reason to lose it."""
LONGEST_WHY = 1000


class _Named(Body):
    step = Text(required=False, max_length=24)
    tap = serializers.UUIDField(required=False)


def taken(request: Request, mounting: Mounting, item: Item) -> dict[str, Any]:
    """The receipt of an item; with it the problem, where it is kept unread. Raises what refuses it: no id,
    no right, a closed record, an act of authority, an id used for something else."""
    circumstances = _circumstances(item)
    if str(item.get("kind")) in BY_RECEIPT:
        raise serializers.ValidationError({"kind": [f"one of {', '.join(BATCHED)}"]})
    if Entry.objects.filter(id=circumstances["entry_id"], kind=UNREAD, subject=mounting.id).exists():
        return _answer(_kept(request, mounting, item, circumstances, ""))  # sent again
    try:
        return _answer(_read(request, mounting, item))
    except UNREADABLE as error:
        problem = document_of(error)
        written = _kept(request, mounting, item, circumstances, str(problem["detail"])[:LONGEST_WHY])
        return _answer(written) | {"problem": problem}


def _answer(written: Written) -> dict[str, Any]:
    return {"status": 201 if written.new else 200, "receipt": written.receipt}


def _read(request: Request, mounting: Mounting, item: Item) -> Written:
    act = BATCHED.get(str(item.get("kind")))
    if act is None:
        raise serializers.ValidationError({"kind": [f"one of {', '.join(BATCHED)}"]})
    named = _Named(data={key: item[key] for key in ("step", "tap") if key in item})
    named.is_valid(raise_exception=True)
    body = act.body(data={key: value for key, value in item.items() if key not in ("kind", "step", "tap")})
    body.is_valid(raise_exception=True)
    if act.named and act.named not in named.validated_data:
        raise serializers.ValidationError({act.named: ["has to be named"]})
    said = body.validated_data | named.validated_data | ({"later": True} if act is CAPTURE else {})
    acting = acting_of(request, said)
    return write(said["entry_id"], act.kind, mounting.id, lambda: act.do(acting, mounting, said))


def _kept(request: Request, mounting: Mounting, item: Item, circumstances: Item, why: str) -> Written:
    id, acting = circumstances["entry_id"], acting_of(request, circumstances)
    sent = json.dumps(item, ensure_ascii=False, sort_keys=True)
    right = _right(BATCHED.get(str(item.get("kind"))), item)

    def keep() -> None:
        keep_unread(acting=acting, mounting=mounting, entry_id=id, right=right, sent=sent, why=why)

    return write(id, UNREAD, mounting.id, keep)


def _right(act: Act | None, item: Item) -> Action:
    """The right that the item's own kind asks for; of an unknown kind, that to record a check or work."""
    if act is None or act is CAPTURE:
        return Action.CHECK if item.get("check") is True else Action.RECORD
    return act.rights[0]


def _circumstances(item: Item) -> dict[str, Any]:
    """The id, which has to be one; of the device's circumstances what can be read."""
    fields = Fact().fields
    told = {"entry_id": fields["entry_id"].run_validation(item.get("entry_id", serializers.empty))}
    for name in ("at_device", "zone", "device", "counter", "known"):
        try:
            told |= {name: fields[name].run_validation(item[name])} if name in item else {}
        except serializers.ValidationError:
            continue
    return told
