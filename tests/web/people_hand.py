"""Reading and sending the pages about people in the tests, as one of the cast."""

from typing import Any

from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from qrecords.ledger.identifiers import new_id
from tests.cast import PASSWORD, Workshop
from tests.web.desk import main

NEW = {
    "name": "O. Brandreth", "sign_in": "brandreth", "first_password": "a long first word", "role": "fitter",
    "password": PASSWORD,
}  # fmt: skip


def client_of(shop: Workshop, who: str) -> Client:
    client = Client()
    client.force_login(shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
    return client


def read(shop: Workshop, name: str, *args: object, who: str = "administrator", **query: Any) -> str:
    answer = client_of(shop, who).get(reverse(name, args=args), query)
    assert answer.status_code == 200
    return main(answer.content.decode())


def send(
    shop: Workshop, page: str, /, *args: object, who: str = "administrator", **fields: Any
) -> HttpResponse:
    given = {"entry_id": str(new_id()), **fields}
    return client_of(shop, who).post(reverse(page, args=args), given)  # type: ignore[return-value]
