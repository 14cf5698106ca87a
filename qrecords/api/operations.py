"""One operation: who may, what it takes, what it answers. Rights, checks and the OpenAPI document read it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rest_framework.serializers import Serializer

from qrecords.api.fields import Body
from qrecords.people.permissions import Action


@dataclass(frozen=True)
class Operation:
    """What one method of one address does.

    `rights`: any one of them lets in; the action called then asks for the very one, at the very site. `body`
    and `query` are checked before the view runs. `answer` None: nothing is said (204); `status` is that of
    success. A `write` answers a receipt, 201 the first time and 200 for a replay. `open_by` names the setting
    by which the operator opens it to everybody.
    """

    name: str
    rights: tuple[Action, ...]
    answer: type[Serializer[Any]] | None = None
    body: type[Body] | None = None
    query: type[Body] | None = None
    status: int = 200
    write: bool = False
    takes: str = "application/json"
    gives: str = "application/json"
    open_by: str = ""


Operations = Mapping[str, Operation]
