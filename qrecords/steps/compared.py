"""Two versions of a procedure, field by field: what changed, what came and what went."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from qrecords.steps.procedure_file import ordered

NAMED_BY_ID = ("photos", "points")
"""Lists whose items have a name of their own; a change of order among them changes nothing."""
IN_ORDER = ("steps", "planes", "directions")
"""Lists that are done in their order."""


@dataclass(frozen=True)
class Line:
    """One thing that a procedure says: its place as (member, name…), and what old and new say; None where
    one of them says nothing."""

    place: tuple[str, ...]
    old: str | None
    new: str | None

    @property
    def changed(self) -> bool:
        return self.old != self.new


def compared(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[Line]:
    """Every field of either, what changed first; each half in the order of the file."""
    before, after = dict(_lines(ordered(old), ())), dict(_lines(ordered(new), ()))
    places = dict.fromkeys((*after, *before))
    lines = [Line(place, before.get(place), after.get(place)) for place in places]
    return sorted(lines, key=lambda line: not line.changed)


def changes(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[Line]:
    return [line for line in compared(old, new) if line.changed]


def _lines(value: Any, at: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], str]]:
    """What a document says: a list of words is a line a word, for what stands in it counts; what is done in
    an order is a line with all of it."""
    if isinstance(value, Mapping):
        for name, item in value.items():
            yield from _lines(item, (*at, str(name)))
    elif not isinstance(value, list | tuple):
        yield at, str(value)
    elif at and at[-1] in NAMED_BY_ID:
        for item in value:
            for name, said in item.items():
                if name != "id":
                    yield from _lines(said, (*at, str(item["id"]), str(name)))
    elif at and at[-1] in IN_ORDER:
        yield at, ", ".join(str(item) for item in value)
    else:
        for item in value:
            yield (*at, str(item)), "yes"
