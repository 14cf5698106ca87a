"""The OpenAPI document: valid, complete, served without a sign-in and without anything from outside."""

from typing import Any

import pytest
from drf_spectacular.validation import validate_schema

from qrecords.api.urls import urlpatterns
from qrecords.api.views.document import openapi
from qrecords.people.permissions import Action
from tests.api.caller import Caller
from tests.cast import Workshop

METHODS = {"get", "post", "put", "delete"}


def operations() -> list[tuple[str, str, Any]]:
    paths = openapi()["paths"]
    return [
        (path, method, said) for path, at in paths.items() for method, said in at.items() if method in METHODS
    ]


def test_the_document_is_valid_openapi() -> None:
    validate_schema(openapi())


def test_it_is_served_to_anybody_as_json(shop: Workshop) -> None:
    served = Caller.nobody(shop).get("openapi.json")
    assert served.status == 200
    assert served.document["openapi"].startswith("3.")


def test_every_address_is_in_it() -> None:
    addresses = [pattern for pattern in urlpatterns if str(pattern.pattern) != "<path:rest>"]
    assert len(openapi()["paths"]) == len({str(pattern.pattern) for pattern in addresses})


def test_every_operation_has_one_name_of_its_own() -> None:
    names = [said["operationId"] for _, _, said in operations()]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("status", ["400", "401", "403", "404", "409", "413", "415", "422", "429", "503"])
def test_every_operation_says_what_its_errors_look_like(status: str) -> None:
    for path, method, said in operations():
        content = said["responses"][status]["content"]
        assert list(content) == ["application/problem+json"], (path, method)


def test_every_callback_names_its_action() -> None:
    for pattern in urlpatterns:
        callback: Any = pattern.callback  # type: ignore[union-attr]  # none of them is an include
        assert isinstance(callback.action, Action)
        assert all(operation.rights for operation in callback.operations.values())
