"""An entry as the ledger hands it out, and when its act was done."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any, Protocol


class Stated(Protocol):
    """An entry as the ledger hands it out."""

    @property
    def id(self) -> object: ...
    @property
    def kind(self) -> str: ...
    @property
    def payload(self) -> Mapping[str, Any]: ...
    @property
    def leaf(self) -> str: ...


def moment(text: str) -> datetime:
    return datetime.fromisoformat(text)


def told_at(payload: Mapping[str, Any]) -> datetime:
    """The device's time of an act; the server's where no device told one, as in every act of authority."""
    return moment(payload["at_device"] or payload["at_server"])


def done_at(payload: Mapping[str, Any]) -> datetime:
    """The same; of what was entered from a sheet of paper the time as written there, where one was."""
    written = payload["body"]["seen"].get("written_at")
    return moment(written) if written else told_at(payload)
