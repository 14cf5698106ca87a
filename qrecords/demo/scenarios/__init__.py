"""The stories of the demonstration, in the order of their dates: one small module a story.

Each holds its sheets (what the paper says) and `tell`, which walks through them. Machines, owners and
readings are invented. Imports `walking`, `sheet` and `hall`; only the command that loads it imports it.
"""

from collections.abc import Callable, Iterable

from qrecords.demo.darkroom import Drawing
from qrecords.demo.hall import Hall
from qrecords.demo.scenarios import (
    brackwater,
    coldbeck,
    corrow_light,
    fennick,
    greyhallow,
    hawmead,
    linder,
    open_work,
    ostrey,
    pennard,
    sallowmere,
    two_alders,
    ullsvane,
)

_STORIES = (
    greyhallow,
    two_alders,
    corrow_light,
    brackwater,
    ostrey,
    coldbeck,
    linder,
    ullsvane,
    hawmead,
    pennard,
    fennick,
    sallowmere,
    open_work,
)
STORIES: tuple[Callable[[Hall], None], ...] = tuple(story.tell for story in _STORIES)


def pictures() -> Iterable[Drawing]:
    """Every photograph of every story, in the order in which they are needed."""
    for story in _STORIES:
        yield from story.pictures()
