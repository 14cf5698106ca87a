"""What a document says that nobody can mean, and where."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Odd:
    """What no workshop can mean: the place as a JSON pointer, the field as forms name it, and why."""

    at: str
    field: str
    why: str
