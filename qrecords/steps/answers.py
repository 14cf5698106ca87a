"""An answer to a field: a value as typed with its base value, or a state with its reason. Never null."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any


class State(StrEnum):
    NOT_DONE = "not done"
    NOT_POSSIBLE = "not possible"
    NOT_APPLICABLE = "not applicable"


@dataclass(frozen=True)
class Value:
    """`typed` and `unit` as the person gave them; `value` in the integer base unit, or the chosen word."""

    typed: str
    unit: str
    value: int | str

    def document(self) -> dict[str, Any]:
        return {"typed": self.typed, "unit": self.unit, "value": self.value}


@dataclass(frozen=True)
class Absent:
    """An honest answer that there is no value, and why."""

    state: State
    reason: str

    def document(self) -> dict[str, Any]:
        return {"state": self.state.value, "reason": self.reason}


Answer = Value | Absent


def read_answer(document: Mapping[str, Any]) -> Answer:
    """The answer that an entry holds."""
    if "state" in document:
        return Absent(State(document["state"]), str(document["reason"]))
    return Value(str(document["typed"]), str(document["unit"]), document["value"])
