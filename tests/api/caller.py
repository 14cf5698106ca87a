"""Somebody who calls the API, by token or by the browser's session, as a program would."""

import json
import uuid
from dataclasses import dataclass, field
from typing import Any

from django.http import HttpResponse
from django.test import Client

from qrecords.api.views.tokens import BY_TOKEN
from qrecords.ledger.identifiers import new_id
from tests.cast import PASSWORD, Workshop

ROOT = "/api/v1/"


@dataclass
class Answered:
    """What came back: status, JSON document, headers."""

    status: int
    document: Any
    response: HttpResponse = field(repr=False)

    @property
    def code(self) -> str:
        return str(self.document["code"])

    @property
    def leaf(self) -> str:
        return str(self.document["leaf"])


@dataclass
class Caller:
    shop: Workshop
    who: str
    client: Client
    headers: dict[str, str] = field(default_factory=dict)

    @classmethod
    def by_token(cls, shop: Workshop, who: str, *actions: str) -> "Caller":
        caller = cls(shop, who, Client())
        asked = {"name": who, "password": PASSWORD, "label": "bench", "actions": actions or BY_TOKEN}
        given = caller.post("tokens/", **asked)
        assert given.status == 201, given
        caller.headers = {"Authorization": f"Bearer {given.document['secret']}"}
        return caller

    @classmethod
    def by_session(cls, shop: Workshop, who: str) -> "Caller":
        client = Client()
        client.force_login(shop.people[who], backend="django.contrib.auth.backends.ModelBackend")
        return cls(shop, who, client)

    @classmethod
    def nobody(cls, shop: Workshop) -> "Caller":
        return cls(shop, "nobody", Client())

    def get(self, address: str, **query: Any) -> Answered:
        return _read(self.client.get(ROOT + address, query, headers=self.headers))

    def post(self, address: str, **body: Any) -> Answered:
        return self.send("POST", address, json.dumps(body, default=str).encode())

    def act(self, address: str, **body: Any) -> Answered:
        """A post with an entry id of its own, which must be taken."""
        answered = self.post(address, **({"entry_id": new_id()} | body))
        assert answered.status == 201, answered
        return answered

    def seen(self, mounting: str) -> str:
        """How much of a record this caller has seen, once the case at this address is read."""
        return str(self.get(mounting).document["shown"])

    def delete(self, address: str) -> Answered:
        return _read(self.client.delete(ROOT + address, headers=self.headers))

    def send(
        self, method: str, address: str, content: bytes, content_type: str = "application/json"
    ) -> Answered:
        return _read(self.client.generic(method, ROOT + address, content, content_type, headers=self.headers))


def _read(response: Any) -> Answered:
    assert response.status_code != 500, response.content
    content = b"".join(response.streaming_content) if response.streaming else response.content
    is_json = "json" in response.headers.get("Content-Type", "")
    return Answered(response.status_code, json.loads(content) if is_json else content, response)


def typed(**values: Any) -> dict[str, Any]:
    """Fields as a client sends them: `journal__A__0=("18", "um from 60 mm")`."""
    pairs = {key: value if isinstance(value, tuple) else (str(value), "") for key, value in values.items()}
    return {key.replace("__", "."): {"typed": text, "unit": unit} for key, (text, unit) in pairs.items()}


def ids(rows: Any) -> set[uuid.UUID]:
    return {uuid.UUID(row["id"]) for row in rows}
