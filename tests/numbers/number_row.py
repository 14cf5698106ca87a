"""A number of the API: what is sound there, and which slips may be true."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Row:
    """One number of a document or a capture: what is sound, with its unit where it is typed with one, where
    it may lie, what the other numbers let expect (one of several, with bars between); `taken` are the slips
    that may be true there, with why; `at` the field that is named where two contradict each other; `per` how
    many of what is sent make one of the unit that is said."""

    sound: str
    allowed: str
    taken: Mapping[str, str] = field(default_factory=dict)
    likely: str = ""
    unit: str = ""
    key: str = ""
    at: str = ""
    per: int = 1
