"""A register whose rows are made with their entries: what of a row has to say what its entry says."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.db.models import Model

from qrecords.ledger.envelope import instant

Content = Mapping[str, Any]
Pairs = dict[str, tuple[Any, Any]]
Says = Callable[[Any, Content], Pairs]
"""Of a row and the content of its entry: field → (what the row says, what the entry says)."""


@dataclass(frozen=True)
class Register:
    """Rows whose id is the id of the entry that made them."""

    name: str
    kind: str
    model: type[Model]
    says: Says
    only: Mapping[str, str | bool] = field(default_factory=dict)
    """Which rows of the model, where entries of several kinds make them."""


def said_of(content: Content) -> Mapping[str, Any]:
    said: Mapping[str, Any] = content["body"]["said"]
    return said


def same_names(*fields: str) -> Says:
    """Each field of the row bears the name it has in the entry; the site stands in the envelope."""

    def says(row: Any, content: Content) -> Pairs:
        told = said_of(content)
        return {name: (str(getattr(row, name)), str(told.get(name, ""))) for name in fields} | site_of(
            row, content
        )

    return says


def site_of(row: Any, content: Content) -> Pairs:
    return {"site": (str(row.site), content["site"])} if hasattr(row, "site") else {}


def moment_of(at: datetime) -> str:
    """As a payload writes it: what the entry keeps of a moment is milliseconds."""
    return instant(at)


def since(at: datetime, said: str, content: Content) -> tuple[object, object]:
    """From the moment that was named, else from the server's."""
    return (at, datetime.fromisoformat(said)) if said else (moment_of(at), content["at_server"])
