"""What a person of the demonstration says of a field, as the edge would pass it on."""

from collections.abc import Mapping

from qrecords.mountings.actions.recording import Given, Typed
from qrecords.steps.answers import Absent, State

Said = str | tuple[str, str] | Absent
NO_FIELD = Absent(State.NOT_APPLICABLE, "an oven has no field")


def given(said: Mapping[str, Said]) -> dict[str, Given]:
    """What was said, as the edge passes it on: a word, a number with its unit, or an absent answer."""
    return {key: value if isinstance(value, Absent) else Typed(*_pair(value)) for key, value in said.items()}


def _pair(value: str | tuple[str, str]) -> tuple[str, str]:
    return value if isinstance(value, tuple) else (value, "")
