"""Every address of the API with ids put in, and every operation it answers."""

import re
from collections.abc import Iterator, Mapping
from typing import Any

from qrecords.api.operations import Operation
from qrecords.api.urls import urlpatterns

GIVEN = {
    "step": "identification",
    "size": "320",
    "name": "mounting-case",
    "look-backs": "0190e2f0-0000-7000-8000-000000000000",
    "what": "lot",
    "damage": "heat-cracks",
}


def every_operation() -> list[tuple[str, str, Operation]]:
    """(address with places, method, operation), without what is said at an address that is none."""
    return [
        (str(pattern.pattern), method, operation)
        for pattern in urlpatterns
        if str(pattern.pattern) != "<path:rest>"
        for method, operation in pattern.callback.operations.items()  # type: ignore[union-attr]  # no include
    ]


def filled(address: str, ids: Mapping[str, Any]) -> str:
    """The address with an id for each place; `ids` are by the name of the place, or of its register."""

    def put(place: re.Match[str]) -> str:
        name = place[1] if place[1] != "id" else address.split("/")[0]
        return str({**GIVEN, **ids}[name])

    return re.sub(r"<\w+:(\w+)>", put, address)


def places(address: str) -> Iterator[str]:
    yield from re.findall(r"<\w+:(\w+)>", address)
